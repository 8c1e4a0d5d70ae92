// Nothing is lost: a full phone, a crash, two windows, a note half said.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { browser, folder, keep, open, program, ready, saved, serve, stored, visit } from './rig.mjs';

test('a full storage is told, nothing shows as kept that is not stored, and room makes it well', async (t) => {
  const { address } = await serve(t);
  const profile = folder(t);
  const before = await browser(t, { dir: profile });
  const first = await open(t, before, address);
  await visit(first);
  await keep(first, 'cow 1 clean');
  // A browser remembers for a while how much room there was: a new one has to look.
  await before.close();
  const context = await browser(t, { dir: profile });
  const page = await open(t, context, address);
  const cdp = await context.newCDPSession(page);
  const origin = new URL(address).origin;
  await cdp.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1 });
  const words = 'cow 2 left hind outer sole ulcer zone 4';
  await page.fill('#said', words);
  await page.click('#keep');
  await page.waitForFunction(() => document.getElementById('trouble').textContent.startsWith('NOT KEPT'));
  assert.match(await page.locator('#trouble').textContent(), /the storage of this phone is full.*still in the field/);
  assert.equal(await page.inputValue('#said'), words, 'the words are still there');
  assert.equal((await stored(page)).length, 2);
  assert.equal(await page.locator('#told').textContent(), '');
  await page.click('nav >> text=Cows');
  assert.equal(await page.locator('#cows-list > li').count(), 1, 'what is not stored is in no list');
  await page.click('nav >> text=Note');
  // An answer and a setting are no better off, and say so too.
  await page.click('nav >> text=More');
  await page.click('#hand-left');
  await page.waitForFunction(() => /the setting is not kept/.test(document.getElementById('trouble').textContent));
  assert.equal(await page.evaluate(() => document.body.dataset.hand), 'right');
  await page.click('nav >> text=Note');

  await cdp.send('Storage.overrideQuotaForOrigin', { origin });
  await page.click('#keep');
  await page.waitForFunction(() => document.getElementById('told').textContent.startsWith('kept'));
  assert.equal(await page.locator('#trouble').textContent(), '');
  assert.deepEqual((await stored(page)).map((l) => JSON.parse(l).cow ?? null), [null, '1', '2'], 'once each');
  const dir = folder(t);
  await saved(page, `${dir}/laptop.jsonl`);
  program(['check', '--strict'], { cwd: dir });
  assert.deepEqual(page.errors, []);
});

test('a storage that fails at any moment of keeping leaves all or nothing', async (t) => {
  const { address } = await serve(t);
  const page = await open(t, await browser(t), address);
  await visit(page);
  await keep(page, 'cow 1 clean');
  // The browser's own methods are made to fail, one after the other.
  for (const fault of ['first add', 'second add', 'abort later']) {
    await page.evaluate((fault) => {
      const add = IDBObjectStore.prototype.add;
      let n = 0;
      IDBObjectStore.prototype.add = function (...what) {
        n += 1;
        if ((fault === 'first add' && n === 1) || (fault === 'second add' && n === 2)) {
          throw new DOMException('no', 'UnknownError');
        }
        const request = add.apply(this, what);
        // After every add went well, the transaction itself comes to nothing.
        if (fault === 'abort later' && n === 2) request.addEventListener('success', () => this.transaction.abort());
        return request;
      };
      window.mend = () => (IDBObjectStore.prototype.add = add);
    }, fault);
    await page.fill('#said', 'cow 2 clean, cow 3 clean');
    await page.click('#keep');
    await page.waitForFunction(() => document.getElementById('trouble').textContent.startsWith('NOT KEPT'), null, {});
    assert.equal((await stored(page)).length, 2, fault);
    await page.evaluate(() => (window.mend(), (document.getElementById('trouble').textContent = '')));
  }
  await page.click('#keep');
  await page.waitForFunction(() => document.getElementById('told').textContent === 'kept: 2 entries');
  assert.equal((await stored(page)).length, 4);
});

test('a crash of the tab loses no kept note, and not the one half said', async (t) => {
  const { address } = await serve(t);
  const context = await browser(t);
  const page = await open(t, context, address);
  await visit(page);
  for (const cow of [1, 2, 3]) await keep(page, `cow ${cow} clean`);
  await page.fill('#said', 'cow 4 left hind ul');
  await page.waitForTimeout(600);
  const cdp = await context.newCDPSession(page);
  const crashed = page.waitForEvent('crash');
  cdp.send('Page.crash').catch(() => {});
  await crashed;
  const again = await open(t, context, address);
  assert.equal((await stored(again)).length, 4);
  assert.equal(await again.inputValue('#said'), 'cow 4 left hind ul');
  await again.click('nav >> text=Cows');
  assert.equal(await again.locator('#cows-list > li').count(), 3);
});

test('a crash in the middle of a hundred notes loses none that was shown as kept', async (t) => {
  const { address } = await serve(t);
  const context = await browser(t);
  const page = await open(t, context, address);
  await visit(page);
  const told = [];
  await page.exposeFunction('toldKept', (n) => told.push(n));
  page
    .evaluate(async () => {
      const log = await import('./log.js');
      const { visit } = await import('./ui.js');
      for (let n = 1; n <= 100; n += 1) {
        await log.keep(`cow ${n} clean`, visit());
        window.toldKept(n);
      }
    })
    .catch(() => {});
  while (told.length < 10) await new Promise((then) => setTimeout(then, 5));
  const cdp = await context.newCDPSession(page);
  const crashed = page.waitForEvent('crash');
  cdp.send('Page.crash').catch(() => {});
  await crashed;
  const again = await open(t, context, address);
  const cows = (await stored(again)).map((line) => JSON.parse(line).cow).filter(Boolean);
  assert.ok(cows.length >= told.length, `${cows.length} of ${told.length}`);
  assert.deepEqual(cows, cows.map((_, i) => String(i + 1)));
  const dir = folder(t);
  await saved(again, `${dir}/laptop.jsonl`);
  program(['check'], { cwd: dir });
});

test('two windows at once do not lose each other\'s notes', async (t) => {
  const { address } = await serve(t);
  const context = await browser(t);
  const one = await open(t, context, address);
  await visit(one);
  const two = await open(t, context, address);
  await two.goto(`${address}#note`);
  const many = (page, from) =>
    page.evaluate(async (from) => {
      const log = await import('./log.js');
      const { visit } = await import('./ui.js');
      for (let n = from; n < from + 25; n += 1) await log.keep(`cow ${n} clean`, visit());
    }, from);
  await Promise.all([many(one, 100), many(two, 200)]);
  const lines = await stored(one);
  assert.equal(lines.length, 51);
  await one.goto(`${address}#cows`);
  await one.waitForFunction(() => document.querySelectorAll('#cows-list > li').length === 50);
  const dir = folder(t);
  await saved(two, `${dir}/laptop.jsonl`);
  assert.match(program(['check', '--strict'], { cwd: dir }), /50 entries/);
});

test('where nothing can be stored, nothing is shown as kept', async (t) => {
  const { address } = await serve(t);
  const context = await browser(t);
  await context.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('not here', 'SecurityError');
    };
  });
  const page = await context.newPage();
  await page.goto(address);
  await ready(page);
  assert.match(await page.locator('#trouble').textContent(), /^NOTHING CAN BE KEPT HERE/);
  assert.ok(await page.locator('#keep').isDisabled());
  await page.fill('#said', 'cow 7 clean');
  await page.waitForSelector('#reading :text("clean")');
});
