// Cards while something is being said. Most words that arrive change little of them: what stays is not made and drawn
// again, so that the browser need not lay it out again on a slow phone.

import * as cards from './card.js';
import { el, renew } from './dom.js';
import { draw, feet } from './feet.js';

/** Cards that were drawn, by their place on the screen. */
const drawn = [];

/** The card at a place on the screen. */
export function live(card, place) {
  drawn[place] ??= blank(card);
  const { article, head, list, noted, map, willAsk, asks } = drawn[place];
  renew(head, [card.cow], (cow) => cards.cowOf({ cow }));
  renew(list, cards.lines(card), cards.line, cards.reword);
  renew(noted, card.notes, cards.note);
  // Most words change nothing there.
  const marks = JSON.stringify([card.marks, card.clean]);
  if (drawn[place].marks !== marks) draw(map.firstChild, card);
  drawn[place].marks = marks;
  willAsk.hidden = !card.asks.length;
  renew(asks, card.asks, (message) => el('li', {}, message.replaceAll('`', '"')));
  return article;
}

/** A card with nothing in it yet. */
function blank(card) {
  const [head, noted, asks, map] = [el('h3'), el('div'), el('ul'), feet(card)];
  const list = el('dl', { class: 'rows' });
  const beside = el('div', { class: 'beside' }, el('div', {}, list, noted), el('div', {}, map));
  const willAsk = el('div', {}, el('p', { class: 'willask' }, 'will be asked:'), asks);
  return { article: el('article', { class: 'card' }, head, beside, willAsk), head, list, noted, map, willAsk, asks };
}
