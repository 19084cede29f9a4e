// Where the eye stands, and what the picture holds.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { VIEWS, between, corners, dot, frame, panned, paper, sightOf, toward, turned, words, zoomed } from '../../assets/js/drawing/view.js';

const near = (a, b, by = 1e-9) => a.forEach((v, i) => assert.ok(Math.abs(v - b[i]) < by, `${a} is not ${b}`));
const NONE = { left: 0, right: 0, above: 0, below: 0 };

test('the plain views look along the axes', () => {
  near(toward(VIEWS.front), [0, -1, 0]);
  near(toward(VIEWS.side), [1, 0, 0]);
  near(toward(VIEWS.top), [0, 0, 1], 1e-3);
  near(paper(VIEWS.front).right, [1, 0, 0]);
  near(paper(VIEWS.front).up, [0, 0, 1]);
  near(paper(VIEWS.top).up, [0, 1, 0], 1e-3);
});

test('right, up and toward are square to one another in every sight', () => {
  for (const around of [-170, -35, 0, 60, 179]) for (const above of [-89, -20, 0, 45, 89]) {
    const sight = { around, above };
    const { right, up } = paper(sight);
    const eye = toward(sight);
    near([dot(right, up), dot(right, eye), dot(up, eye), dot(up, up), dot(right, right)], [0, 0, 0, 1, 1]);
    const back = sightOf(eye);
    near([back.around, back.above], [around, above], 1e-6);
  }
});

test('a frame holds every point, and touches the outermost', () => {
  const points = corners([0, 0, 0], [286, 184, 96]);
  for (const sight of Object.values(VIEWS)) for (const aspect of [0.5, 1, 2]) {
    const { center, half } = frame(points, sight, aspect, NONE);
    const { right, up } = paper(sight);
    const away = (axis, p) => Math.abs(axis.reduce((s, a, i) => s + a * (p[i] - center[i]), 0));
    const widest = Math.max(...points.map((p) => away(right, p) / (half * aspect)));
    const tallest = Math.max(...points.map((p) => away(up, p) / half));
    assert.ok(widest <= 1 + 1e-9 && tallest <= 1 + 1e-9);
    near([Math.max(widest, tallest)], [1]);
  }
});

test('a margin stays free on its own side', () => {
  const points = corners([0, 0, 0], [100, 10, 10]);
  const { center, half } = frame(points, VIEWS.front, 2, { left: 0.1, right: 0.3, above: 0, below: 0 });
  // The box fills 60 % of the width, from 10 % to 70 %.
  near([half * 2 * 2 * 0.6], [100]);
  near([center[0] - half * 2 + 0.1 * half * 4], [0]);
});

test('nothing to show is no reason to fail', () => {
  const { center, half } = frame([], VIEWS.corner, 1, NONE);
  assert.ok([...center, half].every(Number.isFinite));
});

test('turning goes round and stops over the top', () => {
  assert.equal(turned({ around: 170, above: 0 }, 20, 0).around, -170);
  assert.ok(turned({ around: 0, above: 80 }, 0, 50).above < 90);
});

test('a swing takes the short way', () => {
  const half = between({ around: 170, above: 0 }, { around: -170, above: 0 }, 0.5);
  near([half.around], [180]);
});

test('a direction for the server is short', () => assert.equal(words([0.123456, -1, 0]), '0.1235,-1,0'));

test('the point under the hand stays under it', () => {
  const size = { width: 800, height: 600 };
  const shot = { center: [10, 20, 30], half: 100 };
  const at = (/** @type {any} */ one, x, y) => {
    const { right, up } = paper(VIEWS.corner);
    const scale = (2 * one.half) / size.height;
    return [right, up].map((axis, i) => dot(axis, one.center) + (i ? size.height / 2 - y : x - size.width / 2) * scale);
  };
  near(at(zoomed(shot, VIEWS.corner, 0.7, 620, 130, size), 620, 130), at(shot, 620, 130));
  near(zoomed(shot, VIEWS.corner, 0.7, NaN, NaN, size).center, shot.center);
  assert.ok(zoomed(shot, VIEWS.corner, 1e-9, NaN, NaN, size).half > 1, 'there is a nearest');
  const moved = panned(shot, VIEWS.corner, 30, 40, size.height);
  near(at(moved, 430, 340), at(shot, 400, 300));
});
