// Today's cows, the last one first.

import { button, by, el, said } from '../dom.js';
import * as cards from '../card.js';
import * as clock from '../clock.js';
import { feet } from '../feet.js';
import * as log from '../log.js';
import { say, canSpeak, spoken } from '../say.js';
import { day, tell, trying } from '../ui.js';
import { bringBack, takeBack } from './back.js';

/** Cards that are open stay so when the list is drawn anew. */
const opened = new Set();

export function show() {
  const { cows } = day();
  const counted = cows.filter((card) => !card.struck);
  const many = counted.length === 1 ? '1 entry' : `${counted.length} entries`;
  by('cows-count').textContent = cows.length ? `${many} at this visit` : 'No cow yet at this visit.';
  by('cows-list').replaceChildren(...cows.map(item));
}

function item(card) {
  const asks = card.questions.length;
  const state = card.struck ? 'taken back' : asks ? `${asks} asked` : '';
  const brief = card.rows.map((row) => row.text).join('; ');
  const whole = el(
    'details',
    { open: opened.has(card.id) },
    el(
      'summary',
      {},
      el('span', { class: 'time' }, card.time),
      ' ',
      el('strong', {}, cards.cowOf(card)),
      state && el('strong', { class: 'asked' }, ` – ${state}`),
      el('span', { class: 'brief' }, said(brief || 'nothing noted')),
    ),
    ...(opened.has(card.id) ? inside(card) : []),
  );
  whole.addEventListener('toggle', () => {
    if (whole.open === opened.has(card.id)) return;
    if (whole.open) {
      opened.add(card.id);
      whole.append(...inside(card));
    } else {
      opened.delete(card.id);
      while (whole.children.length > 1) whole.lastChild.remove();
    }
  });
  return el('li', { class: card.struck ? 'struck' : false }, whole);
}

function inside(card) {
  const answer = (asked) => async (how) => {
    if (await trying(() => log.answer(card.id, asked.field, how, clock.stamp()))) tell('answer kept');
  };
  const id = `cows-${card.id}`;
  return [
    el('p', { class: 'heard' }, said(card.said)),
    card.struck && el('p', {}, 'taken back: ', said(card.struck)),
    el('div', { class: 'beside' }, el('div', {}, cards.rows(card), cards.notes(card)), feet(card)),
    ...(card.struck ? [] : card.questions.map((q, n) => cards.question(q, answer(q), `${id}-${n}`))),
    !card.struck &&
      card.answered.length > 0 &&
      el(
        'details',
        {},
        el('summary', {}, 'change an answer'),
        ...card.answered.map((q, n) => cards.question(q, answer(q), `${id}-a${n}`)),
      ),
    el(
      'div',
      { class: 'choices' },
      canSpeak() && button('Read aloud', () => say(spoken(card)), { class: 'quiet' }),
      card.struck
        ? button('Bring it back', () => bringBack(card))
        : button('Take it back', () => takeBack([card]), { class: 'quiet' }),
    ),
  ].filter(Boolean);
}
