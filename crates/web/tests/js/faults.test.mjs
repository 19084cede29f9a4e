// Faults on a picture: what is drawn is written as a rule reads and stays on the board.
import assert from "node:assert/strict";
import { test } from "node:test";
import { fit, ruleOf, words } from "../../assets/js/faults-rows.js";

test("a length is written as it is read off the rule", () => {
  const inch = ruleOf("in");
  for (const [mm, want] of [
    [0, "0"],
    [25.4, "1"],
    [800.1, "31 1/2"],
    [25.4 * 0.75, "3/4"],
    [25.4 * (2 + 5 / 16), "2 5/16"],
    [25.4 * 2.99, "3"],
  ]) {
    assert.equal(words(mm, inch), want);
  }
  assert.equal(words(612.4, ruleOf("mm")), "612");
  assert.equal(words(612.4, ruleOf(undefined)), "612");
});

test("a fault stays on the board and is never smaller than a step", () => {
  const board = { length: 900, width: 140 };
  const mm = ruleOf("mm");
  assert.deepEqual(fit({ x: -5, y: 130.4, length: 0.2, width: 40 }, board, mm), { x: 0, y: 100, length: 1, width: 40 });
  assert.deepEqual(fit({ x: 895, y: 3, length: 20, width: 5 }, board, mm), { x: 880, y: 3, length: 20, width: 5 });
  assert.deepEqual(fit({ x: 10, y: 10, length: 2000, width: 999 }, board, mm), { x: 0, y: 0, length: 900, width: 140 });
});
