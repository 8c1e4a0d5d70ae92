// A card: one cow's entry as it was understood, with what is asked about it.

import { button, el, message, said } from './dom.js';

/** Her number, or that it is not known. */
export const cowOf = (card) => (card.cow ? el('span', {}, 'cow ', said(card.cow)) : el('span', {}, 'cow not known'));

/** What was understood, row by row. What waits for an answer says so. */
export function rows(card) {
  const list = el('dl', { class: 'rows' });
  let place = '';
  for (const row of card.rows) {
    if (row.place !== place) list.append(el('dt', {}, row.place));
    place = row.place;
    const text = [said(row.text), row.open && el('strong', { class: 'asked' }, ' – asked')];
    list.append(el('dd', { class: row.open ? 'open' : false }, text));
  }
  if (!card.rows.length) list.append(el('dt', {}, 'seen'), el('dd', {}, 'nothing noted'));
  return list;
}

export function notes(card) {
  return card.notes.map((note) => el('p', { class: 'note' }, el('strong', {}, 'note: '), message(note)));
}

/** The words of the note, those in doubt marked. */
function heard([before, words, after]) {
  return el('p', { class: 'heard' }, said([before, words && el('mark', {}, words), after].filter(Boolean), 'span'));
}

/** A question with its choices as large buttons. `answer(field, how)` is called with the choice's place, or words. */
export function question(asked, answer, id) {
  const field = `${id}-words`;
  const words = el('input', { type: 'text', id: field, autocomplete: 'off', autocapitalize: 'off' });
  const inWords = () => {
    const text = words.value.trim();
    if (text) answer({ words: `=${text}` });
  };
  words.addEventListener('keydown', (event) => event.key === 'Enter' && (event.preventDefault(), inWords()));
  return el(
    'section',
    { class: 'question', 'aria-labelledby': `${id}-asks` },
    el('h3', { id: `${id}-asks` }, message(asked.message)),
    heard(asked.heard),
    el(
      'div',
      { class: 'choices' },
      asked.choices.map((label, n) => button(said(label), () => answer({ choice: n }))),
      asked.out && button('take it out', () => answer({ words: '-' })),
    ),
    el('label', { for: field }, asked.choices.length ? 'or say it' : 'say it'),
    el('div', { class: 'inwords' }, words, button('Answer', inWords)),
    el('details', {}, el('summary', {}, 'why this is asked'), el('p', {}, asked.why)),
  );
}
