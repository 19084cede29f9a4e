// @ts-check
// Clocks by arithmetic alone: a clock is the moment it was started and how long it runs, so a reload, a locked screen or
// a sleeping tablet takes nothing from it.

/**
 * @typedef {object} Clock
 * @property {string} id one of its own over all boxes
 * @property {string} name such as "Open time"
 * @property {string} title the card's title
 * @property {string} box the box's address
 * @property {string} boxName the box's name
 * @property {string} card the card's number when it was started
 * @property {"limit" | "wait"} kind whether more time does harm
 * @property {number} seconds how long it runs
 * @property {number} started when, in milliseconds since 1970
 */

/**
 * @typedef {object} Reading
 * @property {number} left whole seconds left; 0 when it is up
 * @property {number} over whole seconds past its end
 * @property {boolean} up whether its time is up
 */

/**
 * How a clock stands.
 * @param {Clock} clock
 * @param {number} now milliseconds since 1970
 * @returns {Reading}
 */
export function read(clock, now) {
  // A tablet's clock may be set back; no clock runs longer than it was set to.
  const gone = Math.max(0, now - clock.started);
  const rest = clock.seconds * 1000 - gone;
  // Rounded up, so that the first second shows whole and 0 means up.
  return rest > 0
    ? { left: Math.ceil(rest / 1000), over: 0, up: false }
    : { left: 0, over: Math.floor((gone - clock.seconds * 1000) / 1000), up: true };
}

/**
 * Seconds as on a clock's face: 4:05, 1:02:09, and days in words.
 * @param {number} seconds
 * @returns {string}
 */
export function face(seconds) {
  const whole = Math.max(0, Math.floor(seconds));
  const two = (/** @type {number} */ n) => String(n).padStart(2, "0");
  const [days, hours, minutes] = [Math.floor(whole / 86400), Math.floor((whole % 86400) / 3600), Math.floor((whole % 3600) / 60)];
  if (days >= 3) return `${days} d ${hours} h`;
  const all = hours + 24 * days;
  return all > 0 ? `${all}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`;
}

/**
 * What a clock says.
 * @param {Clock} clock
 * @param {Reading} reading
 * @returns {string}
 */
export function words(clock, reading) {
  if (!reading.up) return face(reading.left);
  if (clock.kind === "limit") return `over by ${face(reading.over)}`;
  return reading.over < 60 ? "time is up" : `up since ${face(reading.over)}`;
}

/** Seconds before the end of a limit at which it is said that it ends. */
const LAST_CALL = 60;

/**
 * What has to be said aloud between two looks at a clock; nothing most of the time.
 * @param {Clock} clock
 * @param {Reading} before
 * @param {Reading} now
 * @returns {string}
 */
export function call(clock, before, now) {
  if (!before.up && now.up) {
    return clock.kind === "limit" ? `${clock.name} is over: ${clock.title}.` : `${clock.name}: time is up. ${clock.title}.`;
  }
  const last = clock.kind === "limit" && clock.seconds > 2 * LAST_CALL;
  if (last && before.left > LAST_CALL && !now.up && now.left <= LAST_CALL) return `${clock.name}: one minute left.`;
  return "";
}

/**
 * Clocks as they were kept; what is no clock is left out.
 * @param {string | null} text
 * @returns {Clock[]}
 */
export function clocks(text) {
  /** @type {unknown} */
  let kept;
  try {
    kept = JSON.parse(text ?? "[]");
  } catch {
    return [];
  }
  if (!Array.isArray(kept)) return [];
  return kept.filter(
    (c) =>
      c !== null && typeof c === "object" && typeof c.id === "string" && typeof c.name === "string" &&
      Number.isFinite(c.seconds) && c.seconds > 0 && Number.isFinite(c.started),
  );
}

/**
 * The clocks in the order in which they end.
 * @param {Clock[]} all
 * @returns {Clock[]}
 */
export function byEnd(all) {
  const end = (/** @type {Clock} */ c) => c.started + c.seconds * 1000;
  return [...all].sort((a, b) => end(a) - end(b) || (a.id < b.id ? -1 : 1));
}
