// @ts-check
// Which part lies under a point of the canvas, and whether a point of the box is in view.

import { Raycaster, Vector2, Vector3 } from '../../vendor/three/three.js';

/** @param {import('./stage.js').Stage} stage */
export function makePick(stage) {
  const caster = new Raycaster();
  const { shared, pieces } = stage;
  const there = (/** @type {Vector3} */ p) => {
    const { x, y, z, w } = shared.plane.value;
    return x * p.x + y * p.y + z * p.z <= w + 1e-6;
  };
  const meshes = () => pieces.all.flatMap((one) => (one.cap.visible ? [one.faces, one.cap] : [one.faces]));
  return {
    /** The part's id, or null. @param {number} x @param {number} y CSS pixels of the canvas */
    part(x, y) {
      const { width, height } = stage.size;
      caster.setFromCamera(new Vector2((2 * x) / width - 1, 1 - (2 * y) / height), stage.camera);
      // Where the near side is cut away, the far side of the same wood lies behind the cut.
      const hit = caster.intersectObjects(meshes(), false).find((h) => there(h.point));
      return hit ? /** @type {string} */ (hit.object.userData.part) : null;
    },
    /** @param {readonly number[]} p */
    seen(p) {
      const toward = shared.toward.value;
      const from = new Vector3(p[0], p[1], p[2]).addScaledVector(toward, 0.5);
      caster.set(from, toward);
      // Far sides count too: a point within wood meets no near one.
      return !caster.intersectObjects(pieces.all.flatMap((one) => [one.faces, one.cap]), false).some((h) => there(h.point));
    },
  };
}
