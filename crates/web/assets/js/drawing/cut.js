// @ts-check
// What a cut takes away, and what it does to edges and points. Pure functions.

/** @typedef {[number, number, number, number]} Plane normal and distance: what lies beyond is cut away */

/**
 * The plane of a cut, and what lies beyond it goes: normal and distance.
 * @param {import('./panel.js').State['side']} side @param {number} share @param {{low: readonly number[], high: readonly number[]}} block
 * @returns {Plane | null}
 */
export function cutPlane(side, share, { low, high }) {
  const at = (/** @type {number} */ axis, /** @type {number} */ s) => low[axis] + (high[axis] - low[axis]) * s;
  if (side === 'front') return [0, -1, 0, -at(1, share)];
  if (side === 'right') return [1, 0, 0, at(0, 1 - share)];
  if (side === 'top') return [0, 0, 1, at(2, 1 - share)];
  return null;
}

/** A point, brought to the cut if it lies beyond. @param {number[]} p @param {Plane | null} plane */
export function kept(p, plane) {
  const off = plane ? Math.max(0, plane[0] * p[0] + plane[1] * p[1] + plane[2] * p[2] - plane[3]) : 0;
  return plane && off > 0 ? p.map((v, i) => v - plane[i] * off) : p;
}

/**
 * The edges that a cut leaves; those it takes away whole come forward to the cut, where the section shows them.
 * @param {any[]} places @param {Plane | null} plane
 */
export function left(places, plane) {
  if (!plane) return places;
  const off = (/** @type {number[]} */ p) => plane[0] * p[0] + plane[1] * p[1] + plane[2] * p[2] - plane[3];
  const whole = places.filter((e) => off(e.from) < 0.01 && off(e.to) < 0.01);
  if (!whole.length) return [];
  const gone = places.filter((e) => off(e.from) >= 0.01 && Math.abs(off(e.from) - off(e.to)) < 0.01);
  const moved = gone.map((e) => {
    const on = (/** @type {number[]} */ p) => p.map((v, i) => v - plane[i] * off(e.from));
    return { ...e, from: on(e.from), to: on(e.to) };
  });
  return [...moved, ...whole];
}
