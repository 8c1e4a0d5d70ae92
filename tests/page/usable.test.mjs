// For a barn: axe, sizes, contrast, keyboard, hands, the voice.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { test } from 'node:test';
import { browser, folder, keep, open, program, serve, stored, visit, write } from './rig.mjs';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Each view with something in it. */
const SCENES = {
  visit: async (page) => page.click('nav >> text=More'),
  reading: async (page) => {
    await page.click('nav >> text=Note');
    await page.fill('#said', 'cow 412 right hind outer ulcer zone four, block inner, left hind maybe digi, fronts clean');
    await page.waitForSelector('#reading .card');
  },
  asked: async (page) => {
    await keep(page, 'left rear white line zone three, opened it up, block on');
    await page.waitForSelector('#kept .question');
  },
  back: async (page) => {
    await page.click('#undo');
    await page.waitForSelector('#back[open]');
  },
  cows: async (page) => {
    await page.keyboard.press('Escape');
    await page.click('nav >> text=Cows');
    await page.locator('#cows-list summary').first().click();
  },
  open: async (page) => page.click('nav >> text=Open'),
  due: async (page) => {
    await page.click('nav >> text=Due');
    await page.fill('#look-cow', '412');
    await page.click('#look button');
    await page.waitForSelector('#look-told dl');
  },
};

async function prepared(t, context) {
  const dir = folder(t);
  const { address } = await serve(t);
  const page = await open(t, context, address);
  await visit(page);
  write(dir, 'old.txt', 'cow 412 right hind outer sole ulcer zone 4, block inner, wrap\ncow 55 both hinds digi\n');
  program(['note', '--log', 'old.jsonl', '--farm', 'Juniper Flat', '--on', '2026-01-15', 'old.txt'], { cwd: dir });
  await page.click('nav >> text=More');
  await page.setInputFiles('#past-file', `${dir}/old.jsonl`);
  await page.waitForSelector('#past-told:has-text("2 entries")');
  await keep((await page.click('nav >> text=Note'), page), 'cow 98 clean');
  return page;
}

for (const scheme of ['light', 'dark']) {
  for (const [width, height] of [[360, 740], [1024, 768]]) {
    test(`axe, sizes and contrast: ${scheme}, ${width} x ${height}`, async (t) => {
      const context = await browser(t, { context: { viewport: { width, height }, colorScheme: scheme } });
      const page = await prepared(t, context);
      // The policy of the page lets no script in; the test's comes by the debugger.
      const cdp = await context.newCDPSession(page);
      for (const [name, scene] of Object.entries(SCENES)) {
        await scene(page);
        await page.waitForTimeout(50);
        if (process.env.PICTURES) {
          await page.screenshot({ path: `${process.env.PICTURES}/${name}-${scheme}-${width}.png`, fullPage: name !== 'back' });
        }
        await cdp.send('Runtime.evaluate', { expression: `window.axe || eval(${JSON.stringify(AXE)})`, allowUnsafeEvalBlockedByCSP: true });
        // All rules of WCAG 2 A, AA and AAA and axe's own good practice.
        const { violations } = await page.evaluate(() => window.axe.run({ resultTypes: ['violations'], rules: { 'color-contrast-enhanced': { enabled: true }, 'target-size': { enabled: true } } }));
        assert.deepEqual(violations.map((v) => [name, v.id, v.nodes.map((n) => [n.html, n.failureSummary])]), []);
        assert.deepEqual(await page.evaluate(measure), [], name);
      }
      assert.deepEqual(page.errors, []);
    });
  }
}

/** Runs in the page: what is smaller than 48 px or 18 px, or wider than the screen. */
function measure() {
  const bad = [];
  const seen = (e) => e.checkVisibility({ visibilityProperty: true }) && e.getBoundingClientRect().width > 1;
  for (const e of document.querySelectorAll('button, a, input, summary, textarea, select')) {
    if (!seen(e)) continue;
    // A tick and its label are one target; a link within a sentence is as high as its line.
    const target = e.matches('[type=radio], [type=checkbox]') ? e.closest('label') : e;
    if (e.matches('p a')) continue;
    const { width, height } = target.getBoundingClientRect();
    if (width < 47.5 || height < 47.5) bad.push(`${e.tagName} ${e.id || e.textContent}: ${width} x ${height}`);
  }
  const all = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (all.nextNode()) {
    const e = all.currentNode.parentElement;
    if (!all.currentNode.data.trim() || !seen(e) || e.closest('script, noscript, .unseen')) continue;
    let size = parseFloat(getComputedStyle(e).fontSize);
    const drawing = e.closest('svg');
    if (drawing) size *= drawing.getBoundingClientRect().width / drawing.viewBox.baseVal.width;
    if (size < 17.9) bad.push(`${e.tagName} "${all.currentNode.data}": ${size} px`);
  }
  if (document.documentElement.scrollWidth > innerWidth) bad.push(`the page is ${document.documentElement.scrollWidth} wide`);
  return bad;
}

test('by the keyboard alone: a note, its question, taking it back', async (t) => {
  const { address } = await serve(t);
  const page = await open(t, await browser(t), address);
  const press = async (key, times = 1) => {
    for (let n = 0; n < times; n += 1) await page.keyboard.press(key);
  };
  /** Tabs on until what has the focus has these words. */
  const tabTo = async (words) => {
    for (let n = 0; n < 60; n += 1) {
      await press('Tab');
      const at = await page.evaluate(() => document.activeElement.id || document.activeElement.textContent);
      if (at === words) return;
    }
    assert.fail(`${words} is not reached by tabbing`);
  };
  await tabTo('visit-farm');
  await page.keyboard.type('Juniper Flat');
  await press('Enter');
  await page.waitForSelector('#view-note:not([hidden])');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'said');
  await page.keyboard.type('cow 7 right hind white line zone 3');
  await press('Control+Enter');
  await page.waitForSelector('#kept .question');
  await tabTo('inner');
  await press('Enter');
  await page.waitForFunction(() => document.getElementById('told').textContent === 'answer kept');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'said', 'on to the next note');
  await tabTo('undo');
  await press('Enter');
  await page.waitForSelector('#back[open]');
  await tabTo('said twice');
  await press('Enter');
  await page.waitForFunction(() => document.getElementById('told').textContent.startsWith('taken back'));
  assert.deepEqual((await stored(page)).map((l) => JSON.parse(l).kind), ['visit', 'entry', 'answer', 'strike']);
  // Where the focus is can be seen.
  await tabTo('keep').catch(() => {});
  const outline = await page.evaluate(() => getComputedStyle(document.activeElement).outlineWidth);
  assert.ok(parseFloat(outline) >= 2, outline);
});

test('keys for the thumb are on the side of the hand that holds the phone', async (t) => {
  const { address } = await serve(t);
  const page = await open(t, await browser(t), address);
  await visit(page);
  const x = (id) => page.evaluate((id) => document.getElementById(id).getBoundingClientRect().x, id);
  assert.ok((await x('keep')) > (await x('undo')));
  await page.click('nav >> text=More');
  await page.check('#hand-left');
  await page.waitForFunction(() => document.getElementById('told').textContent === 'setting kept');
  await page.click('nav >> text=Note');
  assert.ok((await x('keep')) < (await x('undo')));
  await page.reload();
  await page.waitForSelector('body[data-hand=left]');
});

test('what was kept is read back when wanted, and only then', async (t) => {
  const { address } = await serve(t);
  const context = await browser(t);
  await context.addInitScript(() => {
    window.heard = [];
    speechSynthesis.speak = (what) => window.heard.push(what.text);
  });
  const page = await open(t, context, address);
  await visit(page);
  await keep(page, 'cow 5 clean');
  assert.deepEqual(await page.evaluate(() => window.heard), []);
  await page.click('nav >> text=More');
  await page.check('#speak');
  await page.waitForFunction(() => document.getElementById('told').textContent === 'setting kept');
  await page.click('nav >> text=Note');
  await keep(page, 'cow 6 left hind outer sole ulcer zone 4, right hind white line zone 3');
  const [heard] = await page.evaluate(() => window.heard);
  assert.match(heard, /^cow 6\. left hind, outer sole ulcer, zone 4\. .*question: white line .* claw\?\. outer, or inner$/);
});
