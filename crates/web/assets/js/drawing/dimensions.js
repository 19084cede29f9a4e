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
/** Places along an inside edge that are looked at. */
const SAMPLES = [0.06, 0.5, 0.94];

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
  const [wide, tall] = [text.length * TALL * 0.31 + 8, TALL * 0.62 + 2];
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
 * One dimension at one of its edges, or nothing if it would not be read there.
 * @param {any} size @param {any} edge @param {number} tier @param {(p: number[]) => Point} project
 * @returns {Placed | null}
 */
function candidate(size, edge, tier, project) {
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
  const at = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  return { a, b, from, to, at, box: wordBox(at, size.text), text: size.text, name: size.name, on };
}

/** How far a line's own words and line run into what is placed already. @param {Placed} one @param {Placed[]} placed */
const clash = (one, placed) =>
  placed.some((p) => overlap(one.box, p.box) || crosses(one.a, one.b, p.box) || crosses(p.a, p.b, one.box));

/**
 * Places dimensions: each at the clearest of its edges.
 * @param {any[]} sizes what to place @param {Point[]} around the box's corners on the screen
 * @param {(p: number[]) => Point} project @param {{width: number, height: number}} canvas
 * @param {(p: number[]) => boolean} seen whether a point of the box is in view
 * @returns {Placed[]}
 */
export function placeAll(sizes, around, project, canvas, seen) {
  const outline = hull(around);
  /** @type {Placed[]} */
  const placed = [];
  for (const size of sizes) {
    /** @type {{one: Placed, score: number}[]} */
    const able = [];
    for (const edge of size.places) {
      for (const [step, tier] of TIERS.entries()) {
        const one = candidate(size, edge, tier, project);
        if (!one) break;
        const { box } = one;
        if (box.left < 2 || box.top < 2 || box.right > canvas.width - 2 || box.bottom > canvas.height - 2) break;
        if (!one.on && outside(outline, one.at) < TALL * 0.8) continue;
        const views = size.inside ? SAMPLES.filter((t) => seen(edge.from.map((/** @type {number} */ v, /** @type {number} */ i) => v + (edge.to[i] - v) * t))).length : 0;
        // An inside edge behind wood would seem to lie on the outside.
        if (size.inside && views < 2) break;
        // Near edges first, below and to the right of the box before above and to its left; close before far.
        const score = (size.inside ? views * 300 : one.at.y * 0.6 + one.at.x * 0.25) + length(minus(one.b, one.a)) * 0.4 - step * 60;
        able.push({ one, score });
        if (one.on) break;
      }
    }
    able.sort((p, q) => q.score - p.score);
    const best = able.find(({ one }) => !clash(one, placed));
    if (best) placed.push(best.one);
  }
  return placed;
}
