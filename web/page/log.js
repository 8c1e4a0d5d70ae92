// The log on this phone: the store and the core kept in step. What counts is what is stored.

import { ask, Refused } from './core.js';
import * as store from './store.js';

let last = 0;
const others = new BroadcastChannel('chutescribe-log');
const listeners = [];

/** Calls back whenever the log has more than before, be it from another window. */
export const changed = (listener) => listeners.push(listener);

/** Something could not be stored; nothing of it counts. */
export class NotStored extends Error {}

/** Brings the core up to what the store has. Gives what is wrong with lines. */
export async function catchUp() {
  const newer = await store.linesAfter(last);
  return take(newer);
}

function take({ texts, last: to }) {
  // Two may look at once: what was taken meanwhile is not taken again.
  if (to <= last) return [];
  last = to;
  return ask({ took: { lines: texts } });
}

async function append(request) {
  let made;
  try {
    const done = await store.append(last, (newer) => {
      take(newer);
      made = ask(request);
      return made.lines;
    });
    take({ texts: done.lines, last: done.last });
  } catch (why) {
    if (why instanceof Refused) throw why;
    throw new NotStored(store.trouble(why));
  }
  others.postMessage('more');
  for (const listener of listeners) listener();
  return made.entries;
}

// One after the other: a second press waits for the first.
let queue = Promise.resolve();
function inTurn(request) {
  const turn = queue.then(() => append(request));
  queue = turn.catch(() => {});
  return turn;
}

/** Keeps a text; gives the ids of its entries once they are stored. */
export const keep = (text, visit) => inTurn({ keep: { text, visit } });

/** Answers a question by a choice's place, or in words. */
export const answer = (entry, field, { choice = null, words = null }, at) =>
  inTurn({ answer: { entry, field, choice, words, at } });

/** Takes entries back, or strikes. */
export const strike = (ids, why, at) => inTurn({ strike: { ids, why, at } });

/** The whole log as a file has it. */
export async function text() {
  const { texts } = await store.linesAfter(0);
  return { text: texts.map((line) => `${line}\n`).join(''), lines: texts.length };
}

others.onmessage = async () => {
  await catchUp();
  for (const listener of listeners) listener();
};
