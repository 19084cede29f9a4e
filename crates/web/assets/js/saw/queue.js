// @ts-check
// Ticks by arithmetic alone: presses that wait to be sent, how they and the server's list stand together, and what is
// left when some have been taken.

/**
 * @typedef {object} Press
 * @property {string} box the box's address
 * @property {string} plan digest of what was set
 * @property {string} setup the card
 * @property {string} part the part or step
 * @property {string} id made here, never twice
 * @property {boolean} on set or taken away
 * @property {number} at seconds since 1970, by this device's clock
 */

/**
 * @typedef {object} Standing how a part stands
 * @property {string} plan
 * @property {string} setup
 * @property {string} part
 * @property {boolean} on
 * @property {string} by who pressed
 * @property {number} at
 */

/**
 * @typedef {object} Outcome what the server says to a list
 * @property {string[]} kept
 * @property {{ id: string, why: string }[]} refused
 * @property {{ id: string, on: boolean, by: string, at: number }[]} overruled
 */

/** The most presses sent at once. */
export const MOST = 200;

/**
 * One key for a part of a card of a plan.
 * @param {{ plan: string, setup: string, part: string }} of
 * @returns {string}
 */
export function place(of) {
  return JSON.stringify([of.plan, of.setup, of.part]);
}

/**
 * How everything stands: the server's list, and over it what waits here, where that was pressed no earlier. The last
 * press counts, whoever pressed it; of presses in one second the one that waits here.
 * @param {Standing[]} known
 * @param {Press[]} waiting
 * @param {string} box
 * @returns {Map<string, Standing>}
 */
export function merge(known, waiting, box) {
  /** @type {Map<string, Standing>} */
  const all = new Map();
  for (const tick of known) {
    const have = all.get(place(tick));
    if (!have || tick.at >= have.at) all.set(place(tick), tick);
  }
  for (const press of waiting) {
    if (press.box !== box) continue;
    const have = all.get(place(press));
    if (!have || press.at >= have.at) {
      all.set(place(press), { plan: press.plan, setup: press.setup, part: press.part, on: press.on, by: "", at: press.at });
    }
  }
  return all;
}

/**
 * The standing list with presses written into it that the server has taken.
 * @param {Standing[]} known
 * @param {Press[]} taken
 * @param {string} box
 * @returns {Standing[]}
 */
export function settle(known, taken, box) {
  return [...merge(known, taken, box).values()];
}

/**
 * What still waits after an answer: neither kept nor refused for good.
 * @param {Press[]} waiting
 * @param {Outcome} outcome
 * @returns {Press[]}
 */
export function left(waiting, outcome) {
  const done = new Set([...outcome.kept, ...outcome.refused.map((r) => r.id)]);
  return waiting.filter((p) => !done.has(p.id));
}

/**
 * Presses as they were kept; what is no press is left out.
 * @param {string | null} text
 * @returns {Press[]}
 */
export function presses(text) {
  return list(text).filter(
    (p) => ["box", "plan", "setup", "part", "id"].every((k) => typeof p[k] === "string" && p[k] !== "") && good(p),
  );
}

/**
 * Standings as they were kept or sent; what is none is left out.
 * @param {string | null} text
 * @returns {Standing[]}
 */
export function standings(text) {
  return list(text).filter((p) => ["plan", "setup", "part", "by"].every((k) => typeof p[k] === "string") && good(p));
}

/**
 * @param {any} tick
 * @returns {boolean}
 */
function good(tick) {
  return typeof tick.on === "boolean" && Number.isFinite(tick.at);
}

/**
 * @param {string | null} text
 * @returns {any[]}
 */
function list(text) {
  try {
    const kept = JSON.parse(text ?? "[]");
    return Array.isArray(kept) ? kept.filter((p) => p !== null && typeof p === "object") : [];
  } catch {
    return [];
  }
}

/**
 * What is said about presses that a later one overruled or that were refused.
 * @param {Outcome} outcome
 * @param {Press[]} sent
 * @returns {string}
 */
export function told(outcome, sent) {
  const part = (/** @type {string} */ id) => sent.find((p) => p.id === id)?.part ?? "a tick";
  const said = outcome.overruled.map(
    (o) => `${part(o.id)}: pressed later by ${o.by}, which counts: ${o.on ? "ticked" : "not ticked"}.`,
  );
  return said.concat(outcome.refused.map((r) => `${part(r.id)}: not taken, ${r.why}.`)).join(" ");
}
