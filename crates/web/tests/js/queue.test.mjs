// Ticks that wait, the server's list, and what becomes of both.
import assert from "node:assert/strict";
import { test } from "node:test";
import { asked, swiped } from "../../assets/js/saw/cards.js";
import { left, merge, place, presses, settle, standings, told } from "../../assets/js/saw/queue.js";

const press = (part, on, at, over = {}) => ({
  box: "tea-caddy", plan: "p1", setup: "s1", part, id: `${part}-${on}-${at}`, on, at, ...over,
});
const known = (part, on, at, over = {}) => ({ plan: "p1", setup: "s1", part, on, by: "shop tablet", at, ...over });
const on = (all, part, plan = "p1") => all.get(place({ plan, setup: "s1", part }))?.on;

test("the last press counts, whoever pressed it", () => {
  for (const [name, server, here, want] of [
    ["only the server's", [known("front", true, 10)], [], true],
    ["only what waits", [], [press("front", true, 10)], true],
    ["what waits is later", [known("front", true, 10)], [press("front", false, 11)], false],
    ["the server's is later", [known("front", false, 12)], [press("front", true, 11)], false],
    ["in one second what waits counts", [known("front", true, 10)], [press("front", false, 10)], false],
    ["on and off in one second", [], [press("front", true, 10), press("front", false, 10)], false],
    ["another box's press", [], [press("front", true, 10, { box: "sewing-box" })], undefined],
  ]) {
    assert.equal(on(merge(server, here, "tea-caddy"), "front"), want, name);
  }
});

test("a tick of an earlier plan is not a tick of this one", () => {
  const all = merge([known("front", true, 10, { plan: "p0" })], [], "tea-caddy");
  assert.equal(on(all, "front", "p1"), undefined);
  assert.equal(on(all, "front", "p0"), true);
});

test("what the server has need not wait, what it has not stays", () => {
  const waiting = [press("front", true, 1), press("back", true, 2), press("left", true, 3)];
  const outcome = { kept: [waiting[0].id], refused: [{ id: waiting[2].id, why: "no such box" }], overruled: [] };
  assert.deepEqual(left(waiting, outcome), [waiting[1]]);
  // The answer got lost and everything is sent again: the second answer empties the list.
  assert.deepEqual(left(waiting, { kept: waiting.map((p) => p.id), refused: [], overruled: [] }), []);
});

test("presses that were taken stand in the known list", () => {
  const list = settle([known("front", true, 5)], [press("front", false, 9), press("back", true, 9)], "tea-caddy");
  const all = merge(list, [], "tea-caddy");
  assert.equal(on(all, "front"), false);
  assert.equal(on(all, "back"), true);
});

test("what was overruled or refused is told by name", () => {
  const sent = [press("front", true, 1), press("back", true, 2)];
  const outcome = {
    kept: [sent[0].id],
    refused: [{ id: sent[1].id, why: "there is no box called x in this shop" }],
    overruled: [{ id: sent[0].id, on: false, by: "shop tablet", at: 9 }],
  };
  assert.equal(
    told(outcome, sent),
    "front: pressed later by shop tablet, which counts: not ticked. back: not taken, there is no box called x in this shop.",
  );
  assert.equal(told({ kept: ["x"], refused: [], overruled: [] }, sent), "");
});

test("what was kept and cannot be read is left out", () => {
  const good = press("front", true, 1);
  const text = JSON.stringify([good, 3, null, { ...good, id: "" }, { ...good, on: "yes" }, { ...good, at: null }]);
  assert.deepEqual(presses(text), [good]);
  assert.deepEqual(standings(JSON.stringify([known("front", true, 1), { plan: "p" }])), [known("front", true, 1)]);
  for (const bad of [null, "", "[", "{}"]) assert.deepEqual(presses(bad), []);
});

test("a swipe goes across, not down, and far enough", () => {
  for (const [dx, dy, want] of [[-120, 10, 1], [120, -10, -1], [-59, 0, 0], [-100, 60, 0], [0, 300, 0]]) {
    assert.equal(swiped(dx, dy), want, `${dx}, ${dy}`);
  }
});

test("an address asks for a card that is there, or for the list", () => {
  for (const [path, hash, want] of [
    ["/boxes/tea-caddy/saw", "", 0],
    ["/boxes/tea-caddy/saw/5", "", 5],
    ["/boxes/tea-caddy/saw", "#card-7", 7],
    ["/boxes/tea-caddy/saw/0", "", 0],
    ["/boxes/tea-caddy/saw/99", "", 0],
    ["/boxes/tea-caddy/saw/5x", "", 0],
  ]) {
    assert.equal(asked(path, hash, 20), want, `${path}${hash}`);
  }
});
