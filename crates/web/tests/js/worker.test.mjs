// The service worker with a made-up network and a made-up store of copies: what it keeps, what stands in, what it leaves
// alone.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import vm from "node:vm";

const TEXT = readFileSync(new URL("../../assets/js/service-worker.js", import.meta.url), "utf8");
const ORIGIN = "http://127.0.0.1:4571";
const FILES = ["/assets/css/saw.css", "/assets/js/saw/main.js"];

/** A worker with its own network (a map from path to text; a missing one fails) and copies. */
function worker(network, version = "v1", stores = new Map()) {
  const heard = new Map();
  const asked = [];
  const path = (request) => new URL(typeof request === "string" ? request : request.url, ORIGIN).pathname;
  const answer = (text, status = 200) => {
    const made = new Response(text, { status });
    Object.defineProperty(made, "type", { value: "basic" });
    return made;
  };
  const fetch = async (request) => {
    asked.push(path(request));
    const text = network.get(path(request));
    if (text === undefined) throw new TypeError("no network");
    if (typeof text === "number") return answer("", text);
    if (text === "never") return new Promise(() => {});
    return answer(text);
  };
  const cache = (store) => ({
    match: async (request) => store.get(path(request))?.clone(),
    put: async (request, response) => void store.set(path(request), response),
    delete: async (request) => store.delete(path(request)),
    keys: async () => [...store.keys()].map((p) => ({ url: ORIGIN + p })),
    addAll: async (requests) => {
      for (const request of requests) store.set(path(request), await fetch(request));
    },
  });
  const caches = {
    open: async (name) => {
      if (!stores.has(name)) stores.set(name, new Map());
      return cache(stores.get(name));
    },
    keys: async () => [...stores.keys()],
    delete: async (name) => stores.delete(name),
  };
  const self = {
    location: { origin: ORIGIN },
    clients: { claim: async () => {}, matchAll: async () => pages },
    skipWaiting: async () => {},
    addEventListener: (name, handler) => heard.set(name, handler),
  };
  const said = [];
  const pages = [{ postMessage: (message) => said.push(message) }];
  class Asked {
    constructor(url, how) {
      this.url = new URL(url, ORIGIN).href;
      this.how = how;
    }
  }
  // Waiting for a slow network takes no time here.
  const quick = (then, ms) => setTimeout(then, ms > 0 ? 5 : 0);
  vm.runInNewContext(`const SHELL = ${JSON.stringify({ version, files: FILES })};\n${TEXT}`, {
    self, caches, fetch, Request: Asked, Response, URL, setTimeout: quick, clearTimeout,
  });
  const send = async (name, event = {}) => {
    const waits = [];
    heard.get(name)({ waitUntil: (p) => waits.push(p), ...event });
    await Promise.all(waits);
  };
  const get = async (url, { method = "GET", mode = "cors" } = {}) => {
    let answered;
    heard.get("fetch")({
      request: { url: new URL(url, ORIGIN).href, method, mode },
      respondWith: (p) => (answered = p),
    });
    return answered;
  };
  const open = (url) => get(url, { mode: "navigate" });
  const keep = (slug) => send("message", { data: { keep: slug }, source: pages[0] });
  return { network, stores, asked, said, send, get, open, keep };
}

const online = () =>
  new Map([...FILES.map((f) => [f, `file ${f}`]), ["/boxes/tea-caddy/saw", "cards"], ["/boxes/tea-caddy/saw/4", "card 4"]]);

test("after one visit the cards and their files are there without the network", async () => {
  const w = worker(online());
  await w.send("install");
  await w.keep("tea-caddy");
  w.network.clear();
  assert.equal(await (await w.open("/boxes/tea-caddy/saw")).text(), "cards");
  assert.equal(await (await w.open("/boxes/tea-caddy/saw/12")).text(), "cards");
  assert.equal(await (await w.get("/assets/css/saw.css")).text(), "file /assets/css/saw.css");
  assert.equal(JSON.stringify(w.said), '[{"kept":"tea-caddy"}]');
});

test("with the network, the network's page is shown", async () => {
  const w = worker(online());
  await w.keep("tea-caddy");
  w.network.set("/boxes/tea-caddy/saw", "newer cards");
  assert.equal(await (await w.open("/boxes/tea-caddy/saw")).text(), "newer cards");
});

test("a network that does not answer is not waited for", async () => {
  const w = worker(online());
  await w.keep("tea-caddy");
  w.network.set("/boxes/tea-caddy/saw", "never");
  assert.equal(await (await w.open("/boxes/tea-caddy/saw")).text(), "cards");
});

test("changes, other sites, data and queries are left to the network", async () => {
  const w = worker(online());
  await w.send("install");
  for (const [url, how] of [
    ["/ticks", { method: "POST" }],
    ["/boxes/tea-caddy/saw", { method: "POST", mode: "navigate" }],
    ["https://elsewhere.example/assets/css/saw.css", {}],
    ["/boxes/tea-caddy/ticks", {}],
    ["/assets/js/drawing.js", {}],
    ["/boxes?from=saw", { mode: "navigate" }],
  ]) {
    assert.equal(await w.get(url, how), undefined, url);
  }
});

test("nothing is kept but the files and the cards that were asked for", async () => {
  const w = worker(new Map([...online(), ["/boxes", "all boxes"], ["/boxes/sewing-box/saw", "other cards"]]));
  await w.send("install");
  await w.keep("tea-caddy");
  for (const slug of ["../shop", "tea-caddy/versions", "", "Tea%20Caddy"]) await w.keep(slug);
  await w.open("/boxes");
  await w.open("/boxes/sewing-box/saw");
  const kept = [...w.stores.values()].flatMap((s) => [...s.keys()]).sort();
  assert.deepEqual(kept, [...FILES, "/boxes/tea-caddy/saw"].sort());
});

test("a page that is not kept says so and leads to the cards that are", async () => {
  const w = worker(online());
  await w.keep("tea-caddy");
  w.network.clear();
  const answer = await w.open("/rack");
  assert.equal(answer.status, 503);
  const html = await answer.text();
  assert.match(html, /Not connected/);
  assert.match(html, /href="\/boxes\/tea-caddy\/saw"/);
  assert.match(answer.headers.get("content-security-policy"), /default-src 'none'/);
});

test("a new version drops the old files, keeps the cards and renews them", async () => {
  const first = worker(online());
  await first.send("install");
  await first.keep("tea-caddy");
  const network = new Map(online()).set("/boxes/tea-caddy/saw", "cards of the new version");
  const second = worker(network, "v2", first.stores);
  await second.send("install");
  await second.send("activate");
  assert.deepEqual([...second.stores.keys()].sort(), ["keepwright-cards", "keepwright-files-v2"]);
  network.clear();
  assert.equal(await (await second.open("/boxes/tea-caddy/saw")).text(), "cards of the new version");
});

test("an error is no copy, and a box that is gone takes its copy with it", async () => {
  const w = worker(online());
  await w.keep("tea-caddy");
  w.network.set("/boxes/tea-caddy/saw", 500);
  await w.keep("tea-caddy");
  assert.equal(await w.stores.get("keepwright-cards").get("/boxes/tea-caddy/saw").clone().text(), "cards");
  w.network.set("/boxes/tea-caddy/saw", 404);
  await w.keep("tea-caddy");
  assert.equal(w.stores.get("keepwright-cards").size, 0);
  assert.equal(JSON.stringify(w.said.at(-1)), '{"failed":"tea-caddy"}');
});

test("when the network is back the open page is told to send", async () => {
  const w = worker(online());
  await w.send("sync", { tag: "ticks" });
  assert.deepEqual(w.said, ["send"]);
});
