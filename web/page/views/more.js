// The visit, sharing the log, files of the user's own, and how the page behaves.

import { ask } from '../core.js';
import { by, el } from '../dom.js';
import * as clock from '../clock.js';
import * as log from '../log.js';
import { canSpeak } from '../say.js';
import * as store from '../store.js';
import { change, set, tell, trouble, trying } from '../ui.js';

/** The files that can be loaded: how they are asked for, and what to say of them. */
const FILES = {
  herd: (got) => (got.tags ? `${got.tags} ${got.tags === 1 ? 'tag' : 'tags'}` : ''),
  words: () => 'in use',
  past: (got) => (got.entries ? `${got.entries} ${got.entries === 1 ? 'entry' : 'entries'}` : ''),
};

export function start() {
  by('visit').addEventListener('submit', async (event) => {
    event.preventDefault();
    const date = by('visit-date').value;
    if (date > clock.today()) return trouble(`the day of the visit, ${clock.words(date)}, is still to come`);
    const some = {
      farm: by('visit-farm').value,
      trimmer: by('visit-trimmer').value,
      date: date === clock.today() ? '' : date,
      on: clock.today(),
    };
    if (await keepSet(some)) location.hash = '#note';
  });
  by('share').addEventListener('click', share);
  by('save').addEventListener('click', save);
  for (const kind of Object.keys(FILES)) {
    by(`${kind}-file`).addEventListener('change', () => chosen(kind));
    by(`${kind}-off`).addEventListener('click', () => without(kind));
  }
  for (const radio of document.querySelectorAll('[name=hand]')) {
    radio.addEventListener('change', () => keepSet({ hand: radio.value }));
  }
  by('speak').addEventListener('change', () => keepSet({ speak: by('speak').checked }));
  by('speak').closest('label').hidden = !canSpeak();
  const probe = new File(['{}\n'], name('.jsonl.txt'), { type: 'text/plain' });
  by('share').hidden = !navigator.canShare?.({ files: [probe] });
}

async function keepSet(some) {
  try {
    await change(some);
  } catch (why) {
    trouble(`the setting is not kept: ${store.trouble(why)}`);
    show();
    return false;
  }
  tell('setting kept');
  return true;
}

export async function show() {
  by('visit-farm').value = set.farm;
  by('visit-trimmer').value = set.trimmer;
  by('visit-date').value = set.date || clock.today();
  by('visit-date').max = clock.today();
  by(`hand-${set.hand}`).checked = true;
  by('speak').checked = set.speak;
  await showSaved();
}

async function showSaved() {
  const { lines } = await log.text();
  const saved = await store.get('saved');
  const since = lines - (saved?.lines ?? 0);
  const many = (n) => (n === 1 ? '1 line' : `${n} lines`);
  by('saved').textContent = !lines
    ? 'The log is empty.'
    : saved
      ? `${many(lines)}; ${since ? `${many(since)} since it` : 'nothing new since it'} was last given out, ${saved.when}.`
      : `${many(lines)}, never given out yet.`;
}

const name = (end) => `chutescribe-${clock.today()}${end}`;

async function gaveOut(lines, how) {
  await store.put('saved', { lines, when: clock.stamp().slice(0, 16).replace('T', ' ') }).catch(() => {});
  await showSaved();
  tell(how);
}

/** Phones share only files of kinds that they know: where the log's own is none, it goes as text. */
async function share() {
  const { text, lines } = await log.text();
  const own = new File([text], name('.jsonl'), { type: 'application/jsonl' });
  const plain = new File([text], name('.jsonl.txt'), { type: 'text/plain' });
  const file = navigator.canShare({ files: [own] }) ? own : plain;
  try {
    await navigator.share({ files: [file], title: file.name });
  } catch (why) {
    if (why.name !== 'AbortError') trouble(`it could not be shared (${why.message}); save it as a file instead`);
    return;
  }
  await gaveOut(lines, 'shared');
}

async function save() {
  await trying(async () => {
    const { text, lines } = await log.text();
    const link = el('a', { href: URL.createObjectURL(new Blob([text], { type: 'application/jsonl' })), download: name('.jsonl') });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    await gaveOut(lines, 'saved among the downloads');
  });
}

const said = (kind, text) => (by(`${kind}-told`).textContent = text.replaceAll('`', '"'));

function use(kind, file) {
  const got = ask({ [kind]: { file } });
  const bad = got?.problems?.length ? `; left out: ${got.problems.slice(0, 5).join('; ')}` : '';
  said(kind, file ? `${file.name}: ${FILES[kind](got)}${bad}` : '');
  by(`${kind}-off`).hidden = !file;
}

async function chosen(kind) {
  const input = by(`${kind}-file`);
  const [picked] = input.files;
  if (!picked) return;
  const before = await store.get(kind);
  try {
    const file = { name: picked.name, text: await picked.text() };
    use(kind, file);
    await store.put(kind, file);
    tell(`${picked.name} is in use`);
  } catch (why) {
    // What was in use before stays so.
    use(kind, before ?? null);
    trouble(`${picked.name} is not used: ${store.isFull(why) ? store.trouble(why) : why.message.replaceAll('`', '"')}`);
  }
  input.value = '';
}

async function without(kind) {
  await trying(async () => {
    await store.put(kind, null);
    use(kind, null);
    tell('no longer in use');
  });
}

/** Puts the user's files back in use when the page opens. */
export async function restore() {
  for (const kind of Object.keys(FILES)) {
    const file = await store.get(kind);
    if (!file) continue;
    await trying(async () => use(kind, file));
  }
}
