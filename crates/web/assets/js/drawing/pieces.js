// @ts-check
// The pieces of the box on the graphics card: made once, refilled when the box changes.

import { BufferAttribute, BufferGeometry, Group, InstancedBufferAttribute, InstancedBufferGeometry, Matrix4, Mesh } from '../../vendor/three/three.js';
import { depthMaterials, ink, setCut, setLook, setWood, woodMaterials } from './materials.js';
import { ends, faces, lines, same } from './mesh.js';
import { place, section } from './stance.js';

const STRIP = new Float32Array([0, -1, 0, 1, -1, 0, 0, 1, 0, 1, 1, 0]);
const STRIP_TRIANGLES = [0, 1, 2, 2, 1, 3];

/** Lines as strips on the screen. @param {{from: Float32Array, to: Float32Array}} arrays */
function lineGeometry(arrays) {
  const made = new InstancedBufferGeometry();
  made.setAttribute('position', new BufferAttribute(STRIP, 3));
  made.setIndex(STRIP_TRIANGLES);
  fillLines(made, arrays);
  return made;
}

/** @param {any} geometry @param {{from: Float32Array, to: Float32Array}} arrays */
function fillLines(geometry, arrays) {
  for (const name of /** @type {const} */ (['from', 'to'])) refill(geometry, name, arrays[name], 3, InstancedBufferAttribute);
  geometry.instanceCount = arrays.from.length / 3;
}

/** Puts numbers into an attribute, into its own buffer where they fit. */
function refill(/** @type {any} */ geometry, /** @type {string} */ name, /** @type {Float32Array} */ values, /** @type {number} */ size, Kind = BufferAttribute) {
  const has = geometry.getAttribute(name);
  if (has && has.array.length === values.length) {
    if (same(has.array, values)) return;
    has.array.set(values);
    has.needsUpdate = true;
  } else {
    geometry.setAttribute(name, new Kind(values, size));
  }
}

/** @param {any} geometry @param {any} mesh */
function fillFaces(geometry, mesh) {
  const arrays = faces(mesh);
  const before = geometry.getAttribute('position');
  refill(geometry, 'position', arrays.position, 3);
  refill(geometry, 'normal', arrays.normal, 3);
  refill(geometry, 'coat', arrays.coat, 1);
  if (before !== geometry.getAttribute('position') || before.needsUpdate !== false) {
    geometry.boundingSphere = null;
    geometry.boundingBox = null;
  }
}

/** All pieces of a drawing. @param {import('./materials.js').Shared} shared */
export function makePieces(shared) {
  const group = new Group();
  const kinds = { seen: ink(shared, 'seen'), hidden: ink(shared, 'hidden'), marked: ink(shared, 'marked'), markedHidden: ink(shared, 'markedHidden'), cut: ink(shared, 'cut') };
  const depth = depthMaterials(shared);
  /** @type {any[]} */
  let all = [];
  /** @type {any} */
  let scene = null;
  let stance = { apart: 0, open: 0 };
  let [through, cut] = [false, false];
  const outline = new Mesh(lineGeometry(ends([])), kinds.cut);
  outline.frustumCulled = false;
  outline.renderOrder = 4;
  group.add(outline);

  function make() {
    const wood = woodMaterials(shared);
    const geometry = new BufferGeometry();
    const edges = lineGeometry(ends([]));
    const mesh = (/** @type {any} */ shape, /** @type {any} */ material, /** @type {number} */ order) => {
      const made = new Mesh(shape, material);
      made.frustumCulled = false;
      made.matrixAutoUpdate = false;
      made.renderOrder = order;
      group.add(made);
      return made;
    };
    return {
      wood, geometry, edges, piece: null, marked: false,
      depth: mesh(geometry, depth.faces, 0), capDepth: mesh(geometry, depth.cap, 0), faces: mesh(geometry, wood.faces, 1), cap: mesh(geometry, wood.cap, 1),
      hidden: mesh(edges, kinds.hidden, 3), seen: mesh(edges, kinds.seen, 4),
    };
  }

  const meshes = (/** @type {any} */ one) => [one.depth, one.capDepth, one.faces, one.cap, one.hidden, one.seen];

  function drop(/** @type {any} */ one) {
    for (const mesh of meshes(one)) group.remove(mesh);
    for (const thing of [one.geometry, one.edges, one.wood.faces, one.wood.cap]) thing.dispose();
  }

  function show() {
    for (const one of all) {
      setLook(one.wood, { through, cut });
      one.hidden.visible = through || one.marked;
      one.cap.visible = one.capDepth.visible = cut && !through;
    }
    setCut(depth.faces, cut);
    outline.visible = cut;
  }

  function stand() {
    const plane = /** @type {any} */ (shared.plane.value.toArray());
    /** @type {number[]} */
    const segments = [];
    for (const one of all) {
      const m = place(one.piece, scene.lid, stance);
      for (const mesh of meshes(one)) mesh.matrix.fromArray(m), (mesh.matrixWorldNeedsUpdate = true);
      one.wood.own.back.value.copy(new Matrix4().fromArray(m).invert());
      if (cut) segments.push(...section(one.piece.mesh.points, one.piece.mesh.triangles, m, plane));
    }
    fillLines(outline.geometry, ends(segments));
  }

  return {
    group,
    lines: kinds,
    /** The sheet that gives the cut its depth takes this. */
    sheet: depth.sheet,
    get all() { return all; },
    /** Another box, or this one changed. @param {any} next */
    load(next) {
      scene = next;
      shared.shine.value.set(next.shine[0], next.shine[1]);
      while (all.length > next.pieces.length) drop(all.pop());
      while (all.length < next.pieces.length) all.push(make());
      next.pieces.forEach((/** @type {any} */ piece, /** @type {number} */ i) => {
        const one = all[i];
        one.piece = piece;
        fillFaces(one.geometry, piece.mesh);
        fillLines(one.edges, lines(piece.mesh));
        setWood(one.wood, next, piece);
        for (const mesh of meshes(one)) mesh.userData.part = piece.part;
      });
      show();
      stand();
    },
    /** @param {{apart: number, open: number}} next */
    stand(next) { stance = next; stand(); },
    /** @param {{through: boolean, cut: boolean}} next */
    look(next) { ({ through, cut } = next); show(); },
    /** @param {string[]} parts */
    mark(parts) {
      for (const one of all) {
        one.marked = parts.includes(one.piece.part);
        one.wood.own.marked.value = one.marked ? 1 : 0;
        one.seen.material = one.marked ? kinds.marked : kinds.seen;
        one.hidden.material = one.marked ? kinds.markedHidden : kinds.hidden;
        one.seen.renderOrder = one.marked ? 5 : 4;
      }
      show();
    },
    dispose() {
      while (all.length) drop(all.pop());
      for (const thing of [outline.geometry, ...Object.values(kinds), depth.faces, depth.cap, depth.sheet]) thing.dispose();
    },
  };
}
