// Dictating: one large field, what it comes to while words arrive, and the last note with its questions.

import { ask, Refused } from '../core.js';
import { by, el, said } from '../dom.js';
import * as clock from '../clock.js';
import * as cards from '../card.js';
import { feet } from '../feet.js';
import { live } from '../live.js';
import * as log from '../log.js';
import { hush, say, spoken } from '../say.js';
import * as store from '../store.js';
import { day, set, tell, trouble, trying, visit, whole } from '../ui.js';
import { takeBack } from './back.js';

/** A longer text is read after a pause, one longer still only when it is kept. */
const AT_ONCE = 1200;
const AT_ALL = 20000;

/** Ids of what was kept last, in this window. */
let last = [];
let waiting = 0;
let busy = false;

export function start() {
  const field = by('said');
  field.addEventListener('input', () => {
    hush();
    if (by('told').textContent) by('told').textContent = '';
    draft();
    soon(field.value.length);
  });
  field.addEventListener('keydown', (event) => {
    if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) keep();
  });
  by('keep').addEventListener('click', keep);
  by('undo').addEventListener('click', () => {
    const kept = shown();
    if (kept.length) takeBack(kept, () => by('said').focus());
  });
}

/** Puts back what was being said when the page was left. */
export async function restore() {
  const text = await store.get('draft');
  if (text) by('said').value = text;
  show();
}

/** What is being said is stored a moment after it came, however fast more comes. */
let drafted = 0;
function draft() {
  drafted ||= setTimeout(() => {
    drafted = 0;
    store.put('draft', whole(by('said').value)).catch(() => {});
  }, 250);
}

function soon(length) {
  noWait();
  if (length <= AT_ONCE) return show();
  waiting = setTimeout(show, 500);
}

/** What the words would come to; nothing of it is kept. */
function read(text) {
  if (!text.trim()) return [];
  if (text.length > AT_ALL) return [el('p', {}, 'A long text: it is read when you press Keep.')];
  try {
    return ask({ read: { text: whole(text), visit: visit() } }).map(live);
  } catch (why) {
    if (!(why instanceof Refused)) throw why;
    return [el('p', { class: 'bad' }, why.message.replaceAll('`', '"'))];
  }
}

/** The cards of what was kept last, as they stand; none that was taken back. */
function shown() {
  return day().cows.filter((card) => last.includes(card.id) && !card.struck).reverse();
}

function latest() {
  return day().cows.find((card) => !card.struck);
}

function noWait() {
  if (waiting) clearTimeout(waiting);
  waiting = 0;
}

export function show() {
  noWait();
  const text = by('said').value;
  const reads = read(text);
  const now = [...by('reading').children].slice(1);
  if (now.length !== reads.length || now.some((card, i) => card !== reads[i])) {
    by('reading').replaceChildren(el('h2', { class: 'unseen' }, 'What is understood so far'), ...reads);
  }
  by('reading').hidden = !reads.length;
  // While something is being said, that is what is looked at.
  if (text.trim()) {
    by('kept').hidden = true;
    return;
  }
  showKept();
}

/** What was kept last, with its questions. */
export function showKept() {
  if (by('said').value.trim()) return;
  if (!last.length) {
    const card = latest();
    if (card) last = [card.id];
  }
  const kept = shown();
  by('undo').disabled = !kept.length;
  by('kept').hidden = !kept.length;
  by('kept').replaceChildren(
    el('h2', {}, kept.some((c) => c.questions.length) ? 'Kept, and asked' : 'Kept'),
    ...kept.map((card) => keptCard(card)),
  );
}

function keptCard(card) {
  return el(
    'article',
    { class: 'card' },
    el('h3', {}, cards.cowOf(card)),
    card.questions.slice(0, 1).map((q) => cards.question(q, (how) => answer(card, q, how), `note-${card.id}`)),
    card.questions.length > 1 && el('p', {}, `and ${card.questions.length - 1} more after this`),
    el('div', { class: 'beside' }, el('div', {}, cards.rows(card), cards.notes(card)), feet(card)),
    el('p', { class: 'heard' }, said(card.said)),
  );
}

async function answer(card, question, how) {
  const done = await trying(() => log.answer(card.id, question.field, how, clock.stamp()));
  if (!done) return;
  tell('answer kept');
  const now = shown();
  if (set.speak) say(now.map(spoken).join('. '));
  const next = by('kept').querySelector('.question button') ?? by('said');
  next.focus({ preventScroll: next === by('said') });
}

async function keep() {
  if (busy) return;
  const field = by('said');
  const text = whole(field.value);
  if (!text.trim()) return trouble('there is nothing to keep yet: say or type a note');
  busy = true;
  by('keep').disabled = true;
  try {
    const ids = await log.keep(text, visit());
    last = ids;
    // What was typed meanwhile stays.
    field.value = whole(field.value).startsWith(text) ? field.value.slice(text.length) : field.value;
    clearTimeout(drafted);
    drafted = 0;
    store.put('draft', field.value).catch(() => {});
    // The browser is asked not to throw the notes away when it wants room.
    navigator.storage?.persist?.().catch(() => {});
    show();
    tell(`kept: ${ids.length} ${ids.length === 1 ? 'entry' : 'entries'}`);
    if (set.speak) say(shown().map(spoken).join('. '));
  } catch (why) {
    const text = why.message.replaceAll('`', '"');
    trouble(why instanceof Refused ? `not kept: ${text}` : `NOT KEPT: ${text}. Your words are still in the field.`);
  } finally {
    busy = false;
    by('keep').disabled = false;
    field.focus({ preventScroll: true });
  }
}
