// Keeps this edition's files in the browser, so that the book opens without a network after the first visit.
"use strict";
const mark = "book-MARK";
const files = FILES;
self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(mark).then((kept) => kept.addAll(files)).then(() => self.skipWaiting()));
});
self.addEventListener("activate", (event) => {
  const old = (names) => names.filter((name) => name.startsWith("book-") && name !== mark);
  event.waitUntil(
    caches.keys().then((names) => Promise.all(old(names).map((name) => caches.delete(name)))).then(() => self.clients.claim())
  );
});
self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") { return; }
  event.respondWith(
    caches.match(event.request, {ignoreSearch: true}).then((kept) => kept || fetch(event.request))
  );
});
