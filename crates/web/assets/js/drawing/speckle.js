// @ts-check
// Random bytes in a block that repeats: what wood is roughened with. The same bytes every time.

import { Data3DTexture, LinearFilter, RedFormat, RepeatWrapping } from '../../vendor/three/three.js';

/** Bytes along each side of the block. */
export const SPECKLES = 64;

/** @param {number} count @returns {Uint8Array} */
export function bytes(count) {
  const made = new Uint8Array(count);
  let state = 0x9e3779b9;
  for (let i = 0; i < count; i++) {
    // Marsaglia's xorshift with 13, 17, 5.
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    made[i] = state >>> 24;
  }
  return made;
}

/** The block on the graphics card. */
export function speckle() {
  const made = new Data3DTexture(bytes(SPECKLES ** 3), SPECKLES, SPECKLES, SPECKLES);
  made.format = RedFormat;
  made.minFilter = made.magFilter = LinearFilter;
  made.wrapS = made.wrapT = made.wrapR = RepeatWrapping;
  made.needsUpdate = true;
  return made;
}
