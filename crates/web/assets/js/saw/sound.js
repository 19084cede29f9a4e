// @ts-check
// A sound when a time is up, for who wants one: three short tones made here, no file.

import { get, set } from "./keep.js";

/** @type {AudioContext | null} */
let audio = null;

/**
 * The button that turns it on and off.
 * @param {HTMLButtonElement | null} button
 */
export function sound(button) {
  if (!button || !("AudioContext" in window)) return;
  const show = () => button.setAttribute("aria-pressed", String(get("sound") === "on"));
  button.hidden = false;
  button.addEventListener("click", () => {
    set("sound", get("sound") === "on" ? "off" : "on");
    show();
    ring();
  });
  // A browser lets a page sound only after a press.
  document.addEventListener("pointerdown", () => get("sound") === "on" && wake(), { passive: true });
  show();
}

/** @returns {AudioContext} */
function wake() {
  audio ??= new AudioContext();
  void audio.resume();
  return audio;
}

/** Rings, if that is wanted. */
export function ring() {
  if (get("sound") !== "on") return;
  const out = wake();
  for (const at of [0, 0.3, 0.6]) {
    const [tone, gain] = [out.createOscillator(), out.createGain()];
    tone.frequency.value = 880;
    gain.gain.setValueAtTime(0.25, out.currentTime + at);
    gain.gain.exponentialRampToValueAtTime(0.001, out.currentTime + at + 0.22);
    tone.connect(gain).connect(out.destination);
    tone.start(out.currentTime + at);
    tone.stop(out.currentTime + at + 0.25);
  }
  navigator.vibrate?.([200, 100, 200]);
}
