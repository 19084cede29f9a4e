// @ts-check
// The materials of the drawing: wood, its cut, ink. One set of shared values, set once, seen by all.

import {
  AlwaysDepth, AlwaysStencilFunc, BackSide, Color, DoubleSide, EqualStencilFunc, FrontSide, GreaterDepth, KeepStencilOp,
  LessEqualDepth, Matrix4, ReplaceStencilOp, ShaderMaterial, SRGBColorSpace, Vector2, Vector3, Vector4,
} from '../../vendor/three/three.js';
import { SPECKLES, speckle } from './speckle.js';
import { FACE_FRAGMENT, FACE_VERTEX, LINE_FRAGMENT, LINE_VERTEX } from './shaders.js';

/** A plane that cuts nothing away. */
const NOTHING = [0, 0, 1, 1e9];
const GROWTH = { ring: 0, diffuse: 1, soft: 2, even: 3 };

/** An sRGB color for the shaders. @param {string} hex */
export const color = (hex) => new Color().setStyle(hex, SRGBColorSpace);

/** Values that all materials of one drawing share. */
export function sharedValues() {
  return {
    speckle: { value: speckle() },
    finished: { value: 1 },
    opacity: { value: 1 },
    shine: { value: new Vector2() },
    plane: { value: new Vector4(...NOTHING) },
    toward: { value: new Vector3(0, -1, 0) },
    lamp: { value: new Vector3() },
    screen: { value: new Vector2(1, 1) },
    lift: { value: 0 },
    ink: { value: new Color(0) },
    accent: { value: new Color(0) },
  };
}

/** @typedef {ReturnType<typeof sharedValues>} Shared */

/** The plane that a cut takes, or none. @param {Shared} shared @param {readonly number[] | null} plane */
export function setPlane(shared, plane) {
  shared.plane.value.set(...(plane ?? NOTHING));
}

/** The wood of one piece, its faces and its cut; they share their values. @param {Shared} shared */
export function woodMaterials(shared) {
  const own = {
    bare: { value: new Color() }, outside: { value: new Color() }, inside: { value: new Color() },
    logX: { value: new Vector4() }, logY: { value: new Vector4() }, logZ: { value: new Vector4() },
    ring: { value: new Vector4(1, 0, 3, 0) }, ray: { value: new Vector4(0, 0, 1, 0) },
    marked: { value: 0 }, back: { value: new Matrix4() },
  };
  const { speckle: block, finished, opacity, shine, plane, toward, lamp, accent } = shared;
  const uniforms = { ...own, speckle: block, finished, opacity, shine, plane, toward, lamp, accent };
  const common = {
    uniforms, vertexShader: FACE_VERTEX, fragmentShader: FACE_FRAGMENT, premultipliedAlpha: true,
    stencilWrite: true, stencilFunc: AlwaysStencilFunc, stencilZPass: ReplaceStencilOp,
    // The depth is laid down before: each point is painted once.
    depthWrite: false,
  };
  const size = { SPECKLES: `${SPECKLES}.0` };
  const faces = new ShaderMaterial({ ...common, side: FrontSide, stencilRef: 0, defines: size });
  // Where wood touches wood, the far side of what is cut lies in the near side of what it touches, and must win.
  const cap = new ShaderMaterial({
    ...common, side: BackSide, stencilRef: 1, defines: { ...size, CUT: 1, CAP: 1 }, polygonOffset: true, polygonOffsetFactor: -1, polygonOffsetUnits: -4,
  });
  return { own, faces, cap };
}

/** @typedef {ReturnType<typeof woodMaterials>} Wood */

/** Gives a piece its wood. @param {Wood} wood @param {any} scene @param {any} piece */
export function setWood({ own }, scene, piece) {
  const { tones, figure } = scene.woods[piece.wood];
  own.bare.value.copy(color(tones.bare));
  own.outside.value.copy(color(tones.outside));
  own.inside.value.copy(color(tones.inside));
  own.logX.value.set(...piece.log.slice(0, 4));
  own.logY.value.set(...piece.log.slice(4, 8));
  own.logZ.value.set(...piece.log.slice(8, 12));
  own.ring.value.set(figure.ring, figure.contrast, GROWTH[/** @type {keyof typeof GROWTH} */ (figure.growth)] ?? 3, figure.stripe);
  own.ray.value.set(figure.pores, figure.fleck, figure.fleck_long, piece.ply);
}

/** Seen through or not, cut or not. @param {Wood} wood @param {{through: boolean, cut: boolean}} look */
export function setLook({ faces }, { through, cut }) {
  faces.transparent = through;
  faces.depthFunc = through ? AlwaysDepth : LessEqualDepth;
  setCut(faces, cut);
}

/** Only what is cut asks every point whether it is there: the card is quicker where it need not. @param {any} material @param {boolean} cut */
export function setCut(material, cut) {
  if (cut === 'CUT' in material.defines) return;
  if (cut) material.defines.CUT = 1;
  else delete material.defines.CUT;
  material.needsUpdate = true;
}

/** How strongly each kind of line is drawn. */
const STRENGTH = { seen: 0.86, hidden: 0.5, cut: 1, marked: 1, markedHidden: 1 };
/** Kinds of lines. @typedef {keyof typeof STRENGTH} Kind */

/** Lines of a kind; hidden ones are those behind wood. @param {Shared} shared @param {Kind} kind */
export function ink(shared, kind) {
  const { plane, screen, lift } = shared;
  return new ShaderMaterial({
    uniforms: {
      plane, screen, lift, ink: kind.startsWith('marked') ? shared.accent : shared.ink,
      opacity: { value: STRENGTH[kind] }, wide: { value: 1 }, dash: { value: 0 },
    },
    vertexShader: LINE_VERTEX, fragmentShader: LINE_FRAGMENT, transparent: true, premultipliedAlpha: true,
    depthWrite: false, side: DoubleSide, depthFunc: kind.toLowerCase().endsWith('hidden') ? GreaterDepth : LessEqualDepth,
  });
}

/** Depth alone: of the faces where they are seen through, and of the cut's plane where wood is cut. @param {Shared} shared */
export function depthMaterials(shared) {
  const { plane, toward, lamp } = shared;
  const fragmentShader = /* glsl */ `
    precision highp float;
    uniform vec4 plane;
    varying vec3 vWorld;
    void main() {
      #ifdef CUT
      if (dot(plane.xyz, vWorld) > plane.w) discard;
      #endif
      gl_FragColor = vec4(0.0);
    }`;
  const common = { uniforms: { plane, toward, lamp }, vertexShader: FACE_VERTEX, fragmentShader, colorWrite: false };
  const faces = new ShaderMaterial({ ...common, side: FrontSide, defines: {} });
  const cap = new ShaderMaterial({ ...common, side: BackSide, defines: { CUT: 1 }, polygonOffset: true, polygonOffsetFactor: -1, polygonOffsetUnits: -4 });
  const sheet = new ShaderMaterial({
    ...common, defines: {}, side: DoubleSide, depthFunc: AlwaysDepth,
    stencilWrite: true, stencilFunc: EqualStencilFunc, stencilRef: 1, stencilZPass: KeepStencilOp,
  });
  return { faces, cap, sheet };
}
