// @ts-check
// Which dimensions are true of what is shown, and where the picture leaves room for them.

import { kept, left } from './cut.js';
import { hull, placeAll, roomFor } from './dimensions.js';
import { paper } from './view.js';

/** A box is together, or closed, below this share; its inside is seen above that one. */
const [TOGETHER, OPEN] = [0.02, 0.3];
/** Free space where there are no dimensions, a share of the picture. */
const BARE = { left: 0.04, right: 0.04, above: 0.04, below: 0.04 };

/**
 * The dimensions to show: none while the parts are out of their places; inside ones where the inside is seen.
 * @param {any} scene @param {import('./panel.js').State} state @param {import('./cut.js').Plane | null} plane
 * @returns {any[]}
 */
export function shown(scene, { apart, open, through, sizes }, plane) {
  if (!sizes || apart > TOGETHER) return [];
  const inside = open > OPEN || plane !== null || through || !scene.lid;
  return scene.sizes
    .filter((/** @type {any} */ s) => (open < TOGETHER || !s.closed) && (!s.inside || inside))
    .map((/** @type {any} */ s) => ({ ...s, places: left(s.places, plane) }));
}

/**
 * Dimensions on the screen, clear of the box and of one another.
 * @param {{scene: any, state: import('./panel.js').State, plane: import('./cut.js').Plane | null, points: import('./view.js').Vec[],
 *  sight: import('./view.js').Sight, shot: import('./view.js').Frame, size: {width: number, height: number},
 *  seen: (p: number[]) => boolean}} drawing
 */
export function measured({ scene, state, plane, points, sight, shot, size, seen }) {
  const sizes = shown(scene, state, plane);
  if (!sizes.length) return [];
  const { right, up } = paper(sight);
  const scale = size.height / (2 * shot.half);
  const project = (/** @type {number[]} */ p) => {
    const [x, y] = [right, up].map((axis) => axis.reduce((sum, a, i) => sum + a * (p[i] - shot.center[i]), 0) * scale);
    return { x: size.width / 2 + x, y: size.height / 2 - y };
  };
  const outline = hull(points.map((p) => project(kept(p, plane))));
  return placeAll(sizes, outline, project, size, (p) => state.through || seen(p));
}

/** The free space that dimensions need. @param {any} scene @param {import('./panel.js').State} state @param {{width: number, height: number}} size */
export function marginFor(scene, { sizes, apart }, { width, height }) {
  if (!sizes || apart > TOGETHER) return BARE;
  const { beside, below } = roomFor(scene.sizes);
  return { left: 0.05, right: Math.min(0.4, beside / width), above: 0.05, below: Math.min(0.3, below / height) };
}
