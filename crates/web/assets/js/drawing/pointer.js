// @ts-check
// Mouse, pen, touch and keys on the drawing, told as turns, moves and zooms.

/**
 * @typedef {object} Hand
 * @property {(around: number, above: number) => void} turn degrees
 * @property {(x: number, y: number) => void} move CSS pixels, y down
 * @property {(share: number, x: number, y: number) => void} zoom below 1 is nearer, about a point of the canvas
 * @property {(x: number, y: number) => void} press a point of the canvas
 * @property {() => void} reset
 * @property {() => void} leave
 */

/** Degrees for a pixel of a drag, and for a press of an arrow. */
const [DRAG, STEP] = [0.4, 7.5];
/** A press that strays farther than this is a drag, CSS pixels. */
const STILL = 6;
/** One notch of a wheel, and one press of + or −. */
const NOTCH = 1.15;

/** What an arrow does, with and without shift. @param {string} key @param {boolean} shift @param {Hand} hand */
export function onKey(key, shift, hand) {
  /** @type {Record<string, [number, number]>} */
  const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
  const arrow = arrows[key];
  if (arrow && shift) hand.move(-40 * arrow[0], 40 * arrow[1]);
  else if (arrow) hand.turn(STEP * arrow[0], STEP * arrow[1]);
  else if (key === '+' || key === '=') hand.zoom(1 / NOTCH, NaN, NaN);
  else if (key === '-' || key === '_') hand.zoom(NOTCH, NaN, NaN);
  else if (key === '0' || key === 'Home') hand.reset();
  else if (key === 'Escape') hand.leave();
  else return false;
  return true;
}

/** The middle of some points and their distance from it. @param {{x: number, y: number}[]} points */
export function spread(points) {
  const x = points.reduce((s, p) => s + p.x, 0) / points.length;
  const y = points.reduce((s, p) => s + p.y, 0) / points.length;
  return { x, y, wide: points.reduce((s, p) => s + Math.hypot(p.x - x, p.y - y), 0) / points.length };
}

/** Listens until the signal ends. @param {HTMLElement} canvas @param {Hand} hand @param {AbortSignal} signal */
export function listen(canvas, hand, signal) {
  /** @type {Map<number, {x: number, y: number}>} */
  const down = new Map();
  let strayed = 0;
  let sliding = false;
  const at = (/** @type {PointerEvent | WheelEvent} */ e) => {
    const box = canvas.getBoundingClientRect();
    return { x: e.clientX - box.left, y: e.clientY - box.top };
  };
  const on = (/** @type {string} */ name, /** @type {(e: any) => void} */ act, options = {}) =>
    canvas.addEventListener(name, act, { signal, ...options });

  on('pointerdown', (e) => {
    if (down.size === 0) strayed = 0;
    sliding = e.button !== 0 || e.shiftKey;
    down.set(e.pointerId, at(e));
    canvas.setPointerCapture(e.pointerId);
  });
  on('pointermove', (e) => {
    const before = down.get(e.pointerId);
    if (!before) return;
    const now = at(e);
    const first = spread([...down.values()]);
    down.set(e.pointerId, now);
    const [dx, dy] = [now.x - before.x, now.y - before.y];
    strayed += Math.hypot(dx, dy);
    if (strayed < STILL) return;
    if (down.size > 1) {
      const next = spread([...down.values()]);
      hand.move(next.x - first.x, next.y - first.y);
      if (next.wide > 4 && first.wide > 4) hand.zoom(first.wide / next.wide, next.x, next.y);
    } else if (sliding) hand.move(dx, dy);
    else hand.turn(-DRAG * dx, DRAG * dy);
  });
  const up = (/** @type {PointerEvent} */ e) => {
    if (!down.delete(e.pointerId)) return;
    const { x, y } = at(e);
    if (e.type === 'pointerup' && strayed < STILL && down.size === 0 && !sliding) hand.press(x, y);
  };
  on('pointerup', up);
  on('pointercancel', up);
  on('contextmenu', (e) => e.preventDefault());
  on('wheel', (e) => {
    e.preventDefault();
    const { x, y } = at(e);
    const notches = Math.max(-3, Math.min(3, e.deltaY / (e.deltaMode === 1 ? 3 : 100)));
    hand.zoom(NOTCH ** notches, x, y);
  }, { passive: false });
  on('keydown', (e) => {
    if (!e.ctrlKey && !e.metaKey && !e.altKey && onKey(e.key, e.shiftKey, hand)) e.preventDefault();
  });
}
