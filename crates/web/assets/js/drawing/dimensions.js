// @ts-check
// Where dimensions stand on the screen: clear of the box and of one another. Pure functions.

/** @typedef {{x: number, y: number}} Point */
/** @typedef {{left: number, top: number, right: number, bottom: number}} Box */
/** @typedef {{a: Point, b: Point, from: Point, to: Point, at: Point, box: Box, text: string, name: string, on: boolean}} Placed
 *  a, b: the ends of the dimension line; from, to: where its extension lines start; at: the middle of its words;
 *  on: it lies on the box and not beside it */

/** Height of the words and the least length of a line, CSS pixels. */
export const TALL = 17;
const SHORTEST = 26;
/** How far dimension lines stand off, nearest first. */
const TIERS = [30, 56, 84];
/** Words keep this far off the box, CSS pixels. */
const GAP = 5;
/** Places along an inside edge that are looked at. */
const SAMPLES = [0.06, 0.5, 0.94];
/** Where words stand along their line, the middle if they can. */
const SHARES = [0.5, 0.3, 0.7];
/** Ways kept for each dimension, and steps of the search among them. */
const [MOST, TRIES] = [12, 4000];

const minus = (/** @type {Point} */ p, /** @type {Point} */ q) => ({ x: p.x - q.x, y: p.y - q.y });
const along = (/** @type {Point} */ p, /** @type {Point} */ d, /** @type {number} */ t) => ({ x: p.x + d.x * t, y: p.y + d.y * t });
const length = (/** @type {Point} */ p) => Math.hypot(p.x, p.y);

/** The outline of points, counterclockwise (y down: clockwise to the eye). @param {Point[]} points @returns {Point[]} */
export function hull(points) {
  const sorted = [...points].sort((p, q) => p.x - q.x || p.y - q.y);
  const cross = (/** @type {Point} */ o, /** @type {Point} */ p, /** @type {Point} */ q) => (p.x - o.x) * (q.y - o.y) - (p.y - o.y) * (q.x - o.x);
  const half = (/** @type {Point[]} */ list) => {
    /** @type {Point[]} */
    const out = [];
    for (const p of list) {
      while (out.length > 1 && cross(out[out.length - 2], out[out.length - 1], p) <= 0) out.pop();
      out.push(p);
    }
    out.pop();
    return out;
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

/** How far a point lies outside an outline; negative inside. @param {Point[]} outline @param {Point} p */
export function outside(outline, p) {
  let most = -Infinity;
  outline.forEach((a, i) => {
    const d = minus(outline[(i + 1) % outline.length], a);
    const n = length(d);
    if (n > 1e-9) most = Math.max(most, ((p.x - a.x) * d.y - (p.y - a.y) * d.x) / n);
  });
  return most;
}

/** Whether two boxes share more than an edge. @param {Box} p @param {Box} q */
export const overlap = (p, q) => p.left < q.right && q.left < p.right && p.top < q.bottom && q.top < p.bottom;

/** The box of words around a point. @param {Point} at @param {string} text */
export function wordBox(at, text) {
  const [wide, tall] = [text.length * TALL * 0.31 + 4, TALL * 0.62 + 2];
  return { left: at.x - wide, top: at.y - tall, right: at.x + wide, bottom: at.y + tall };
}

/** Whether a segment runs through a box. @param {Point} p @param {Point} q @param {Box} box */
export function crosses(p, q, box) {
  let [t0, t1] = [0, 1];
  const d = minus(q, p);
  for (const [v, s, low, high] of /** @type {const} */ ([[p.x, d.x, box.left, box.right], [p.y, d.y, box.top, box.bottom]])) {
    if (Math.abs(s) < 1e-9) {
      if (v <= low || v >= high) return false;
      continue;
    }
    const [near, far] = [(low - v) / s, (high - v) / s].sort((x, y) => x - y);
    t0 = Math.max(t0, near);
    t1 = Math.min(t1, far);
  }
  return t0 < t1;
}

/**
 * One dimension at one of its edges, its words a share of the way along; nothing if it would not be read there.
 * @param {any} size @param {any} edge @param {number} tier @param {number} share @param {(p: number[]) => Point} project
 * @returns {Placed | null}
 */
function candidate(size, edge, tier, share, project) {
  const [from, to] = [project(edge.from), project(edge.to)];
  const line = minus(to, from);
  const long = length(line);
  if (long < SHORTEST) return null;
  const normal = { x: -line.y / long, y: line.x / long };
  let shift = { x: 0, y: 0 };
  const on = edge.out.every((/** @type {number} */ v) => v === 0);
  if (!on) {
    const out = minus(project(edge.from.map((/** @type {number} */ v, /** @type {number} */ i) => v + 100 * edge.out[i])), from);
    const clear = (out.x * normal.x + out.y * normal.y) / Math.max(length(out), 1e-9);
    // Extension lines at a flat angle would run along the dimension line.
    if (length(out) < 4 || Math.abs(clear) < 0.45) return null;
    shift = along({ x: 0, y: 0 }, out, tier / Math.abs(clear) / length(out));
  }
  const [a, b] = [along(from, shift, 1), along(to, shift, 1)];
  const at = along(a, minus(b, a), share);
  if (!on && Math.abs(normal.x) > 0.9) {
    // Words wider than the line stands off move out past it, until they clear the box.
    const half = wordBox(at, size.text).right - at.x;
    at.x += Math.sign(shift.x) * Math.max(0, half + GAP - Math.abs(shift.x));
  }
  return { a, b, from, to, at, box: wordBox(at, size.text), text: size.text, name: size.name, on };
}

/** Whether words or line run into what is placed already. @param {Placed} one @param {Placed[]} placed */
const clash = (one, placed) =>
  placed.some((p) => overlap(one.box, p.box) || crosses(one.a, one.b, p.box) || crosses(p.a, p.b, one.box));

/** How far a box stays outside an outline. @param {Point[]} outline @param {Box} box */
const clearOf = (outline, { left, right, top, bottom }) =>
  Math.min(...[left, right].flatMap((x) => [top, bottom].map((y) => outside(outline, { x, y }))));

/** @param {Box} box @param {{width: number, height: number}} canvas */
const within = (box, { width, height }) => box.left > 2 && box.top > 2 && box.right < width - 2 && box.bottom < height - 2;

/** Points along an edge. @param {any} edge @param {number} share */
const onEdge = (edge, share) => edge.from.map((/** @type {number} */ v, /** @type {number} */ i) => v + (edge.to[i] - v) * share);

/**
 * All ways that a dimension could stand, the best first.
 * @param {any} size @param {Point[]} outline @param {(p: number[]) => Point} project
 * @param {{width: number, height: number}} canvas @param {(p: number[]) => boolean} seen
 */
function ways(size, outline, project, canvas, seen) {
  /** @type {{one: Placed, score: number}[]} */
  const able = [];
  for (const edge of size.places) {
    const on = edge.out.every((/** @type {number} */ v) => v === 0);
    // An edge behind wood would seem to lie on the wood before it.
    if (on && !SAMPLES.every((share) => seen(onEdge(edge, share)))) continue;
    for (const [step, tier] of (on ? [0] : TIERS).entries()) {
      for (const [turn, share] of SHARES.entries()) {
        const one = candidate(size, edge, tier, share, project);
        if (!one || !within(one.box, canvas)) continue;
        if (!on && clearOf(outline, one.box) < 2) continue;
        // Near edges first, below and to the right of the box before above and to its left; close before far.
        const score = (on ? 0 : one.at.y * 0.6 + one.at.x * 0.25) + length(minus(one.b, one.a)) * 0.4 - step * 60 - turn * 25;
        able.push({ one, score });
      }
    }
  }
  return able.sort((p, q) => q.score - p.score).slice(0, MOST).map(({ one }) => one);
}

/**
 * Places dimensions: each at the clearest of its edges, as many as stand clear of one another.
 * @param {any[]} sizes what to place @param {Point[]} outline of all that stands, on the screen
 * @param {(p: number[]) => Point} project @param {{width: number, height: number}} canvas
 * @param {(p: number[]) => boolean} seen whether a point of the box is in view
 * @returns {Placed[]}
 */
export function placeAll(sizes, outline, project, canvas, seen) {
  const all = sizes.map((size) => ways(size, outline, project, canvas, seen)).filter((list) => list.length);
  /** @type {Placed[]} */
  let best = [];
  let tries = TRIES;
  const next = (/** @type {number} */ i, /** @type {Placed[]} */ placed) => {
    if (placed.length > best.length) best = placed;
    if (i >= all.length || best.length === all.length || tries-- <= 0) return;
    if (placed.length + all.length - i <= best.length) return;
    for (const one of all[i]) if (!clash(one, placed)) next(i + 1, [...placed, one]);
    next(i + 1, placed);
  };
  next(0, []);
  return best;
}

/** The room that dimensions need to the right of the box and below it, CSS pixels. @param {any[]} sizes */
export function roomFor(sizes) {
  const half = Math.max(0, ...sizes.filter((s) => !s.inside).map((s) => wordBox({ x: 0, y: 0 }, s.text).right));
  return { beside: Math.max(TIERS[0] + half, 2 * half + GAP) + 4, below: TIERS[0] + 2 * TALL };
}
