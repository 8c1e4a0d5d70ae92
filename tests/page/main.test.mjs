// The main job, from the first note to the laptop's log.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { browser, folder, keep, open, program, ready, saved, serve, stored, visit, write } from './rig.mjs';

const NOTES = [
  'cow four twelve, right hind out her, ulcer zone four, block enter, wrap, recheck in four weeks',
  'cow 98 left rear white line zone three, opened it up, block on',
  '#1342 LF clean, loco 3, toe RF 75mm',
];

test('three notes, one answer, a reload without a network, a file, the laptop', async (t) => {
  const dir = folder(t);
  const { address, stop } = await serve(t);
  const context = await browser(t);
  const page = await open(t, context, address);
  assert.match(page.url(), /#more$/, 'on a new day the visit comes first');
  await visit(page);

  await page.fill('#said', NOTES[0]);
  await page.waitForSelector('#reading :text("outer sole ulcer, zone 4")');
  assert.equal((await stored(page)).length, 0, 'nothing is stored by reading');
  for (const note of NOTES.slice(0, 2)) await keep(page, note);

  const question = page.locator('#kept .question');
  assert.match(await question.locator('h3').textContent(), /white line on the left hind: outer or inner claw\?/);
  await question.getByRole('button', { name: 'inner', exact: true }).click();
  await page.waitForFunction(() => document.getElementById('told').textContent === 'answer kept');
  assert.equal(await page.locator('#kept .question').count(), 0);
  await keep(page, NOTES[2]);
  assert.equal((await stored(page)).length, 5, 'a visit, three entries, an answer');

  // The worker has the page by now; then both the server and the network are gone.
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForFunction(async () => {
    const names = await caches.keys();
    return names.length && (await (await caches.open(names[0])).match('core.wasm'));
  });
  stop();
  await context.setOffline(true);
  await page.goto(`${address}#cows`);
  await page.reload();
  await ready(page);
  await page.waitForSelector('#cows-list li >> nth=2');
  const list = await page.locator('#cows-list summary > strong:first-of-type').allTextContents();
  assert.deepEqual(list, ['cow 1342', 'cow 98', 'cow 412'], 'the last one first');

  const text = await saved(page, `${dir}/phone.jsonl`);
  assert.deepEqual(text.trim().split('\n'), await stored(page), 'the file is what is stored');

  // The same said and answered at the laptop's terminal is the same log, byte for byte.
  const typed = `${NOTES[0]}\n${NOTES[1]}\ninner\n${NOTES[2]}\n`;
  program(['note', '--ask', '--log', 'typed.jsonl', '--farm', 'Juniper Flat', '--on', '2026-03-12'], { input: typed, cwd: dir });
  assert.equal(text, readFileSync(`${dir}/typed.jsonl`, 'utf8'));

  // And so is what the laptop takes in, which finds nothing to complain of.
  write(dir, 'laptop.jsonl', '');
  program(['merge', 'phone.jsonl', '--write'], { cwd: dir });
  assert.match(program(['check', '--strict'], { cwd: dir }), /3 entries/);
  assert.match(program(['merge', 'phone.jsonl', '--write'], { cwd: dir }), /no lines/, 'a second time adds nothing');
  assert.match(program(['cow', '98'], { cwd: dir }), /inner white line disease, zone 3/);
  assert.deepEqual(page.errors, []);
});

test('taking back shows what it takes back, and a mistake is brought back', async (t) => {
  const dir = folder(t);
  const { address } = await serve(t);
  const page = await open(t, await browser(t), address);
  await visit(page);
  await keep(page, 'cow 12 left hind outer sole ulcer zone 4, cow 13 clean');
  await page.click('#undo');
  const dialog = page.locator('#back');
  const shown = await dialog.textContent();
  assert.match(shown, /Take these 2 back\?/);
  assert.match(shown, /cow 12 left hind outer sole ulcer zone 4/);
  assert.match(shown, /cow 13/);
  await page.keyboard.press('Escape');
  assert.equal((await stored(page)).length, 3, 'Escape leaves all as it is');
  await page.click('#undo');
  await dialog.getByRole('button', { name: 'wrong cow' }).click();
  await page.waitForFunction(() => document.getElementById('told').textContent.startsWith('taken back: cow 12, cow 13'));
  const lines = (await stored(page)).map((line) => JSON.parse(line));
  assert.deepEqual(lines.map((l) => l.kind), ['visit', 'entry', 'entry', 'strike', 'strike']);
  assert.deepEqual(lines.slice(3).map((l) => l.why), ['wrong cow', 'wrong cow']);
  assert.ok(await page.locator('#undo').isDisabled(), 'there is nothing more to take back');

  await page.click('nav >> text=Cows');
  await page.locator('#cows-list summary').first().click();
  await page.click('text=Bring it back');
  await page.waitForFunction(() => document.getElementById('told').textContent === 'cow 13 counts again');
  await saved(page, `${dir}/laptop.jsonl`);
  const sheet = program(['sheet'], { cwd: dir });
  assert.match(sheet, /1 {2}cows seen/);
  program(['check'], { cwd: dir });
});

test('an answer in words, one that does not fit, and one that is changed', async (t) => {
  const { address } = await serve(t);
  const page = await open(t, await browser(t), address);
  await visit(page);
  await keep(page, 'left rear white line zone three');
  const question = page.locator('#kept .question');
  assert.match(await question.textContent(), /which cow\? none was named/);
  await question.locator('input').fill('perhaps');
  await question.getByRole('button', { name: 'Answer' }).click();
  await page.waitForFunction(() => document.getElementById('trouble').textContent);
  assert.match(await page.locator('#trouble').textContent(), /does not fit: it wants/);
  // A number in words is the number, and no choice.
  await question.locator('input').fill('1');
  await question.locator('input').press('Enter');
  await page.waitForSelector('#kept :text("outer or inner claw?")');
  await page.locator('#kept .question').getByRole('button', { name: 'outer', exact: true }).click();
  await page.waitForFunction(() => !document.querySelector('#kept .question'));

  await page.click('nav >> text=Cows');
  await page.locator('#cows-list summary').first().click();
  await page.click('text=change an answer');
  const claw = page.locator('#cows-list .question', { hasText: 'outer or inner' });
  await claw.getByRole('button', { name: 'inner', exact: true }).click();
  await page.waitForFunction(() => /inner white line disease/.test(document.getElementById('cows-list').textContent));
  const lines = (await stored(page)).map((line) => JSON.parse(line));
  assert.deepEqual(lines.filter((l) => l.kind === 'answer').map((l) => l.value), ['1', 'outer', 'inner']);
});

test('open questions stay listed, count nowhere, and can be answered later', async (t) => {
  const { address } = await serve(t);
  const page = await open(t, await browser(t), address);
  await visit(page);
  await keep(page, 'cow 7 right hind white line abscess zone 2, wrap');
  await keep(page, 'cow 8 clean');
  assert.match(await page.locator('nav a[data-view=open]').textContent(), /\(1\)/);
  await page.click('nav >> text=Due');
  assert.doesNotMatch(await page.locator('#due-list').textContent(), /recheck/, 'what is asked is not due');
  assert.match(await page.locator('#due-list').textContent(), /left out: 1 open question on 1 entry/);
  await page.click('nav >> text=Open');
  await page.locator('#open-list').getByRole('button', { name: 'outer', exact: true }).click();
  await page.waitForFunction(() => document.getElementById('open-count').textContent === 'No question is open.');
});

test('a roster, words of one\'s own, an earlier log; all are there after a reload', async (t) => {
  const dir = folder(t);
  const { address } = await serve(t);
  const page = await open(t, await browser(t), address);
  await visit(page);
  write(dir, 'old.txt', 'cow 412 right hind outer sole ulcer zone 4, block inner\ncow 55 both hinds digi\n');
  program(['note', '--log', 'old.jsonl', '--farm', 'Juniper Flat', '--on', '2026-01-15', 'old.txt'], { cwd: dir });
  await page.click('nav >> text=More');
  await page.setInputFiles('#herd-file', write(dir, 'herd.csv', 'tag,name\n412,rose\n413,lily\n4!4,odd\n'));
  await page.waitForSelector('#herd-told:has-text("2 tags")');
  assert.match(await page.locator('#herd-told').textContent(), /herd.csv:4: .4!4. is no tag/, 'what is left out is told');
  await page.setInputFiles('#words-file', write(dir, 'words.toml', '[disorder.DD]\nsay = ["cauliflower"]\n'));
  await page.waitForSelector('#words-told:has-text("in use")');
  await page.setInputFiles('#past-file', `${dir}/old.jsonl`);
  await page.waitForSelector('#past-told:has-text("2 entries")');
  await page.setInputFiles('#words-file', write(dir, 'bad.toml', '[disorder.QQ]\nsay = ["thing"]\n'));
  await page.waitForFunction(() => /bad.toml is not used: bad.toml:/.test(document.getElementById('trouble').textContent));
  await page.reload();
  await ready(page);
  assert.match(await page.locator('#words-told').textContent(), /words.toml: in use/, 'the one before stays');

  await page.click('nav >> text=Note');
  await page.fill('#said', 'cow 431 left hind cauliflower');
  await page.waitForSelector('#reading :text("digital dermatitis")');
  assert.match(await page.locator('#reading').textContent(), /cow 431 is not on the roster/);
  await page.fill('#said', '');

  await page.click('nav >> text=Due');
  assert.match(await page.locator('#due-list').textContent(), /Overdue.*cow 412 block off, right hind inner/s);
  await page.fill('#look-cow', '412');
  await page.keyboard.press('Enter');
  await page.waitForSelector('#look-told:has-text("outer sole ulcer, zone 4")');
  assert.match(await page.locator('#look-told').textContent(), /cow 412 at Juniper Flat: 1 visit, thu 15 jan 2026/);
  assert.equal((await stored(page)).length, 0, 'looking up adds nothing');
  assert.deepEqual(page.errors, []);
});
