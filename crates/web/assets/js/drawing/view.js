// @ts-check
// Where the eye stands: plain views, framing, turning. Pure functions on plain numbers.

/** @typedef {[number, number, number]} Vec */
/** @typedef {{around: number, above: number}} Sight degrees walked to the right, degrees risen */
/** @typedef {{center: Vec, half: number}} Frame what the picture is centered on, half its height in mm */

const RAD = Math.PI / 180;
/** Straight from above the up direction would be lost; this near to it is still seen as straight. */
export const STEEPEST = 89.99;

/** The plain views and the usual one. @type {Record<string, Sight>} */
export const VIEWS = {
  corner: { around: 35, above: 25 },
  front: { around: 0, above: 0 },
  side: { around: 90, above: 0 },
  top: { around: 0, above: STEEPEST },
};

/** Unit direction from the box to the eye. @param {Sight} sight @returns {Vec} */
export function toward({ around, above }) {
  const flat = Math.cos(above * RAD);
  return [Math.sin(around * RAD) * flat, -Math.cos(around * RAD) * flat, Math.sin(above * RAD)];
}

/** The sight of a direction from the box to the eye. @param {Vec} v @returns {Sight} */
export function sightOf([x, y, z]) {
  const flat = Math.hypot(x, y);
  const above = Math.atan2(z, flat) / RAD;
  const around = flat > 1e-9 ? Math.atan2(x, -y) / RAD : 0;
  return { around, above: Math.max(-STEEPEST, Math.min(STEEPEST, above)) };
}

/** The paper's axes for a sight: to the right and up. @param {Sight} sight @returns {{right: Vec, up: Vec}} */
export function paper({ around, above }) {
  const [s, c] = [Math.sin(around * RAD), Math.cos(around * RAD)];
  const rise = Math.sin(above * RAD);
  return { right: [c, s, 0], up: [-s * rise, c * rise, Math.cos(above * RAD)] };
}

/** The eight corners of a block. @param {Vec} low @param {Vec} high @returns {Vec[]} */
export function corners(low, high) {
  /** @type {Vec[]} */
  const all = [];
  for (const x of [low[0], high[0]]) for (const y of [low[1], high[1]]) for (const z of [low[2], high[2]]) all.push([x, y, z]);
  return all;
}

/** @param {readonly number[]} a @param {readonly number[]} b */
export const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** @typedef {{left: number, right: number, above: number, below: number}} Margin shares of the picture left free */

/**
 * The frame that holds points with a margin.
 * @param {Vec[]} points @param {Sight} sight @param {number} aspect width over height @param {Margin} margin
 * @returns {Frame}
 */
export function frame(points, sight, aspect, margin) {
  const { right, up } = paper(sight);
  const axes = [right, up, toward(sight)];
  const spans = axes.map((axis) => {
    let [least, most] = [Infinity, -Infinity];
    for (const p of points) {
      const at = dot(p, axis);
      least = Math.min(least, at);
      most = Math.max(most, at);
    }
    return points.length ? [least, most] : [-1, 1];
  });
  const [across, along] = spans.map(([least, most]) => (most - least) / 2);
  const free = { across: Math.max(0.1, 1 - margin.left - margin.right), along: Math.max(0.1, 1 - margin.above - margin.below) };
  const half = Math.max(along / free.along, across / free.across / Math.max(aspect, 0.01), 1);
  // The picture's middle lies off the box's middle by half of what one margin is wider than the other.
  const shift = [half * aspect * (margin.right - margin.left), half * (margin.above - margin.below), 0];
  const middle = spans.map(([least, most], i) => (least + most) / 2 + shift[i]);
  const center = /** @type {Vec} */ ([0, 1, 2].map((i) => axes.reduce((sum, axis, k) => sum + axis[i] * middle[k], 0)));
  return { center, half };
}

/** Nearest and farthest half height of the picture, mm. */
const [NEAREST, FARTHEST] = [4, 4000];

/**
 * The frame after the picture was pulled along.
 * @param {Frame} shot @param {Sight} sight @param {number} x @param {number} y CSS pixels, y down
 * @param {number} height of the picture, CSS pixels @returns {Frame}
 */
export function panned({ center, half }, sight, x, y, height) {
  const { right, up } = paper(sight);
  const scale = (2 * half) / height;
  return { center: /** @type {Vec} */ (center.map((v, i) => v + (up[i] * y - right[i] * x) * scale)), half };
}

/**
 * The frame after a zoom; the point under the hand stays under it, the middle where there is no hand.
 * @param {Frame} shot @param {Sight} sight @param {number} share below 1 is nearer
 * @param {number} x @param {number} y CSS pixels of the picture @param {{width: number, height: number}} size @returns {Frame}
 */
export function zoomed(shot, sight, share, x, y, { width, height }) {
  const half = Math.max(NEAREST, Math.min(FARTHEST, shot.half * share));
  const left = 1 - half / shot.half;
  const { center } = Number.isFinite(x) ? panned(shot, sight, (width / 2 - x) * left, (height / 2 - y) * left, height) : shot;
  return { center, half };
}

/** The sight after a turn, within what the eye can do. @param {Sight} sight @param {number} around @param {number} above */
export function turned(sight, around, above) {
  const risen = Math.max(-STEEPEST, Math.min(STEEPEST, sight.above + above));
  let walked = (sight.around + around) % 360;
  if (walked > 180) walked -= 360;
  if (walked <= -180) walked += 360;
  return { around: walked, above: risen };
}

/** A sight part of the way from one to another, the short way round. @param {Sight} a @param {Sight} b @param {number} share */
export function between(a, b, share) {
  let way = (b.around - a.around) % 360;
  if (way > 180) way -= 360;
  if (way < -180) way += 360;
  const eased = share * share * (3 - 2 * share);
  return { around: a.around + way * eased, above: a.above + (b.above - a.above) * eased };
}

/** A direction as the server's line drawing takes it. @param {Vec} v */
export const words = (v) => v.map((n) => Number(n.toFixed(4))).join(',');
