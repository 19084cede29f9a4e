// @ts-check
// From the server's surfaces to the graphics card's arrays. Pure functions.

/**
 * Flat-shaded triangles: three corners each, the face's normal and finish at every corner.
 * @param {{points: number[], triangles: number[], faces: number[]}} mesh
 */
export function faces({ points, triangles, faces: flat }) {
  const count = triangles.length;
  const position = new Float32Array(3 * count);
  const normal = new Float32Array(3 * count);
  const coat = new Float32Array(count);
  for (let i = 0; i < count; i++) {
    const at = 3 * triangles[i];
    position[3 * i] = points[at];
    position[3 * i + 1] = points[at + 1];
    position[3 * i + 2] = points[at + 2];
  }
  let corner = 0;
  for (let f = 0; f + 4 < flat.length; f += 5) {
    const end = Math.min(count, corner + 3 * flat[f + 4]);
    for (; corner < end; corner++) {
      normal[3 * corner] = flat[f];
      normal[3 * corner + 1] = flat[f + 1];
      normal[3 * corner + 2] = flat[f + 2];
      coat[corner] = flat[f + 3];
    }
  }
  return { position, normal, coat };
}

/** Both ends of every line. @param {{points: number[], edges: number[]}} mesh */
export function lines({ points, edges }) {
  const count = edges.length / 2;
  const from = new Float32Array(3 * count);
  const to = new Float32Array(3 * count);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < 3; k++) {
      from[3 * i + k] = points[3 * edges[2 * i] + k];
      to[3 * i + k] = points[3 * edges[2 * i + 1] + k];
    }
  }
  return { from, to };
}

/** Segments of six numbers as both ends. @param {number[]} segments */
export function ends(segments) {
  const count = segments.length / 6;
  const from = new Float32Array(3 * count);
  const to = new Float32Array(3 * count);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < 3; k++) {
      from[3 * i + k] = segments[6 * i + k];
      to[3 * i + k] = segments[6 * i + 3 + k];
    }
  }
  return { from, to };
}

/** Whether two lists hold the same numbers. @param {ArrayLike<number>} a @param {ArrayLike<number>} b */
export function same(a, b) {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}
