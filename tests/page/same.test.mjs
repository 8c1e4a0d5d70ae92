// The core in the browser and the program read alike: every field of every entry, flags, spans and messages as well.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { NOW, bare, browser, corpus, folder, open, program, serve, write } from './rig.mjs';

const visit = { farm: null, trimmer: null, date: '2026-03-12', at: NOW };

/** What the page would keep of a text, and what the program reads in it. */
async function both(page, dir, notes, roster) {
  const text = `${notes.join('\n')}\n`;
  write(dir, 'notes.txt', text);
  const herd = roster && write(dir, 'herd.txt', roster);
  const args = ['read', '--on', '2026-03-12', '--json', ...(herd ? ['--herd', herd] : []), 'notes.txt'];
  const want = program(args, { cwd: dir }).trim().split('\n').map(bare);
  const file = roster ? { name: 'herd.txt', text: roster } : null;
  const got = await page.evaluate(
    async ([text, file, visit]) => {
      const { ask } = await import('./core.js');
      ask({ herd: { file } });
      return ask({ keep: { text, visit } }).lines.slice(1);
    },
    [text, file, visit],
  );
  return { got: got.map(bare), want };
}

test('notes are read the same by both', async (t) => {
  const dir = folder(t);
  const { address } = await serve(t);
  const page = await open(t, await browser(t), address);
  const { typed, heard, spoken, roster, recognised } = corpus();
  const groups = new Map([['typed', typed.map((row) => row[1])]]);
  if (spoken.length) groups.set('spoken, the whole corpus', spoken);
  // Each recogniser's by itself: the very same words twice in a visit are one entry.
  for (const [list, mark] of [[heard, ''], [recognised, ' of the corpus']]) {
    for (const [, voice, by, words] of list) {
      const name = `${voice}, ${by}${mark}`;
      groups.set(name, [...(groups.get(name) ?? []), words]);
    }
  }
  let count = 0;
  for (const [name, notes] of groups) {
    const { got, want } = await both(page, dir, notes, /typed|spoken/.test(name) ? null : roster || '412\n231\n1062\n');
    assert.deepEqual(got, want, name);
    count += notes.length;
  }
  t.diagnostic(`${count} notes${spoken.length ? '' : ' (the corpora are not here)'}`);
});
