// @ts-check
// Clocks on the cards and in the bar above every card: several at once, kept over reloads and locked screens.

import { byEnd, call, clocks, face, read, words } from "./clock.js";
import { get, onOther, set } from "./keep.js";
import { ring } from "./sound.js";

/** @typedef {import("./clock.js").Clock} Clock */

/** Milliseconds for which a stopped clock can be put back. */
const REGRET = 10000;

/**
 * @param {HTMLElement} root
 * @param {(words: string) => void} aloud
 */
export function timers(root, aloud) {
  const bar = /** @type {HTMLElement} */ (root.querySelector("[data-running]"));
  const title = document.title;
  /** @type {Map<string, import("./clock.js").Reading>} */
  const before = new Map();
  /** @type {{ clock: Clock, until: number } | null} */
  let stopped = null;

  const all = () => byEnd(clocks(get("clocks")));
  const keep = (/** @type {Clock[]} */ list) => {
    set("clocks", JSON.stringify(list));
    look();
  };
  const start = (/** @type {Clock} */ clock) => {
    stopped = null;
    keep([...all().filter((c) => c.id !== clock.id), clock]);
    aloud(`${clock.name} runs: ${face(clock.seconds)}.`);
  };
  const stop = (/** @type {string} */ id) => {
    const clock = all().find((c) => c.id === id);
    if (!clock) return;
    stopped = read(clock, Date.now()).up ? null : { clock, until: Date.now() + REGRET };
    keep(all().filter((c) => c.id !== id));
    aloud(`${clock.name} is stopped.`);
  };

  const chip = (/** @type {Clock} */ clock) => {
    const item = document.createElement("div");
    item.className = "chip";
    item.dataset.clock = clock.id;
    const [name, time, button] = [document.createElement("span"), document.createElement("b"), document.createElement("button")];
    const whose = clock.box === root.dataset.saw ? clock.title : `${clock.title}, ${clock.boxName}`;
    name.textContent = `${clock.name} · ${whose}`;
    button.type = "button";
    button.addEventListener("click", () => stop(clock.id));
    item.append(name, time, button);
    return item;
  };

  const paintBar = (/** @type {Clock[]} */ list) => {
    const shown = /** @type {HTMLElement[]} */ ([...bar.querySelectorAll("[data-clock]")]);
    if (shown.map((s) => s.dataset.clock).join("\n") !== list.map((c) => c.id).join("\n")) {
      bar.replaceChildren(...list.map(chip));
    }
    if (stopped && !bar.querySelector("[data-regret]")) {
      const back = document.createElement("button");
      back.type = "button";
      back.dataset.regret = "";
      back.textContent = `Put ${stopped.clock.name.toLowerCase()} back`;
      back.addEventListener("click", () => stopped && start(stopped.clock));
      bar.append(back);
    } else if (!stopped) {
      bar.querySelector("[data-regret]")?.remove();
    }
    bar.hidden = list.length === 0 && !stopped;
    list.forEach((clock, i) => {
      const reading = read(clock, Date.now());
      const item = /** @type {HTMLElement} */ (bar.children[i]);
      put(item.querySelector("b"), words(clock, reading));
      put(item.querySelector("button"), reading.up ? "Done" : "Stop");
      item.querySelector("button")?.setAttribute("aria-label", `${reading.up ? "Done" : "Stop"}: ${clock.name}, ${clock.title}`);
      item.classList.toggle("up", reading.up);
      item.classList.toggle("limit", clock.kind === "limit");
    });
  };

  const paintCards = (/** @type {Clock[]} */ list) => {
    for (const row of /** @type {NodeListOf<HTMLElement>} */ (root.querySelectorAll("[data-timer]"))) {
      const clock = list.find((c) => c.id === idOf(root, row));
      const reading = clock && read(clock, Date.now());
      put(row.querySelector("[data-left]"), clock && reading ? words(clock, reading) : face(Number(row.dataset.seconds)));
      const button = row.querySelector("[data-toggle]");
      put(button, !reading ? "Start" : reading.up ? "Done" : "Stop");
      button?.setAttribute("aria-label", `${button.textContent}: ${row.dataset.name}`);
      row.classList.toggle("runs", Boolean(reading));
      row.classList.toggle("up", Boolean(reading?.up));
    }
  };

  /** One look at all clocks. */
  function look() {
    const list = all();
    if (stopped && Date.now() > stopped.until) stopped = null;
    let up = 0;
    for (const clock of list) {
      const reading = read(clock, Date.now());
      const said = call(clock, before.get(clock.id) ?? reading, reading);
      before.set(clock.id, reading);
      if (reading.up) up += 1;
      if (said) {
        aloud(said);
        if (reading.up) ring();
      }
    }
    paintBar(list);
    paintCards(list);
    const head = up > 0 ? `(${up} up) ${title}` : title;
    if (document.title !== head) document.title = head;
  }

  root.addEventListener("click", (event) => {
    const button = event.target instanceof Element ? event.target.closest("[data-toggle]") : null;
    const row = /** @type {HTMLElement | null} */ (button?.closest("[data-timer]") ?? null);
    const card = /** @type {HTMLElement | null} */ (button?.closest("[data-card]") ?? null);
    if (!row || !card) return;
    const id = idOf(root, row);
    if (all().some((c) => c.id === id)) return stop(id);
    start({
      id,
      name: row.dataset.name ?? "",
      title: card.querySelector("h2")?.textContent ?? "",
      box: root.dataset.saw ?? "",
      boxName: root.dataset.name ?? "",
      card: card.dataset.card ?? "",
      kind: row.dataset.kind === "limit" ? "limit" : "wait",
      seconds: Number(row.dataset.seconds),
      started: Date.now(),
    });
  });
  for (const button of /** @type {NodeListOf<HTMLElement>} */ (root.querySelectorAll("[data-toggle]"))) button.hidden = false;
  onOther("clocks", look);
  document.addEventListener("visibilitychange", look);
  setInterval(look, 500);
  look();
}

/**
 * A clock's name over all boxes, cards and plans.
 * @param {HTMLElement} root
 * @param {HTMLElement} row
 */
function idOf(root, row) {
  const card = /** @type {HTMLElement | null} */ (row.closest("[data-card]"));
  return [root.dataset.saw, card?.dataset.key, card?.dataset.plan, row.dataset.timer].join("/");
}

/**
 * Text that is only written when it changes, so that a screen reader and the layout are left in peace.
 * @param {Element | null} element
 * @param {string} text
 */
function put(element, text) {
  if (element && element.textContent !== text) element.textContent = text;
}
