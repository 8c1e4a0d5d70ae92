// Days and times as the log has them: local, whole seconds, with the offset of the place.

const two = (n) => String(n).padStart(2, '0');

/** The local day, `2026-03-12`. */
export function today(now = new Date()) {
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** RFC 3339, `2026-03-12T09:41:07-05:00`. */
export function stamp(now = new Date()) {
  const east = -now.getTimezoneOffset();
  const far = Math.abs(east);
  const offset = `${east < 0 ? '-' : '+'}${two(Math.floor(far / 60))}:${two(far % 60)}`;
  return `${today(now)}T${two(now.getHours())}:${two(now.getMinutes())}:${two(now.getSeconds())}${offset}`;
}

const days = ['sun', 'mon', 'tue', 'wed', 'thu', 'fri', 'sat'];
const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/** A day as people read it and the program writes it: `thu 12 mar 2026`. */
export function words(day) {
  const [year, month, date] = day.split('-').map(Number);
  const weekday = days[new Date(Date.UTC(year, month - 1, date)).getUTCDay()];
  return `${weekday} ${date} ${months[month - 1]} ${year}`;
}
