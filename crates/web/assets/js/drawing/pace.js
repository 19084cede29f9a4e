// @ts-check
// In time first, sharp when it rests: a slow card draws coarser while a hand moves the box.

/** Frames slower than this, milliseconds, are drawn coarser by this share; sharp again after this rest. */
const [SLOW, COARSE, REST] = [45, 0.5, 160];
/** So many slow frames in a row make a card slow, so many quick ones quick again: the first frame may be making ready. */
const [SLOWS, QUICKS] = [2, 8];

/** @param {() => void} rested draws once more when the hand rests @param {() => number} clock milliseconds */
export function makePace(rested, clock = () => performance.now()) {
  /** @type {any} */
  let resting = null;
  /** @type {number | null} */
  let last = null;
  let [slow, slows, quicks] = [false, 0, 0];
  const rest = () => {
    clearTimeout(resting);
    resting = null;
    last = null;
  };
  return {
    rest,
    /** Something moves. */
    stir() {
      clearTimeout(resting);
      resting = setTimeout(() => {
        rest();
        rested();
      }, REST);
    },
    /** The share of the screen's points to draw now, asked once a frame. */
    share() {
      if (resting === null) return 1;
      const now = clock();
      if (last !== null) {
        slows = now - last > SLOW ? slows + 1 : 0;
        quicks = now - last < SLOW / 2 ? quicks + 1 : 0;
        if (slows >= SLOWS) slow = true;
        else if (quicks >= QUICKS) slow = false;
      }
      last = now;
      return slow ? COARSE : 1;
    },
  };
}
