// All questions that are open, those of this visit first.

import { by, el } from '../dom.js';
import * as cards from '../card.js';
import * as clock from '../clock.js';
import * as log from '../log.js';
import { day, tell, trying } from '../ui.js';

/** So many are shown at once; the others come as these are answered. */
const AT_ONCE = 20;

export function show() {
  const { cows, elsewhere, questions } = day();
  const here = cows.filter((card) => !card.struck && card.questions.length).reverse();
  const all = [...here.map((card) => ({ card })), ...elsewhere];
  by('open-count').textContent = questions
    ? `${questions} ${questions === 1 ? 'question is' : 'questions are'} open. What they concern does not count yet.`
    : 'No question is open.';
  by('open-list').replaceChildren(...all.slice(0, AT_ONCE).map(item));
}

function item({ card, visit }) {
  const answer = (asked) => async (how) => {
    if (!(await trying(() => log.answer(card.id, asked.field, how, clock.stamp())))) return;
    tell('answer kept');
    (by('open-list').querySelector('.question button') ?? by('open-count')).focus();
  };
  return el(
    'article',
    { class: 'card' },
    el('h3', {}, cards.cowOf(card), visit && ` – ${visit}`),
    cards.rows(card),
    ...card.questions.map((q, n) => cards.question(q, answer(q), `open-${card.id}-${n}`)),
  );
}
