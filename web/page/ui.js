// What all views share: messages, the visit, reading back.

import { ask } from './core.js';
import { by } from './dom.js';
import * as clock from './clock.js';
import * as store from './store.js';

/** What is set on this phone; `load` fills it. */
export const set = { farm: '', trimmer: '', date: '', on: '', hand: 'right', speak: false };

export async function load() {
  Object.assign(set, await store.get('set'));
  show();
}

/** Changes settings: they count once they are stored. */
export async function change(some) {
  await store.put('set', { ...set, ...some });
  Object.assign(set, some);
  show();
}

function show() {
  document.body.dataset.hand = set.hand;
}

/** The visit that a note is of now. */
export function visit() {
  const name = (text) => text.trim() || null;
  return { farm: name(set.farm), trimmer: name(set.trimmer), date: set.date || clock.today(), at: clock.stamp() };
}

/** The visit's entries and what is open. */
export const day = () => ask({ day: { visit: visit() } });

/** Says something that went well; read out by screen readers. */
export function tell(text) {
  by('trouble').textContent = '';
  by('told').textContent = text;
}

/** Says what went wrong; stays until something else is said. */
export function trouble(text) {
  by('told').textContent = '';
  by('trouble').textContent = '';
  by('trouble').textContent = text;
}

/** Runs something that may fail, and says so where it does. Gives whether it went well. */
export async function trying(act) {
  try {
    await act();
    return true;
  } catch (why) {
    trouble(why?.message?.replaceAll('`', '“') ?? String(why));
    return false;
  }
}

/** Text that a browser may hold but a file cannot: half a character becomes a sign for it. */
export const whole = (text) => (text.toWellFormed ? text.toWellFormed() : text);
