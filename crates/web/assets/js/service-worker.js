// @ts-check
// The copy of the cards on this device. Kept are the pages' own files and the cards of boxes that were opened beside the
// saw, nothing else: no answer to a change, no other page, nothing from elsewhere. The network comes first; the copy
// stands in when it fails or is slow.
//
// The server puts `SHELL` before this text: the version by the files' content, and the files' addresses.

/* global SHELL */

const FILES = `keepwright-files-${SHELL.version}`;
const CARDS = "keepwright-cards";
/** The cards of a box, all or one of them. */
const SAW = /^\/boxes\/([a-z0-9-]+)\/saw(?:\/\d+)?$/;
/** Milliseconds for which the network is waited for where a copy could stand in. */
const PATIENCE = 4000;

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("message", (event) => {
  if (event.data && typeof event.data.keep === "string") event.waitUntil(keep(event.data.keep, event.source));
});
self.addEventListener("sync", (event) => {
  if (event.tag === "ticks") event.waitUntil(wake());
});
self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin || url.search !== "") return;
  if (SHELL.files.includes(url.pathname)) event.respondWith(file(request, url.pathname));
  else if (request.mode === "navigate") event.respondWith(page(request, url.pathname));
});

async function install() {
  const cache = await caches.open(FILES);
  await cache.addAll(SHELL.files.map((path) => new Request(path, { cache: "reload" })));
  await self.skipWaiting();
}

/** Drops the files of earlier versions and renews the cards, which were made for them. */
async function activate() {
  for (const name of await caches.keys()) {
    if (name.startsWith("keepwright-files-") && name !== FILES) await caches.delete(name);
  }
  await self.clients.claim();
  const cache = await caches.open(CARDS);
  for (const request of await cache.keys()) {
    await renew(cache, new URL(request.url).pathname).catch(() => false);
  }
}

/** Keeps the cards of a box. */
async function keep(slug, page) {
  const path = `/boxes/${slug}/saw`;
  if (!SAW.test(path)) return;
  const cache = await caches.open(CARDS);
  const kept = await renew(cache, path).catch(() => false);
  const before = kept || (await cache.match(path)) !== undefined;
  page?.postMessage(kept ? { kept: slug } : before ? { kept: slug, older: true } : { failed: slug });
}

/** Asks for a box's cards anew; a box that is gone takes its copy with it. */
async function renew(cache, path) {
  const answer = await fetch(path, { cache: "no-cache", credentials: "same-origin" });
  if (answer.status === 404) await cache.delete(path);
  if (!answer.ok || answer.redirected || answer.type !== "basic") return false;
  await cache.put(path, answer);
  return true;
}

async function file(request, path) {
  const kept = await (await caches.open(FILES)).match(path);
  return soon(request, kept);
}

/** A page from the network; where it fails, the kept cards if they were asked for, else the words that it failed. */
async function page(request, path) {
  const box = SAW.exec(path);
  const kept = box ? await (await caches.open(CARDS)).match(`/boxes/${box[1]}/saw`) : undefined;
  try {
    return await soon(request, kept);
  } catch {
    return nothing();
  }
}

/** The network's answer, or the copy when there is one and the network fails or is slow. */
async function soon(request, kept) {
  if (!kept) return fetch(request);
  let timer;
  const slow = new Promise((resolve) => {
    timer = setTimeout(() => resolve(kept), PATIENCE);
  });
  try {
    return await Promise.race([fetch(request), slow]);
  } catch {
    return kept;
  } finally {
    clearTimeout(timer);
  }
}

/** What stands in for a page of which there is no copy: where the kept cards are. */
async function nothing() {
  const cache = await caches.open(CARDS);
  const boxes = (await cache.keys()).map((r) => SAW.exec(new URL(r.url).pathname)?.[1]).filter(Boolean);
  const links = boxes.map((slug) => `<li><a class="go" href="/boxes/${slug}/saw">${slug.replaceAll("-", " ")}</a></li>`);
  const kept = links.length > 0 ? `<p>Kept on this device, beside the saw:</p><ul>${links.join("")}</ul>` : "";
  const html =
    '<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">' +
    '<title>Not connected · Keepwright</title><link rel="stylesheet" href="/assets/css/tokens.css">' +
    '<link rel="stylesheet" href="/assets/css/base.css"></head><body><main class="alone" id="main"><h1>Not connected</h1>' +
    `<p class="say">The bench does not answer, and this page is not kept on this device.</p>${kept}</main></body></html>`;
  const headers = {
    "content-type": "text/html; charset=utf-8",
    "content-security-policy": "default-src 'none'; style-src 'self'; font-src 'self'",
  };
  return new Response(html, { status: 503, headers });
}

/** The network is back: the open pages send what waits. */
async function wake() {
  for (const client of await self.clients.matchAll({ type: "window" })) client.postMessage("send");
}
