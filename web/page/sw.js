// Keeps the page's own files on the phone, so that it opens without a network. A new version is taken whole, and
// comes into use when no window of the old one is left.

// Names the version and its files; written by `chutescribe page`.
importScripts('version.js');

const NAME = `chutescribe-${self.VERSION}`;

self.addEventListener('install', (event) => {
  const fresh = self.FILES.map((file) => new Request(file, { cache: 'reload' }));
  event.waitUntil(caches.open(NAME).then((cache) => cache.addAll(fresh)));
});

self.addEventListener('activate', (event) => {
  const old = (name) => name.startsWith('chutescribe-') && name !== NAME;
  event.waitUntil(caches.keys().then((names) => Promise.all(names.filter(old).map((name) => caches.delete(name)))));
});

self.addEventListener('fetch', (event) => {
  if (event.request.method !== 'GET' || new URL(event.request.url).origin !== location.origin) return;
  const here = async () => {
    const cache = await caches.open(NAME);
    const found = await cache.match(event.request, { ignoreSearch: true });
    if (found) return found;
    return fetch(event.request);
  };
  event.respondWith(here());
});
