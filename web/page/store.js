// What lasts on this phone: the lines of the log in their order, and some settings beside them.

import { openDB } from './vendor/idb.js';

const NAME = 'chutescribe';

let db;

/** Opens the store; `lost` is called when the browser takes it away. */
export async function open(lost) {
  db = await openDB(NAME, 1, {
    upgrade(fresh) {
      fresh.createObjectStore('lines', { autoIncrement: true });
      fresh.createObjectStore('beside');
    },
    terminated: lost,
  });
}

/** Lines after that key, with the key of the last one. */
async function after(lines, last) {
  const range = last === 0 ? null : IDBKeyRange.lowerBound(last, true);
  const [texts, keys] = await Promise.all([lines.getAll(range), lines.getAllKeys(range)]);
  return { texts, last: keys.length ? keys[keys.length - 1] : last };
}

export async function linesAfter(last) {
  return after(db.transaction('lines').store, last);
}

/**
 * Appends in one go. `make` gets the lines that other windows added since `last`, and gives the new ones; it must not
 * wait for anything. When this comes back the lines are on the disk; when it throws, none of them is.
 */
export async function append(last, make) {
  const tx = db.transaction('lines', 'readwrite', { durability: 'strict' });
  // An abort shows up here as well as in what failed; it is told once.
  tx.done.catch(() => {});
  try {
    const newer = await after(tx.store, last);
    const lines = make(newer);
    const keys = await Promise.all(lines.map((line) => tx.store.add(line)));
    await tx.done;
    return { lines, last: keys.length ? keys[keys.length - 1] : newer.last };
  } catch (why) {
    try {
      tx.abort();
    } catch {
      // It has ended already.
    }
    throw tx.error ?? why;
  }
}

export const get = (name) => db.get('beside', name);

export async function put(name, value) {
  const tx = db.transaction('beside', 'readwrite', { durability: 'strict' });
  tx.done.catch(() => {});
  await Promise.all([tx.store.put(value, name), tx.done]);
}

/** Whether a failure means that there is no room. */
export const isFull = (why) => why?.name === 'QuotaExceededError';

/** Why something was not stored, in words. */
export function trouble(why) {
  if (isFull(why)) return 'the storage of this phone is full. Make room (photos, other apps), then try again';
  return `the browser could not store it (${why?.message || why?.name || why})`;
}
