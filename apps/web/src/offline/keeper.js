// Keeps every file of this page in the browser, so that it opens without a network. The build writes in version and list.
const VERSION = '@version';
const FILES = ['@files'];
const NAME = `haunch-${VERSION}`;

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(NAME)
      .then((cache) => cache.addAll(['./', ...FILES]))
      // Pages that are open keep the version that they were opened with: their own parts have its names.
      .then(() => undefined),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) =>
        Promise.all(names.filter((n) => n.startsWith('haunch-') && n !== NAME).map((n) => caches.delete(n))),
      )
      .then(() => self.clients.claim()),
  );
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  const wanted = request.mode === 'navigate' ? './' : request;
  event.respondWith(
    caches
      .open(NAME)
      // Many servers say that an answer varies with where it is asked from: for the files of one page it does not.
      .then((cache) => cache.match(wanted, { ignoreSearch: request.mode === 'navigate', ignoreVary: true }))
      .then((kept) => kept ?? fetch(request)),
  );
});
