// @ts-check
// Keeps the screen on while a card is looked at, where the browser can.

import { get, set } from "./keep.js";

/**
 * @param {HTMLButtonElement | null} button
 * @returns {boolean} whether this browser can
 */
export function awake(button) {
  if (!button || !("wakeLock" in navigator)) return false;
  /** @type {WakeLockSentinel | null} */
  let lock = null;
  const show = () => button.setAttribute("aria-pressed", String(get("awake") !== "off" && lock !== null));
  const hold = async () => {
    if (get("awake") === "off" || document.hidden || lock) return;
    try {
      lock = await navigator.wakeLock.request("screen");
      lock.addEventListener("release", () => {
        lock = null;
        show();
      });
    } catch {
      // The system may refuse, to spare its battery; the next press or return asks again.
      lock = null;
    }
    show();
  };
  button.hidden = false;
  button.addEventListener("click", async () => {
    set("awake", lock ? "off" : "on");
    if (lock) await lock.release();
    else await hold();
    show();
  });
  document.addEventListener("visibilitychange", () => void hold());
  void hold();
  return true;
}
