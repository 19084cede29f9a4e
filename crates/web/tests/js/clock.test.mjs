// The clocks beside the saw, by arithmetic: nothing here waits.
import assert from "node:assert/strict";
import { test } from "node:test";
import { byEnd, call, clocks, face, read, words } from "../../assets/js/saw/clock.js";

const START = Date.UTC(2026, 2, 1, 12, 0, 0);
const clock = (over = {}) => ({
  id: "a", name: "Open time", title: "Glue-up: walls", box: "tea-caddy", boxName: "Tea caddy", card: "9",
  kind: "limit", seconds: 360, started: START, ...over,
});
const after = (seconds) => read(clock(), START + seconds * 1000);

test("what is left follows from the moment of the start", () => {
  for (const [seconds, want] of [
    [0, { left: 360, over: 0, up: false }],
    [0.4, { left: 360, over: 0, up: false }],
    [1, { left: 359, over: 0, up: false }],
    [359.5, { left: 1, over: 0, up: false }],
    [360, { left: 0, over: 0, up: true }],
    [425, { left: 0, over: 65, up: true }],
    // The tablet's clock was set back: the clock runs no longer than it was set to.
    [-3600, { left: 360, over: 0, up: false }],
  ]) {
    assert.deepEqual(after(seconds), want, `${seconds} s`);
  }
});

test("a face reads as a maker reads it", () => {
  for (const [seconds, want] of [
    [0, "0:00"], [9, "0:09"], [65, "1:05"], [3600, "1:00:00"], [86399, "23:59:59"], [86400, "24:00:00"],
    [3 * 86400 + 7200, "3 d 2 h"], [-5, "0:00"],
  ]) {
    assert.equal(face(seconds), want);
  }
});

test("past its end a limit is over, a wait is up", () => {
  assert.equal(words(clock(), after(300)), "1:00");
  assert.equal(words(clock(), after(425)), "over by 1:05");
  const wait = clock({ kind: "wait" });
  assert.equal(words(wait, after(361)), "time is up");
  assert.equal(words(wait, after(360 + 3661)), "up since 1:01:01");
});

test("the end is said once, and a limit's last minute before it", () => {
  const said = [];
  let before = after(0);
  for (let second = 1; second <= 400; second += 1) {
    const now = after(second);
    const words = call(clock(), before, now);
    if (words) said.push([second, words]);
    before = now;
  }
  assert.deepEqual(said, [[300, "Open time: one minute left."], [360, "Open time is over: Glue-up: walls."]]);
  // Asleep from the start to long after the end: the end is said, the last minute is not.
  assert.equal(call(clock(), after(0), after(4000)), "Open time is over: Glue-up: walls.");
  assert.equal(call(clock({ kind: "wait" }), after(0), after(361)), "Open time: time is up. Glue-up: walls.");
  // A limit of two minutes or less has no last call.
  const short = clock({ seconds: 100 });
  assert.equal(call(short, read(short, START), read(short, START + 50_000)), "");
});

test("what was kept and is no clock is left out", () => {
  const good = clock();
  const kept = JSON.stringify([good, null, 7, { id: "b" }, { ...good, seconds: -1 }, { ...good, started: "noon" }]);
  assert.deepEqual(clocks(kept), [good]);
  for (const bad of [null, "", "{", '{"id":"a"}']) assert.deepEqual(clocks(bad), []);
});

test("the one that ends first stands first", () => {
  const late = clock({ id: "late", seconds: 900 });
  const soon = clock({ id: "soon", started: START - 60_000 });
  assert.deepEqual(byEnd([late, soon, clock()]).map((c) => c.id), ["soon", "a", "late"]);
});
