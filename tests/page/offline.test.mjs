// Installable, offline, and nothing from elsewhere.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { browser, open, serve } from './rig.mjs';

test('the browser finds it fit to be installed', async (t) => {
  const { address } = await serve(t);
  const context = await browser(t);
  const page = await open(t, context, address);
  await page.evaluate(() => navigator.serviceWorker.ready);
  const cdp = await context.newCDPSession(page);
  const { errors, data } = await cdp.send('Page.getAppManifest');
  assert.deepEqual(errors, []);
  assert.equal(JSON.parse(data).display, 'standalone');
  const { installabilityErrors } = await cdp.send('Page.getInstallabilityErrors');
  // A folder of a test's own counts as a private window, which installs nothing.
  assert.deepEqual(installabilityErrors.filter((e) => e.errorId !== 'in-incognito'), []);
});

test('every file is in the worker\'s store, and comes with the policy', async (t) => {
  const { address } = await serve(t);
  const context = await browser(t);
  const page = await open(t, context, address);
  await page.evaluate(() => navigator.serviceWorker.ready);
  const policies = await page.evaluate(async () => {
    const [name] = await caches.keys();
    const cache = await caches.open(name);
    const all = await cache.keys();
    return Promise.all(all.map(async (r) => (await cache.match(r)).headers.get('content-security-policy')));
  });
  assert.ok(policies.length > 25);
  for (const policy of policies) assert.match(policy, /^default-src 'none'; script-src 'self' 'wasm-unsafe-eval';/);
});

test('the policy lets no foreign script, request or markup handler in', async (t) => {
  const { address } = await serve(t);
  const context = await browser(t);
  const page = await open(t, context, address);
  const blocked = await page.evaluate(async () => {
    const seen = [];
    document.addEventListener('securitypolicyviolation', (event) => seen.push(event.effectiveDirective));
    const script = document.createElement('script');
    script.textContent = 'window.hit = 1';
    document.body.append(script);
    await fetch('http://localhost:1/').catch(() => {});
    const image = document.createElement('img');
    image.setAttribute('onerror', 'window.hit = 1');
    image.src = 'data:x';
    document.body.append(image);
    await new Promise((then) => setTimeout(then, 200));
    return { seen, hit: window.hit };
  });
  assert.equal(blocked.hit, undefined);
  for (const what of ['script-src-elem', 'connect-src', 'img-src']) assert.ok(blocked.seen.includes(what), what);
});
