// The service worker: it keeps all files of one version and answers from them alone, so
// that files of two versions never meet. A new version is fetched whole beside the old
// one, and takes its place once no page has the old one open. `files` and `version` come
// from files.js, which examples/browser/start writes.
'use strict';

importScripts('files.js');

const cacheName = `nearhand ${version}`;

self.addEventListener('install', (event) => {
    const requests = files.map((file) => new Request(file, { cache: 'reload' }));
    event.waitUntil(caches.open(cacheName).then((cache) => cache.addAll(requests)));
});

async function dropOthers() {
    for (const name of await caches.keys())
        if (name.startsWith('nearhand ') && name !== cacheName) await caches.delete(name);
    await self.clients.claim();
}

self.addEventListener('activate', (event) => event.waitUntil(dropOthers()));

async function answer(request) {
    const cache = await caches.open(cacheName);
    return await cache.match(request, { ignoreSearch: true }) ?? fetch(request);
}

self.addEventListener('fetch', (event) => {
    const { request } = event;
    if (request.method === 'GET' && new URL(request.url).origin === location.origin)
        event.respondWith(answer(request));
});
