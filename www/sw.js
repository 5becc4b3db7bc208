// Keeps the page for the days without a network. One version, made from the content of all that is served, names the
// cache; a new version waits until nobody uses the old one, or until the page is told to change over.

/// <reference lib="webworker" />

/** @typedef {{ version: string, files: [name: string, integrity: string][] }} Served */

const worker = /** @type {ServiceWorkerGlobalScope & { SERVED: Served }} */ (/** @type {unknown} */ (self));

importScripts("pkg/served.js");
const { version, files } = worker.SERVED;
const { scope } = worker.registration;
/** Another copy of the page, in another folder of the same host, keeps its own. */
const OURS = `turnback ${scope} `;

worker.addEventListener("install", (event) => {
  const keep = async () => {
    const cache = await caches.open(OURS + version);
    // Files of two versions must never be kept together: what isn't what was built is refused, and the old cache stays.
    await cache.addAll(files.map(([name, integrity]) => new Request(name, { integrity, cache: "no-cache" })));
  };
  event.waitUntil(keep());
});

worker.addEventListener("activate", (event) => {
  const forget = async () => {
    const old = (await caches.keys()).filter((name) => name.startsWith(OURS) && name !== OURS + version);
    await Promise.all(old.map((name) => caches.delete(name)));
  };
  event.waitUntil(forget());
});

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  const answer = async () => {
    const cache = await caches.open(OURS + version);
    // The page has two names, and whatever a school's portal adds behind a question mark.
    const page = new URL(request.url).pathname.replace(/\/index\.html$/, "/");
    const kept = await cache.match(request.mode === "navigate" ? page : request);
    return kept ?? fetch(request);
  };
  if (request.method === "GET" && request.url.startsWith(scope)) event.respondWith(answer());
});

// Said by the page when somebody has chosen the new version.
worker.addEventListener("message", () => worker.skipWaiting());
