// @ts-check
// What this device keeps from one visit to the next. A browser may refuse to keep anything; the page then still works
// for as long as it stays open.

/** @type {Map<string, string>} */
const here = new Map();

/**
 * @param {string} key
 * @returns {string | null}
 */
export function get(key) {
  try {
    return here.get(key) ?? window.localStorage.getItem(`saw.${key}`);
  } catch {
    return null;
  }
}

/**
 * Keeps a text; says whether it will be there after a reload.
 * @param {string} key
 * @param {string} text
 * @returns {boolean}
 */
export function set(key, text) {
  try {
    window.localStorage.setItem(`saw.${key}`, text);
    here.delete(key);
    return true;
  } catch {
    here.set(key, text);
    return false;
  }
}

/**
 * Calls when another window of this browser has changed what is kept.
 * @param {string} key
 * @param {() => void} then
 */
export function onOther(key, then) {
  window.addEventListener("storage", (event) => {
    if (event.key === `saw.${key}` || event.key === null) then();
  });
}

/**
 * A name of its own: 128 random bits. `crypto.randomUUID` is not there on a page that came over plain HTTP from another
 * machine; this is.
 * @returns {string}
 */
export function fresh() {
  const bytes = window.crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
}
