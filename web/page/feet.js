// The four feet from above, as she stands, heads up the page: what was found where.

import { ask } from './core.js';
import { el, svg } from './dom.js';

let drawn;

/** A drawing of a card's feet. Those who do not see it have the rows beside it: it is named, not described. */
export function feet(card) {
  drawn ??= ask({ feet: {} });
  const [width, height] = drawn.size;
  const gap = 24;
  const top = 26;
  const count = card.marks.length;
  const title = `the feet from above: ${count} ${count === 1 ? 'place' : 'places'} marked`;
  const whole = svg('svg', {
    viewBox: `0 0 ${2 * width + gap} ${2 * (height + top)}`,
    role: 'img',
    'aria-label': title,
    class: 'feet',
  });
  drawn.feet.forEach((foot, i) => {
    const x = (i % 2) * (width + gap);
    const y = Math.floor(i / 2) * (height + top) + top;
    whole.append(one(foot, card, width, height, `translate(${x} ${y})`));
  });
  return el('figure', { class: 'map' }, whole, el('figcaption', {}, 'as she stands, seen from above; her head is up'));
}

function one(foot, card, width, height, transform) {
  const here = card.marks.filter((mark) => mark.foot === foot.code);
  const clean = card.clean.includes(foot.code);
  const group = svg('g', { transform, class: clean ? 'foot clean' : 'foot' });
  group.append(svg('text', { x: width / 2, y: -6, class: 'name' }, foot.name));
  group.append(svg('path', { d: foot.outer }), svg('path', { d: foot.inner }));
  if (clean) group.append(svg('text', { x: width / 2, y: height / 2, class: 'name' }, 'clean'));
  // Marks at one spot stand below each other.
  const rows = new Map();
  for (const mark of here) {
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
