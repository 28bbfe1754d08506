// The page works where there is no network, as in many a garage: what it consists of is kept
// by the browser. Where there is one, what it brings goes first.
"use strict";
const library = "longpoint.wasm"; // its name says what is in it
const kept = "longpoint " + library;
const files = ["./", "style.css", "paper.css", "page.js", "form.js", "list.js", "file.js", "keep.js", "sheet.js", "solver.js", "worker.js", "wasm_exec.js", library];
const patience = 4000; // milliseconds for a network that is there and does not answer

self.addEventListener("install", (e) => {
  self.skipWaiting();
  e.waitUntil(caches.open(kept).then((cache) => cache.addAll(files)));
});

self.addEventListener("activate", (e) => {
  e.waitUntil(caches.keys().then((names) => Promise.all(names.filter((n) => n.startsWith("longpoint ") && n !== kept).map((n) => caches.delete(n)))));
});

self.addEventListener("fetch", (e) => {
  if (e.request.method === "GET" && new URL(e.request.url).origin === location.origin) e.respondWith(answer(e.request));
});

async function answer(request) {
  const cache = await caches.open(kept), old = await cache.match(request);
  if (!old) return fetch(request);
  if (request.url.endsWith("/" + library)) return old;
  try {
    const fresh = await fetch(request, { signal: AbortSignal.timeout(patience) });
    if (!fresh.ok) return old;
    await cache.put(request, fresh.clone());
    return fresh;
  } catch {
    return old;
  }
}
