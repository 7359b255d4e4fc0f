// @ts-check
/**
 * The service worker of the training page: keeps the page and what it is made of, so that it opens
 * again without a network. It sends nothing: what was logged is the page's own business.
 *
 * The network comes first whenever it answers; a copy is only for when it does not. Where the
 * network says that nobody is signed in, the copy is thrown away.
 */

const CACHE = "training-1";
const PATIENCE_MS = 6000;
const worker = /** @type {any} */ (self);

worker.addEventListener("install", () => worker.skipWaiting());
worker.addEventListener("activate", (/** @type {any} */ event) => event.waitUntil(begin()));
worker.addEventListener("message", (/** @type {any} */ event) => {
  if (event.data?.keep) event.waitUntil(keep(event.data.keep));
});
worker.addEventListener("fetch", (/** @type {any} */ event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (request.mode === "navigate") event.respondWith(page(request));
  else if (!url.pathname.startsWith("/api/")) event.respondWith(part(request));
});

async function begin() {
  for (const name of await caches.keys()) {
    if (name.startsWith("training-") && name !== CACHE) await caches.delete(name);
  }
  await worker.clients.claim();
}

/** Fetch what the page was made of before this worker stood. @param {string[]} urls */
async function keep(urls) {
  const cache = await caches.open(CACHE);
  for (const url of urls) {
    if (await cache.match(url)) continue;
    const answer = await fetch(url).catch(() => null);
    if (answer?.ok && !answer.redirected) await cache.put(url, answer);
  }
}

/** @param {Request} request @returns {Promise<Response>} */
async function page(request) {
  const cache = await caches.open(CACHE);
  const address = new URL(request.url).pathname; // the page is one, whatever is asked of it
  try {
    const answer = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
    if (answer.ok && answer.type === "basic") await cache.put(address, answer.clone());
    else if (answer.status < 500) await cache.delete(address); // sent to the sign-in page
    if (answer.status < 500) return answer;
    return (await cache.match(address)) ?? answer;
  } catch (gone) {
    const copy = await cache.match(address);
    if (copy) return copy;
    throw gone;
  }
}

/** A style, script, face or cue. @param {Request} request @returns {Promise<Response>} */
async function part(request) {
  const cache = await caches.open(CACHE);
  try {
    const answer = await fetch(request);
    if (answer.ok && answer.type === "basic" && !answer.redirected)
      await cache.put(request, answer.clone());
    return answer;
  } catch (gone) {
    const copy = await cache.match(request, { ignoreVary: true });
    if (copy) return copy;
    throw gone;
  }
}
