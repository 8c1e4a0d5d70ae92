// Taking back: shows what it takes back, and wants a reason. Nothing is erased; a line says that it counts no more.

import { button, by, el, said } from '../dom.js';
import * as cards from '../card.js';
import * as clock from '../clock.js';
import * as log from '../log.js';
import { tell, trying } from '../ui.js';

const REASONS = ['said wrong', 'wrong cow', 'said twice'];

/** Asks whether to take these entries back. */
export function takeBack(entries, after = () => {}) {
  const dialog = by('back');
  const strike = async (why) => {
    if (!why.trim()) return other.focus();
    const done = await trying(() => log.strike(entries.map((card) => card.id), why, clock.stamp()));
    dialog.close();
    if (done) tell(`taken back: ${entries.map((c) => (c.cow ? `cow ${c.cow}` : 'cow not known')).join(', ')}`);
    after();
  };
  const other = el('input', { type: 'text', id: 'back-why', autocomplete: 'off' });
  dialog.replaceChildren(
    el('h2', { id: 'back-title' }, entries.length === 1 ? 'Take this back?' : `Take these ${entries.length} back?`),
    ...entries.map((card) =>
      el('article', { class: 'card' }, el('h3', {}, cards.cowOf(card)), el('p', { class: 'heard' }, said(card.said)), cards.rows(card)),
    ),
    el('p', {}, 'It stays in the log and counts no more. Why?'),
    el('div', { class: 'choices' }, REASONS.map((why) => button(why, () => strike(why)))),
    el('label', { for: 'back-why' }, 'another reason'),
    el('div', { class: 'inwords' }, other, button('Take back', () => strike(other.value))),
    el('div', { class: 'choices' }, button('Leave it', () => dialog.close(), { class: 'quiet' })),
  );
  dialog.showModal();
}

/** Brings an entry back by taking its strike back. */
export async function bringBack(card) {
  const done = await trying(() => log.strike([card.strike], 'taken back by mistake', clock.stamp()));
  if (done) tell(card.cow ? `cow ${card.cow} counts again` : 'the entry counts again');
}
