// @ts-check
// Canvas, camera and paper: draws when asked, never in a loop of its own.

import { BufferAttribute, BufferGeometry, Mesh, OrthographicCamera, Scene, Vector3, WebGLRenderer } from '../../vendor/three/three.js';
import { color, sharedValues } from './materials.js';
import { makePieces } from './pieces.js';
import { paper, toward } from './view.js';

/** Widths of lines on the screen, CSS pixels. */
const WIDE = { seen: 1.15, hidden: 0.9, marked: 3.2, markedHidden: 2, cut: 2 };

/** The canvas's graphics card, or null where there is none to be had. @param {HTMLCanvasElement} canvas */
export const cardOf = (canvas) => canvas.getContext('webgl2', { alpha: true, antialias: true, depth: true, stencil: true });

/** @param {HTMLCanvasElement} canvas @param {WebGL2RenderingContext} context */
export function makeStage(canvas, context) {
  const renderer = new WebGLRenderer({ canvas, context });
  renderer.setClearAlpha(0);
  renderer.sortObjects = true;
  const shared = sharedValues();
  const pieces = makePieces(shared);
  const world = new Scene();
  world.add(pieces.group);
  const sheet = new Mesh(new BufferGeometry(), pieces.sheet);
  sheet.geometry.setAttribute('position', new BufferAttribute(new Float32Array([-1, -1, 0, 1, -1, 0, 1, 1, 0, -1, 1, 0]), 3));
  sheet.geometry.setIndex([0, 1, 2, 0, 2, 3]);
  sheet.frustumCulled = false;
  sheet.renderOrder = 2;
  world.add(sheet);
  const camera = new OrthographicCamera(-1, 1, 1, -1, 0, 1);
  camera.up.set(0, 0, 1);
  let size = { width: 1, height: 1, ratio: 1 };

  return {
    renderer, shared, pieces, camera,
    get size() { return size; },
    /** @param {number} width @param {number} height CSS pixels */
    resize(width, height) {
      size = { width: Math.max(1, width), height: Math.max(1, height), ratio: 0 };
      this.sharpen(1);
    },
    /** Draws a share of the screen's points in each direction: below 1 is coarser and quicker. @param {number} share */
    sharpen(share) {
      const ratio = Math.min(window.devicePixelRatio || 1, 2) * share;
      if (ratio === size.ratio) return;
      size = { ...size, ratio };
      renderer.setPixelRatio(ratio);
      renderer.setSize(size.width, size.height, false);
      shared.screen.value.set(size.width * ratio, size.height * ratio);
    },
    /** Puts the eye. @param {import('./view.js').Sight} sight @param {import('./view.js').Frame} frame @param {number} radius of all that stands, mm */
    look(sight, frame, radius) {
      const aspect = size.width / size.height;
      const [away, { up, right }] = [toward(sight), paper(sight)];
      Object.assign(camera, { left: -frame.half * aspect, right: frame.half * aspect, top: frame.half, bottom: -frame.half, near: 0, far: 4 * radius });
      camera.position.set(...frame.center).addScaledVector(new Vector3(...away), 2 * radius);
      camera.up.set(...up);
      camera.lookAt(new Vector3(...frame.center));
      camera.updateProjectionMatrix();
      camera.updateMatrixWorld();
      shared.toward.value.set(...away);
      // The lamp stands over the reader's left shoulder.
      shared.lamp.value.set(...frame.center).addScaledVector(new Vector3(...away), 2.2 * radius)
        .addScaledVector(new Vector3(...right), -2.0 * radius).addScaledVector(new Vector3(...up), 2.6 * radius);
      // A line lies on the arris of two faces: a pixel and a half nearer keeps it whole on both.
      shared.lift.value = (1.5 * 2 * frame.half) / size.height / (2 * radius);
    },
    /** The sheet at the cut, as large as all that stands. @param {readonly number[] | null} plane @param {number} radius */
    cut(plane, radius) {
      sheet.visible = plane !== null;
      if (!plane) return;
      const n = new Vector3(plane[0], plane[1], plane[2]);
      sheet.position.copy(n).multiplyScalar(plane[3]);
      sheet.scale.setScalar(8 * radius);
      sheet.lookAt(sheet.position.clone().add(n));
    },
    /** @param {{line: string, mark: string}} colors */
    paint({ line, mark }) {
      shared.ink.value.copy(color(line));
      shared.accent.value.copy(color(mark));
    },
    draw() {
      for (const [kind, wide] of Object.entries(WIDE)) {
        const { uniforms } = pieces.lines[/** @type {keyof typeof WIDE} */ (kind)];
        uniforms.wide.value = wide * size.ratio;
        uniforms.dash.value = /idden$/.test(kind) ? 5 * size.ratio : 0;
      }
      renderer.render(world, camera);
    },
    dispose() {
      pieces.dispose();
      shared.speckle.value.dispose();
      sheet.geometry.dispose();
      renderer.dispose();
    },
  };
}

/** @typedef {ReturnType<typeof makeStage>} Stage */
