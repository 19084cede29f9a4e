// Where pieces stand, and what a cut leaves of them.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { cutPlane, kept, left } from '../../assets/js/drawing/cut.js';
import { ends, faces, lines, same } from '../../assets/js/drawing/mesh.js';
import { around, cloud, moved, opened, place, section, through, times, turn } from '../../assets/js/drawing/stance.js';
import { shown } from '../../assets/js/drawing/sizes.js';

const near = (a, b) => a.forEach((v, i) => assert.ok(Math.abs(v - b[i]) < 1e-9, `${a} is not ${b}`));

/** A block 10 × 20 × 30 with its six faces. */
const block = {
  points: [0, 0, 0, 10, 0, 0, 10, 20, 0, 0, 20, 0, 0, 0, 30, 10, 0, 30, 10, 20, 30, 0, 20, 30],
  triangles: [0, 3, 2, 0, 2, 1, 4, 5, 6, 4, 6, 7, 0, 1, 5, 0, 5, 4, 1, 2, 6, 1, 6, 5, 2, 3, 7, 2, 7, 6, 3, 0, 4, 3, 4, 7],
  faces: [0, 0, -1, 1, 2, 0, 0, 1, 2, 2, 0, -1, 0, 0, 2, 1, 0, 0, 1, 2, 0, 1, 0, 1, 2, -1, 0, 0, 1, 2],
  edges: [0, 1, 1, 2, 2, 3, 3, 0],
};
const piece = { part: 'front', lid: true, pose: [5, 0, 0, 0, 1, 0, -1, 0, 0, 0, 0, 1], closed: [0, 0, -2], apart: [0, -45, 70], mesh: block };

test('a piece stands where its pose, its closing and its share of the way apart put it', () => {
  near(through(place(piece, null, { apart: 0, open: 0 }), [1, 2, 3]), [5 - 2, 1, 3 - 2]);
  near(through(place(piece, null, { apart: 0.5, open: 0 }), [1, 2, 3]), [3, 1 - 22.5, 1 + 35]);
});

test('a lid turns about its pins and its box does not', () => {
  const lid = { kind: 'turn', at: [0, 184, 96], along: [-1, 0, 0], degrees: 90 };
  near(through(opened(lid, 1), [10, 184, 96]), [10, 184, 96]);
  // The front edge of the lid, 184 before the pins, stands 184 above them.
  near(through(opened(lid, 1), [10, 0, 96]), [10, 184, 280]);
  near(place({ ...piece, lid: false }, lid, { apart: 0, open: 1 }), place({ ...piece, lid: false }, lid, { apart: 0, open: 0 }));
  near(through(opened({ kind: 'lift', by: [0, 0, 80] }, 0.5), [1, 2, 3]), [1, 2, 43]);
});

test('a turn and its undoing cancel', () => {
  const there = turn([3, 1, 4], [0.6, 0, 0.8], 50);
  const back = turn([3, 1, 4], [0.6, 0, 0.8], -50);
  near(times(there, back), moved([0, 0, 0]));
});

test('corners are shared out to triangles with the normal and finish of their face', () => {
  const { position, normal, coat } = faces(block);
  assert.equal(position.length, 36 * 3);
  for (let i = 0; i < 36; i += 3) {
    const at = (k) => [...position.slice(3 * (i + k), 3 * (i + k) + 3)];
    const [a, b, c] = [at(0), at(1), at(2)];
    const [u, v] = [b.map((x, k) => x - a[k]), c.map((x, k) => x - a[k])];
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const long = Math.hypot(...n);
    near(n.map((x) => x / long), [...normal.slice(3 * i, 3 * i + 3)]);
  }
  assert.deepEqual([...coat.slice(0, 18)], [...Array(6).fill(1), ...Array(6).fill(2), ...Array(6).fill(0)]);
  const { from, to } = lines(block);
  assert.deepEqual([...from.slice(0, 3), ...to.slice(0, 3)], [0, 0, 0, 10, 0, 0]);
});

test('a section is closed and goes once round', () => {
  const cut = section(block.points, block.triangles, moved([0, 0, 0]), [0, 0, 1, 12]);
  const { from, to } = ends(cut);
  let long = 0;
  for (let i = 0; i < from.length; i += 3) {
    assert.equal(from[i + 2], 12);
    long += Math.hypot(from[i] - to[i], from[i + 1] - to[i + 1]);
  }
  assert.ok(Math.abs(long - 60) < 1e-4, `${long}`);
  assert.equal(section(block.points, block.triangles, moved([0, 0, 0]), [0, 0, 1, 31]).length, 0);
  // Through corners and edges too.
  assert.ok(section(block.points, block.triangles, moved([0, 0, 0]), [0, 0, 1, 0]).every(Number.isFinite));
});

test('a cut takes its share from its side', () => {
  const box = { low: [0, 0, 0], high: [100, 50, 40] };
  assert.equal(cutPlane('', 0.5, box), null);
  const off = (plane, p) => plane[0] * p[0] + plane[1] * p[1] + plane[2] * p[2] - plane[3];
  assert.ok(off(cutPlane('front', 0.5, box), [0, 24, 0]) > 0 && off(cutPlane('front', 0.5, box), [0, 26, 0]) < 0);
  assert.ok(off(cutPlane('right', 0.25, box), [76, 0, 0]) > 0 && off(cutPlane('right', 0.25, box), [74, 0, 0]) < 0);
  assert.ok(off(cutPlane('top', 1, box), [0, 0, 1]) > 0);
});

test('edges that are cut away come to the cut, those cut through go', () => {
  const plane = cutPlane('front', 0.5, { low: [0, 0, 0], high: [100, 50, 40] });
  const place = (from, to) => ({ from, to, out: [0, 0, -1] });
  const got = left([place([0, 0, 0], [100, 0, 0]), place([0, 50, 0], [100, 50, 0]), place([0, 0, 0], [0, 50, 0])], plane);
  assert.deepEqual(got.map((e) => e.from[1]), [25, 50]);
  assert.deepEqual(left([place([0, 0, 0], [100, 0, 0])], plane), [], 'nothing of it is left');
  near(kept([3, 0, 1], plane), [3, 25, 1]);
  near(kept([3, 40, 1], plane), [3, 40, 1]);
});

test('what stands where is held by a block', () => {
  const scene = { pieces: [{ ...piece, lid: false }], lid: null };
  assert.deepEqual(around(cloud(scene, { apart: 0, open: 0 })), { low: [-15, 0, -2], high: [5, 10, 28] });
  assert.ok(around([]).low.every(Number.isFinite));
});

test('only dimensions that are true of the view are shown', () => {
  const size = (name, inside, closed) => ({ name, inside, closed, places: [] });
  const scene = { lid: {}, sizes: [size('outside length', false, false), size('outside height', false, true), size('inside length', true, false)] };
  const names = (state) => shown(scene, { apart: 0, open: 0, through: false, sizes: true, ...state }, null).map((s) => s.name);
  assert.deepEqual(names({}), ['outside length', 'outside height']);
  assert.deepEqual(names({ open: 1 }), ['outside length', 'inside length']);
  assert.deepEqual(names({ apart: 1 }), []);
  assert.deepEqual(names({ sizes: false }), []);
  assert.deepEqual(names({ through: true }), ['outside length', 'outside height', 'inside length']);
});

test('same numbers are told from changed ones', () => {
  assert.ok(same([1, 2], new Float32Array([1, 2])));
  assert.ok(!same([1, 2], [1, 3]) && !same([1], [1, 2]));
});
