// Starts the page: the store, the core, the log in it, the views.

import { ask, load } from './core.js';
import { by, el, said } from './dom.js';
import * as clock from './clock.js';
import * as log from './log.js';
import { practise } from './practice.js';
import * as store from './store.js';
import { day, load as loadSettings, set, trouble, visit } from './ui.js';
import * as note from './views/note.js';
import * as cows from './views/cows.js';
import * as open from './views/open.js';
import * as due from './views/due.js';
import * as more from './views/more.js';

const views = { note, cows, open, due, more };
const named = () => (location.hash.slice(1) in views ? location.hash.slice(1) : 'note');
let shown = '';

/** Shows the view that the address names; a new one gets the focus, for those who do not see it come. */
function view() {
  const name = named();
  for (const other of Object.keys(views)) by(`view-${other}`).hidden = other !== name;
  for (const link of document.querySelectorAll('nav a')) {
    if (link.dataset.view === name) link.setAttribute('aria-current', 'page');
    else link.removeAttribute('aria-current');
  }
  headline();
  views[name].show();
  if (shown && shown !== name) {
    scrollTo(0, 0);
    (name === 'note' ? by('said') : by(`${name}-head`)).focus({ preventScroll: true });
  }
  shown = name;
}

/** The line above all views: where and when, and how much is open. */
function headline() {
  const { farm, date } = visit();
  const early = date !== clock.today();
  const when = `, ${clock.words(date)}${early ? ' (not today)' : ''}`;
  by('where').replaceChildren(el('span', {}, farm ? said(farm) : 'no farm named', when));
  by('where').classList.toggle('early', early);
  const { questions } = day();
  by('open-n').textContent = questions ? `\u00a0(${questions})` : '';
}

function logChanged() {
  headline();
  if (shown === 'note') note.showKept();
  else views[shown].show();
}

async function start() {
  const stored = store.open(() => trouble('the browser took the storage away: reload this page before you go on'));
  await Promise.all([load(), stored.catch(() => {})]);
  let kept = true;
  try {
    await stored;
    await loadSettings();
    const bad = await log.catchUp();
    if (bad.length) trouble(bad.slice(0, 3).join('; '));
  } catch (why) {
    kept = false;
    trouble(`NOTHING CAN BE KEPT HERE: ${store.trouble(why)}. A private window or a full phone may be the cause.`);
  }
  for (const part of [note, due, more]) part.start();
  by('said').disabled = false;
  by('keep').disabled = !kept;
  if (kept) await note.restore();
  // On another day the first question is where.
  if (kept && set.on !== clock.today() && !set.date) location.hash = '#more';
  view();
  addEventListener('hashchange', view);
  log.changed(logChanged);
  if (kept) {
    await more.restore();
    view();
  }
  if (named() === 'note') by('said').focus({ preventScroll: true });
  document.documentElement.dataset.ready = 'yes';
  warm();
}

/** The sounds of words take a while to lay out: better bit by bit now than in the first note. */
function warm() {
  const idle = window.requestIdleCallback ?? ((then) => setTimeout(then, 10));
  idle(() => (ask({ warm: {} }) && practise() ? (document.documentElement.dataset.warm = 'yes') : warm()));
}

start().catch((why) => trouble(`the page could not start: ${why.message}. Reload it; what was kept is still stored.`));

if ('serviceWorker' in navigator) {
  navigator.serviceWorker.register('sw.js').catch(() => {
    // Without one the page works as long as its host answers; README.md says where it can be installed.
  });
}
