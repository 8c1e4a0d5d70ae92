// What the tests share: a served page, a browser with a folder of its own, and the program beside it.

import { spawn, execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { chromium } from 'playwright-core';

const { PROGRAM, CORE, CHROMIUM, REPO, CORPORA = '../shared/corpus' } = process.env;

/** The clock of all tests, and the same for the program. */
export const NOW = '2026-03-12T09:41:07-05:00';

const ends = new WeakMap();

/** Cleans up when the test ends, the last first: a browser is closed before its folder goes. */
export function atEnd(t, act) {
  if (!ends.has(t)) {
    const acts = [];
    ends.set(t, acts);
    t.after(async () => {
      let trouble;
      for (const act of acts.reverse()) await Promise.resolve().then(act).catch((why) => (trouble ??= why));
      if (trouble) throw trouble;
    });
  }
  ends.get(t).push(act);
}

/** A folder that is gone when the test ends. */
export function folder(t) {
  const dir = mkdtempSync(join(tmpdir(), 'chutescribe-page-'));
  atEnd(t, () => rmSync(dir, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));
  return dir;
}

/** Runs the program; gives its standard output. */
export function program(args, { input = '', cwd, code = 0 } = {}) {
  const env = { ...process.env, CHUTESCRIBE_NOW: NOW, CHUTESCRIBE_LOG: join(cwd ?? '.', 'laptop.jsonl') };
  try {
    const out = execFileSync(PROGRAM, args, { input, cwd, env, encoding: 'utf8', stdio: ['pipe', 'pipe', 'pipe'] });
    if (code !== 0) throw new Error(`${args[0]} ended well`);
    return out;
  } catch (why) {
    if (why.status === code) return why.stdout;
    throw new Error(`${args.join(' ')}: ${why.stderr ?? why.message}`);
  }
}

/** Serves the page with the program; gives its address and a way to end it. */
export async function serve(t) {
  const server = spawn(PROGRAM, ['page', '--listen', '127.0.0.1:0', '--core', CORE], { stdio: ['ignore', 'pipe', 'inherit'] });
  const stop = () => server.kill();
  atEnd(t, stop);
  const address = await new Promise((found, failed) => {
    server.stdout.on('data', (text) => found(String(text).match(/http:\S+/)[0]));
    server.on('exit', () => failed(new Error('the server ended')));
  });
  return { address, stop };
}

const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** A browser whose storage lasts as long as its folder. Any request to another host fails the test. */
export async function browser(t, options = {}) {
  const dir = options.dir ?? folder(t);
  const context = await chromium.launchPersistentContext(dir, {
    executablePath: CHROMIUM,
    headless: true,
    args: FLAGS,
    timezoneId: 'America/Chicago',
    locale: 'en-US',
    viewport: { width: 360, height: 740 },
    acceptDownloads: true,
    ...options.context,
  });
  context.setDefaultTimeout(10_000);
  if (options.clock ?? true) await context.clock.setFixedTime(new Date(NOW));
  const foreign = [];
  context.on('request', (request) => {
    const url = new URL(request.url());
    if (!['127.0.0.1', ''].includes(url.hostname)) foreign.push(request.url());
  });
  atEnd(t, async () => {
    await context.close().catch(() => {});
    if (foreign.length) throw new Error(`asked another host: ${foreign}`);
  });
  return context;
}

/** Opens the page at the tests' time and waits until it can be used. Errors of the page end the test. */
export async function open(t, context, address, { errors = [] } = {}) {
  const page = await context.newPage();
  page.errors = errors;
  page.on('pageerror', (why) => errors.push(String(why)));
  page.on('console', (line) => line.type() === 'error' && errors.push(line.text()));
  await page.goto(address);
  await ready(page);
  return page;
}

export const ready = (page) => page.waitForSelector('html[data-ready]', { state: 'attached' });

/** Says which farm it is, as one does first on a day. */
export async function visit(page, farm = 'Juniper Flat', trimmer = '') {
  await page.goto(page.url().replace(/#.*/, '') + '#more');
  await page.fill('#visit-farm', farm);
  await page.fill('#visit-trimmer', trimmer);
  await page.click('text=Use this visit');
  await page.waitForSelector('#view-note:not([hidden])');
}

/** Keeps a note, and waits until the page says so. */
export async function keep(page, text) {
  await page.evaluate(() => (document.getElementById('told').textContent = ''));
  await page.fill('#said', text);
  await page.click('#keep');
  await page.waitForFunction(() => document.getElementById('told').textContent.startsWith('kept'));
}

/** The lines that are stored. */
export const stored = (page) =>
  page.evaluate(
    () =>
      new Promise((found, failed) => {
        const opening = indexedDB.open('chutescribe');
        opening.onerror = () => failed(opening.error);
        opening.onsuccess = () => {
          const all = opening.result.transaction('lines').objectStore('lines').getAll();
          all.onsuccess = () => (found(all.result), opening.result.close());
        };
      }),
  );

/** Saves the log as a file, as a user does; gives its text. */
export async function saved(page, to) {
  await page.goto(page.url().replace(/#.*/, '') + '#more');
  const [download] = await Promise.all([page.waitForEvent('download'), page.click('#save')]);
  await download.saveAs(to);
  return readFileSync(to, 'utf8');
}

/** A record without what tells where and when it came from. */
export function bare(line) {
  const { v, kind, id, at, visit: _, source, seal, ...rest } = JSON.parse(line);
  return rest;
}

/** Notes of the project's own: typed ones, and heard ones with a roster where the corpora are. */
export function corpus() {
  const read = (file) => {
    try {
      return readFileSync(resolve(REPO, file), 'utf8');
    } catch {
      return '';
    }
  };
  const rows = (text) => text.split('\n').filter((line) => line && !line.startsWith('#')).map((line) => line.split('\t'));
  return {
    typed: rows(read('tests/corpus/typed.tsv')),
    heard: rows(read('tests/corpus/heard_sample.tsv')),
    spoken: rows(read(CORPORA + '/spoken.txt')).map((row) => row[1]),
    roster: read(CORPORA + '/roster.txt'),
    recognised: rows(read(CORPORA + '/heard.tsv')),
  };
}

export const write = (dir, name, text) => {
  const path = join(dir, name);
  writeFileSync(path, text);
  return path;
};
