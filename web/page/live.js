// Cards while something is being said. Most words that arrive change little of them: what stays is not drawn again,
// so that the browser need not lay it out again on a slow phone.

import { cowOf, notes, rows } from './card.js';
import { el, renew } from './dom.js';
import { feet } from './feet.js';

/** Cards that were drawn, by their place on the screen. */
const drawn = [];

/** The card at a place on the screen. */
export function live(card, place) {
  drawn[place] ??= blank();
  const { article, head, list, noted, map, asks } = drawn[place];
  renew(head, [cowOf(card)]);
  renew(list, [...rows(card).childNodes]);
  renew(noted, notes(card));
  const marks = JSON.stringify([card.marks, card.clean]);
  if (drawn[place].marks !== marks) {
    drawn[place].marks = marks;
    const now = feet(card);
    if (map.firstChild) renewDrawing(map.firstChild, now);
    else map.append(now);
  }
  const asked = card.questions.map((q) => el('li', {}, q.message.replaceAll('`', '"')));
  renew(asks, asked.length ? [el('p', { class: 'willask' }, 'will be asked:'), el('ul', {}, asked)] : []);
  return article;
}

/** A card with nothing in it yet. */
function blank() {
  const [head, noted, map, asks] = [el('h3'), el('div'), el('div'), el('div')];
  const list = el('dl', { class: 'rows' });
  const beside = el('div', { class: 'beside' }, el('div', {}, list, noted), map);
  return { article: el('article', { class: 'card' }, head, beside, asks), head, list, noted, map, asks, marks: '' };
}

/** Foot by foot: a drawing is dear to lay out. */
function renewDrawing(old, now) {
  const [before, after] = [old.querySelector('svg'), now.querySelector('svg')];
  before.setAttribute('aria-label', after.getAttribute('aria-label'));
  renew(before, [...after.childNodes]);
}
