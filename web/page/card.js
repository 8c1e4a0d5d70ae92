// A card: one cow's entry as it was understood, with what is asked about it.

import { button, el, message, said } from './dom.js';

/** Her number, or that it is not known. */
export const cowOf = (card) => (card.cow ? el('span', {}, 'cow ', said(card.cow)) : el('span', {}, 'cow not known'));

/** What was understood, row by row. What waits for an answer says so. */
export const rows = (card) => el('dl', { class: 'rows' }, lines(card).map(line));

/** The lines of the rows: a place once, then what is there. */
export function lines(card) {
  if (!card.rows.length) return [{ place: 'seen' }, { text: 'nothing noted' }];
  return card.rows.flatMap(({ place, text, open }, i) =>
    place === card.rows[i - 1]?.place ? [{ text, open }] : [{ place }, { text, open }],
  );
}

export function line({ place, text, open }) {
  if (place !== undefined) return el('dt', {}, place);
  return el('dd', { class: open ? 'open' : false }, said(text), open && el('strong', { class: 'asked' }, ' – asked'));
}

/** Makes a line that is there say something else; false where it is of another sort. */
export function reword(drawn, { place, text, open = false }) {
  if (place !== undefined ? drawn.tagName !== 'DT' : drawn.tagName !== 'DD' || drawn.className !== (open ? 'open' : '')) {
    return false;
  }
  const words = place === undefined ? drawn.firstChild : drawn;
  words.firstChild.data = place ?? text;
  return true;
}

export const notes = (card) => card.notes.map(note);

export const note = (text) => el('p', { class: 'note' }, el('strong', {}, 'note: '), message(text));

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
