// Dimensions stand clear of the box, of one another and of the picture's edge.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { crosses, hull, outside, overlap, placeAll, roomFor, wordBox } from '../../assets/js/drawing/dimensions.js';
import { strokes } from '../../assets/js/drawing/labels.js';

const CANVAS = { width: 800, height: 600 };
/** A plain view from the front, one millimeter a pixel, the block's lower left corner at 200, 400. */
const project = ([x, , z]) => ({ x: 200 + x, y: 400 - z });
const block = [[0, 0], [300, 0], [300, 100], [0, 100]].map(([x, z]) => project([x, 0, z]));
const edge = (from, to, out) => ({ from, to, out });
const length = (text) => ({ name: 'outside length', text, inside: false, places: [
  edge([0, 0, 0], [300, 0, 0], [0, -1, 0]), edge([0, 0, 0], [300, 0, 0], [0, 0, -1]), edge([0, 0, 100], [300, 0, 100], [0, 0, 1]),
] });
const height = (text) => ({ name: 'outside height', text, inside: false, places: [
  edge([0, 0, 0], [0, 0, 100], [-1, 0, 0]), edge([300, 0, 0], [300, 0, 100], [1, 0, 0]),
] });
const always = () => true;

test('the hull of points leaves out what is within', () => {
  const ring = hull([...block, { x: 300, y: 350 }]);
  assert.equal(ring.length, 4);
  assert.ok(outside(ring, { x: 300, y: 350 }) < 0);
  assert.ok(Math.abs(outside(ring, { x: 510, y: 350 }) - 10) < 1e-9);
});

test('length stands below, height to the right, neither on the box', () => {
  const placed = placeAll([length('300'), height('100')], hull(block), project, CANVAS, always);
  assert.deepEqual(placed.map((p) => p.text), ['300', '100']);
  const [below, right] = placed;
  assert.ok(below.a.y > 400 && below.b.y === below.a.y, 'below');
  assert.ok(right.a.x > 500, 'to the right');
  for (const p of placed) assert.ok(outside(hull(block), p.at) > 0);
  assert.ok(!overlap(below.box, right.box));
});

test('two of a kind do not lie on one another', () => {
  const placed = placeAll([length('300'), length('11 13/16" −'), height('100')], hull(block), project, CANVAS, always);
  assert.equal(placed.length, 3);
  for (const p of placed) for (const q of placed) {
    if (p === q) continue;
    assert.ok(!overlap(p.box, q.box) && !crosses(p.a, p.b, q.box), `${p.text} runs into ${q.text}`);
  }
});

test('wide words move out until they clear the box', () => {
  const [one] = placeAll([height('11 13/16" −')], hull(block), project, CANVAS, always);
  assert.ok(one.box.left >= 502, `${one.box.left}`);
});

test('what would leave the picture is left out', () => {
  const narrow = { width: 520, height: 420 };
  const placed = placeAll([length('300'), height('100')], hull(block), project, narrow, always);
  for (const { box } of placed) assert.ok(box.right < narrow.width && box.bottom < narrow.height && box.left > 0 && box.top > 0);
});

test('an inside edge behind wood is not dimensioned', () => {
  const inside = { name: 'inside length', text: '276', inside: true, places: [edge([12, 0, 10], [288, 0, 10], [0, 0, 0])] };
  assert.equal(placeAll([inside], hull(block), project, CANVAS, () => false).length, 0);
  const [one] = placeAll([inside], hull(block), project, CANVAS, always);
  assert.deepEqual([one.a, one.from], [one.from, one.a]);
});

test('an edge seen end on is not dimensioned', () => {
  const depth = { name: 'outside depth', text: '184', inside: false, places: [edge([0, 0, 0], [0, 184, 0], [1, 0, 0])] };
  assert.equal(placeAll([depth], hull(block), project, CANVAS, always).length, 0);
});

test('words grow with their letters, and so does the room for them', () => {
  const wide = (text) => wordBox({ x: 0, y: 0 }, text).right;
  assert.ok(wide('4 21/32" +') > 2 * wide('48'));
  assert.ok(roomFor([height('4 21/32" +')]).beside > roomFor([height('48')]).beside);
  assert.ok(Number.isFinite(roomFor([]).beside));
});

test('a segment and a box', () => {
  const box = { left: 0, top: 0, right: 10, bottom: 10 };
  assert.ok(crosses({ x: -5, y: 5 }, { x: 15, y: 5 }, box));
  assert.ok(!crosses({ x: -5, y: -5 }, { x: 15, y: -5 }, box));
  assert.ok(!crosses({ x: -5, y: 5 }, { x: -1, y: 5 }, box));
  assert.ok(crosses({ x: 5, y: -5 }, { x: 5, y: 15 }, box));
});

test('arrowheads point outward from the middle of the line', () => {
  const { lines, heads } = strokes({ a: { x: 0, y: 30 }, b: { x: 100, y: 30 }, from: { x: 0, y: 0 }, to: { x: 100, y: 0 }, on: false });
  assert.equal(lines.length, 3);
  assert.deepEqual(heads.map(([tip]) => tip.x), [0, 100]);
  assert.ok(heads[0][1].x > 0 && heads[1][1].x < 100);
});
