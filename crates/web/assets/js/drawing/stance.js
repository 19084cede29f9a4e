// @ts-check
// Where each piece stands: apart, open, closed. Pure functions on the scene's own numbers.

/** @typedef {import('./view.js').Vec} Vec */
/** @typedef {{apart: number, open: number}} Stance shares from 0 to 1 */
/** @typedef {number[]} Matrix sixteen numbers, column after column */

/** @type {Matrix} */
export const SAME = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];

/** A move. @param {readonly number[]} by @returns {Matrix} */
export const moved = (by) => [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, by[0], by[1], by[2], 1];

/** One matrix after another: `times(a, b)` does b first. @param {Matrix} a @param {Matrix} b @returns {Matrix} */
export function times(a, b) {
  const out = new Array(16).fill(0);
  for (let c = 0; c < 4; c++) for (let r = 0; r < 4; r++) for (let k = 0; k < 4; k++) out[4 * c + r] += a[4 * k + r] * b[4 * c + k];
  return out;
}

/** A turn about an axis through a point. @param {Vec} at @param {Vec} along unit @param {number} degrees @returns {Matrix} */
export function turn(at, along, degrees) {
  const [x, y, z] = along;
  const [s, c] = [Math.sin((degrees * Math.PI) / 180), Math.cos((degrees * Math.PI) / 180)];
  const k = 1 - c;
  const spin = [
    c + x * x * k, z * s + x * y * k, -y * s + x * z * k, 0,
    -z * s + x * y * k, c + y * y * k, x * s + y * z * k, 0,
    y * s + x * z * k, -x * s + y * z * k, c + z * z * k, 0,
    0, 0, 0, 1,
  ];
  return times(moved(at), times(spin, moved(at.map((v) => -v))));
}

/** The lid's place when opened by a share. @param {any} lid the scene's lid @param {number} share @returns {Matrix} */
export function opened(lid, share) {
  if (!lid || share <= 0) return SAME;
  if (lid.kind === 'turn') return turn(lid.at, lid.along, lid.degrees * share);
  return moved(lid.by.map((/** @type {number} */ v) => v * share));
}

/** From a piece's part frame to where it stands. @param {any} piece @param {any} lid @param {Stance} stance @returns {Matrix} */
export function place(piece, lid, { apart, open }) {
  const [ox, oy, oz, ux, uy, uz, vx, vy, vz, wx, wy, wz] = piece.pose;
  const pose = [ux, uy, uz, 0, vx, vy, vz, 0, wx, wy, wz, 0, ox, oy, oz, 1];
  const by = [0, 1, 2].map((i) => piece.closed[i] + piece.apart[i] * apart);
  const there = times(moved(by), pose);
  return piece.lid ? times(opened(lid, open), there) : there;
}

/** A point through a matrix. @param {Matrix} m @param {readonly number[]} p @returns {Vec} */
export function through(m, p) {
  return /** @type {Vec} */ ([0, 1, 2].map((r) => m[r] * p[0] + m[4 + r] * p[1] + m[8 + r] * p[2] + m[12 + r]));
}

/** Every corner of what stands in a stance. @param {any} scene @param {Stance} stance @returns {Vec[]} */
export function cloud(scene, stance) {
  /** @type {Vec[]} */
  const all = [];
  for (const piece of scene.pieces) {
    const m = place(piece, scene.lid, stance);
    const at = piece.mesh.points;
    for (let i = 0; i < at.length; i += 3) all.push(through(m, [at[i], at[i + 1], at[i + 2]]));
  }
  return all;
}

/** The least block around points. @param {Vec[]} points @returns {{low: Vec, high: Vec}} */
export function around(points) {
  const low = /** @type {Vec} */ ([Infinity, Infinity, Infinity]);
  const high = /** @type {Vec} */ ([-Infinity, -Infinity, -Infinity]);
  for (const p of points) {
    for (let k = 0; k < 3; k++) {
      low[k] = Math.min(low[k], p[k]);
      high[k] = Math.max(high[k], p[k]);
    }
  }
  return points.length ? { low, high } : { low: [0, 0, 0], high: [0, 0, 0] };
}

/**
 * Where a plane cuts a surface: segments, six numbers each.
 * @param {number[]} points u, v, w of each corner @param {number[]} triangles @param {Matrix} m where the surface stands
 * @param {readonly [number, number, number, number]} plane normal and distance
 */
export function section(points, triangles, m, plane) {
  const count = points.length / 3;
  const at = new Array(count);
  const off = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    at[i] = through(m, [points[3 * i], points[3 * i + 1], points[3 * i + 2]]);
    const d = plane[0] * at[i][0] + plane[1] * at[i][1] + plane[2] * at[i][2] - plane[3];
    // A corner on the plane counts as beyond it, so that every crossing is between two corners.
    off[i] = Math.abs(d) < 1e-6 ? 1e-6 : d;
  }
  /** @type {number[]} */
  const out = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const ends = [];
    for (let k = 0; k < 3; k++) {
      const [a, b] = [triangles[t + k], triangles[t + ((k + 1) % 3)]];
      if (off[a] > 0 === off[b] > 0) continue;
      const s = off[a] / (off[a] - off[b]);
      ends.push(at[a].map((/** @type {number} */ v, /** @type {number} */ i) => v + (at[b][i] - v) * s));
    }
    if (ends.length === 2) out.push(...ends[0], ...ends[1]);
  }
  return out;
}
