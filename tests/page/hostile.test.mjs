// What is hostile is text, wherever it comes from.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { browser, folder, keep, open, program, ready, saved, serve, stored, visit, write } from './rig.mjs';

const MARKUP = '<img src=x onerror="window.hit=1"><script>window.hit=1</script><b>Ann</b>';
const TURNED = '\u202eevil\u2066 \u200fnet';

test('markup and marks of direction are shown as text in notes, farms, rosters, words and logs', async (t) => {
  const dir = folder(t);
  const { address } = await serve(t);
  const page = await open(t, await browser(t), address);
  const farm = `Farm ${MARKUP} ${TURNED}`;
  await visit(page, farm, MARKUP);
  assert.ok((await page.locator('#where').textContent()).includes(MARKUP));
  await page.fill('#said', `cow 8, note tell ${MARKUP} ${TURNED}`);
  await page.waitForSelector('#reading .card');
  await keep(page, `cow 8, note tell ${MARKUP} ${TURNED}`);
  await keep(page, `left hind ulcer ${MARKUP}`);
  for (const view of ['cows', 'open', 'due', 'more', 'note']) {
    await page.click(`nav a[data-view=${view}]`);
    for (const summary of await page.locator(`#view-${view} #cows-list summary`).all()) await summary.click();
  }
  await page.click('nav >> text=Cows');
  assert.ok((await page.locator('#cows-list').textContent()).includes('<script>window.hit=1</script>'));
  await page.click('nav >> text=More');
  await page.setInputFiles('#herd-file', write(dir, '<b>herd.csv', `tag\n${MARKUP}\n412\n`));
  await page.waitForSelector('#herd-told:has-text("1 tag")');
  await page.setInputFiles('#words-file', write(dir, 'w.toml', `[disorder.DD]\nsay = ["${MARKUP.replaceAll('"', "'")}"]\n<`));
  await page.waitForFunction(() => /w.toml is not used/.test(document.getElementById('trouble').textContent));
  const past = await stored(page);
  await page.setInputFiles('#past-file', write(dir, 'p.jsonl', `${past.join('\n')}\n{"v":1,"kind":"entry"<img src=x>\n`));
  await page.waitForSelector('#past-told:has-text("2 entries")');
  await page.click('nav >> text=Due');
  await page.fill('#look-cow', '8');
  await page.click('#look button');
  await page.waitForSelector('#look-told:has-text("remark")');
  assert.ok((await page.locator('#look-told').textContent()).includes('<b>Ann</b>'));

  assert.equal(await page.evaluate(() => window.hit), undefined);
  assert.equal(await page.locator('main img, main script, main b').count(), 0);
  // A mark that turns the text around stands in an element of its own, which it cannot leave.
  const loose = await page.evaluate((mark) => {
    const found = [];
    const all = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (all.nextNode()) {
      const { data, parentElement: at } = all.currentNode;
      const held = at.closest('bdi, [dir=auto]') && getComputedStyle(at.closest('bdi, [dir=auto]')).unicodeBidi;
      if (data.includes(mark) && !/isolate|plaintext/.test(held)) found.push(at.outerHTML);
    }
    return found;
  }, '\u202e');
  assert.deepEqual(loose, []);
  await saved(page, `${dir}/laptop.jsonl`);
  program(['check'], { cwd: dir });
  assert.deepEqual(page.errors, []);
});

test('a paste of a megabyte is refused with what to do, or kept line by line; the page stays usable', async (t) => {
  const { address } = await serve(t);
  const page = await open(t, await browser(t), address);
  await visit(page);
  const paste = (text) =>
    page.evaluate((text) => {
      const field = document.getElementById('said');
      field.value = text;
      field.dispatchEvent(new Event('input', { bubbles: true }));
    }, text);
  await paste('left hind outer ulcer '.repeat(50_000));
  await page.waitForFunction(() => /A long text/.test(document.getElementById('reading').textContent));
  await page.click('#keep');
  await page.waitForFunction(() => /not kept: line 1: a note of 1100000 bytes; the longest is 65536/.test(document.getElementById('trouble').textContent));
  assert.equal((await page.inputValue('#said')).length, 1_100_000, 'nothing of it is lost');
  assert.equal((await stored(page)).length, 0);

  await paste('cow 1 clean\ncow 2 \u0007 clean');
  await page.click('#keep');
  await page.waitForFunction(() => /not kept: line 2: .*control character/.test(document.getElementById('trouble').textContent));
  await paste('cow 1 clean \ud800\ncow 2 \ud83d\udc04 clean');
  await page.click('#keep');
  await page.waitForFunction(() => document.getElementById('told').textContent === 'kept: 2 entries');
  assert.match((await stored(page))[2], /\ud83d\udc04/u);
  assert.deepEqual(page.errors, []);
});

test('files that are none are refused, and what was there before stays', async (t) => {
  const dir = folder(t);
  const { address } = await serve(t);
  const page = await open(t, await browser(t), address);
  await visit(page);
  await page.click('nav >> text=More');
  for (const [kind, name] of [['herd', 'a.png'], ['words', 'b.png'], ['past', 'c.png']]) {
    await page.setInputFiles(`#${kind}-file`, write(dir, name, '\u0000\u0001PNG'));
    await page.waitForFunction((name) => document.getElementById('trouble').textContent.startsWith(`${name} is not used`), name);
  }
  await page.reload();
  await ready(page);
  await page.click('nav >> text=Note');
  await page.fill('#said', 'cow 1 clean');
  await page.waitForSelector('#reading :text("clean")');
});
