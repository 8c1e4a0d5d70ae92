// The four feet from above, as she stands, heads up the page: what was found where.

import { ask } from './core.js';
import { el, renew, svg } from './dom.js';

let drawn;

const GAP = 24;
const TOP = 26;

/** A drawing of a card's feet. Those who do not see it have the rows beside it: it is named, not described. */
export function feet(card) {
  const whole = svg('svg', { role: 'img', class: 'feet' });
  draw(whole, card);
  return el('figure', { class: 'map' }, whole, el('figcaption', {}, 'as she stands, seen from above; her head is up'));
}

/** Draws a card's feet where others were drawn; a foot that is the same stays: a drawing is dear to lay out. */
export function draw(whole, card) {
  drawn ??= ask({ feet: {} });
  const [width, height] = drawn.size;
  if (!whole.hasAttribute('viewBox')) whole.setAttribute('viewBox', `0 0 ${2 * width + GAP} ${2 * (height + TOP)}`);
  const count = card.marks.length;
  whole.setAttribute('aria-label', `the feet from above: ${count} ${count === 1 ? 'place' : 'places'} marked`);
  const parts = drawn.feet.map(({ code }, place) => ({
    place,
    marks: card.marks.filter((mark) => mark.foot === code),
    clean: card.clean.includes(code),
  }));
  renew(whole, parts, one);
}

function one({ place, marks, clean }) {
  const [width, height] = drawn.size;
  const foot = drawn.feet[place];
  const x = (place % 2) * (width + GAP);
  const y = Math.floor(place / 2) * (height + TOP) + TOP;
  const group = svg('g', { transform: `translate(${x} ${y})`, class: clean ? 'foot clean' : 'foot' });
  group.append(svg('text', { x: width / 2, y: -6, class: 'name' }, foot.name));
  group.append(svg('path', { d: foot.outer }), svg('path', { d: foot.inner }));
  if (clean) group.append(svg('text', { x: width / 2, y: height / 2, class: 'name' }, 'clean'));
  // Marks at one spot stand below each other.
  const rows = new Map();
  for (const mark of marks) {
    const [x, y] = mark.at;
    const at = `${x} ${y}`;
    const n = rows.get(at) ?? 0;
    rows.set(at, n + 1);
    const label = mark.open && mark.code !== '?' ? `${mark.code}?` : mark.code;
    const half = 9 + 7 * label.length;
    const cx = Math.min(Math.max(x, half), width - half);
    const cy = Math.min(y + n * 28, height - 14);
    group.append(
      svg('rect', { x: cx - half, y: cy - 13, width: 2 * half, height: 26, rx: 5, class: mark.open ? 'mark open' : 'mark' }),
      svg('text', { x: cx, y: cy + 7, class: mark.open ? 'code open' : 'code' }, label),
    );
  }
  return group;
}
