// @ts-check
// Beside the saw: puts the parts of the page together.

import { awake } from "./awake.js";
import { cards } from "./cards.js";
import { keeping, wakeWhenBack } from "./keeping.js";
import { sound } from "./sound.js";
import { ticks } from "./ticks.js";
import { timers } from "./timers.js";

const root = /** @type {HTMLElement | null} */ (document.querySelector("[data-saw]"));
if (root) start(root);

/** @param {HTMLElement} root */
function start(root) {
  const find = (/** @type {string} */ name) => /** @type {HTMLElement | null} */ (root.querySelector(`[${name}]`));
  const aloud = (/** @type {string} */ words) => {
    const place = find("data-say");
    if (place) place.textContent = words;
  };
  const tell = (/** @type {string} */ words) => {
    const place = find("data-tell");
    const says = place?.querySelector("p");
    if (!place || !says) return;
    says.textContent = words;
    place.hidden = false;
  };
  find("data-tell")?.querySelector("button")?.addEventListener("click", () => {
    const place = find("data-tell");
    if (place) place.hidden = true;
  });
  const link = (/** @type {boolean} */ connected, /** @type {number} */ waiting) => {
    const place = find("data-link");
    if (!place) return;
    const many = waiting === 1 ? "1 tick waits" : `${waiting} ticks wait`;
    const words = connected
      ? waiting > 0 ? `${many} to be sent.` : ""
      : `Not connected: ticks are kept here.${waiting > 0 ? ` ${many} to be sent.` : ""}`;
    if (place.textContent !== words) place.textContent = words;
    place.hidden = words === "";
    if (!connected && waiting > 0) void wakeWhenBack();
  };
  const other = () => {
    const place = find("data-changed");
    if (place) place.hidden = false;
  };
  root.classList.add("scripted");
  cards(root);
  timers(root, aloud);
  sound(/** @type {HTMLButtonElement | null} */ (find("data-sound")));
  awake(/** @type {HTMLButtonElement | null} */ (find("data-awake")));
  const { send } = ticks(root, { link, tell, other });
  void keeping(root, find("data-keeping"), send);
}
