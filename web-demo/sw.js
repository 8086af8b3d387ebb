// Keeps the page for places without a network. The build fills in the version, a digest of all files, and
// their names, so no changed file is ever served from an old cache.
const CACHE = 'spurless-__VERSION__';
const FILES = ["__FILES__"];

self.addEventListener('install', (event) => {
  // Past the browser's own cache, which may hold older files.
  const fresh = ['./', ...FILES].map((name) => new Request(name, { cache: 'reload' }));
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(fresh)));
});

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) if (name.startsWith('spurless-') && name !== CACHE) await caches.delete(name);
    await self.clients.claim();
  })());
});

self.addEventListener('message', (event) => {
  // Only when the operator said so: a page never changes in the middle of a shoot.
  if (event.data === 'take over') self.skipWaiting();
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || new URL(request.url).origin !== self.location.origin) return;
  event.respondWith(caches.open(CACHE).then(async (cache) => (await cache.match(request, { ignoreSearch: true })) ?? fetch(request)));
});
