// @ts-check
// Ticks on the cards: a press counts at once, waits here until the bench has it, and is never lost.

import { fresh, get, onOther, set } from "./keep.js";
import { left, merge, MOST, place, presses, settle, standings, told } from "./queue.js";

/** Milliseconds that an answer may take. */
const PATIENCE = 8000;
/** Milliseconds after which it is tried again while presses wait. */
const AGAIN = 20000;

/**
 * @param {HTMLElement} root
 * @param {{ link: (connected: boolean, waiting: number) => void, tell: (words: string) => void, other: (deck: string) => void }} say
 * @returns {{ send: () => Promise<void> }}
 */
export function ticks(root, say) {
  const box = root.dataset.saw ?? "";
  const token = document.querySelector('meta[name="forgery"]')?.getAttribute("content") ?? "";
  const queue = () => presses(get("queue"));
  let known = lastKnown(root, box);
  let connected = navigator.onLine;
  /** @type {Promise<void> | null} */
  let sending = null;
  let again = false;

  const paint = () => {
    const stands = merge(known, queue(), box);
    const isOn = (/** @type {HTMLElement} */ card, /** @type {HTMLElement} */ button) => {
      const of = { plan: card.dataset.plan ?? "", setup: card.dataset.key ?? "", part: button.dataset.part ?? "" };
      return stands.get(place(of))?.on ?? false;
    };
    let done = 0;
    let next = 0;
    for (const card of /** @type {NodeListOf<HTMLElement>} */ (root.querySelectorAll("[data-card]"))) {
      const buttons = /** @type {HTMLElement[]} */ ([...card.querySelectorAll("[data-part]")]);
      let on = 0;
      for (const button of buttons) {
        const is = isOn(card, button);
        button.setAttribute("aria-pressed", String(is));
        if (is) on += 1;
      }
      const all = buttons.length > 0 && on === buttons.length;
      card.classList.toggle("done", all);
      if (all) done += 1;
      else if (next === 0) next = Number(card.dataset.card);
      const state = root.querySelector(`.card-list [data-to="${card.dataset.card}"] [data-state]`);
      if (state && (on > 0 || !state.textContent?.includes("earlier"))) {
        state.textContent = all ? "done" : on > 0 ? `${on} of ${buttons.length}` : "";
      }
    }
    const count = root.querySelector("[data-done-count]");
    if (count) count.textContent = String(done);
    const onward = /** @type {HTMLAnchorElement | null} */ (root.querySelector("[data-go-on]"));
    if (onward) {
      onward.hidden = next === 0;
      onward.href = `/boxes/${box}/saw/${next}`;
      onward.textContent = `Go on with card ${next}`;
    }
    say.link(connected, queue().length);
  };

  const wait = (/** @type {import("./queue.js").Press[]} */ waiting) => {
    if (!set("queue", JSON.stringify(waiting))) {
      say.tell("This browser keeps nothing: leave this page open until the ticks are sent.");
    }
  };

  const ask = async (/** @type {string} */ path, /** @type {RequestInit} */ how) => {
    const end = new AbortController();
    const timer = setTimeout(() => end.abort(), PATIENCE);
    try {
      return await fetch(path, { ...how, credentials: "same-origin", cache: "no-store", signal: end.signal });
    } finally {
      clearTimeout(timer);
    }
  };

  const deliver = async () => {
    for (let sent = queue().slice(0, MOST); sent.length > 0; sent = queue().slice(0, MOST)) {
      const answer = await ask("/ticks", {
        method: "POST",
        headers: { "content-type": "application/json", "x-forgery": token, "x-clock": String(now()) },
        body: JSON.stringify(sent),
      });
      if (!answer.ok) {
        say.tell(`The bench did not take the ticks (${answer.status}); they are kept here. Load this page again.`);
        return;
      }
      const outcome = await answer.json();
      const waiting = left(queue(), outcome);
      if (waiting.length === queue().length) return;
      const refused = new Set(outcome.refused.map((/** @type {{ id: string }} */ r) => r.id));
      known = settle(known, sent.filter((p) => !refused.has(p.id)), box);
      wait(waiting);
      const words = told(outcome, sent);
      if (words) say.tell(words);
    }
  };

  const round = async () => {
    try {
      await deliver();
      const answer = await ask(`/boxes/${encodeURIComponent(box)}/ticks`, {});
      connected = true;
      if (answer.ok) {
        const list = await answer.json();
        known = standings(JSON.stringify(list.ticks));
        set(`known.${box}`, JSON.stringify({ now: list.now, ticks: known }));
        if (list.deck !== root.dataset.deck) say.other(list.deck);
      }
    } catch {
      connected = false;
    }
    paint();
  };

  const send = () => {
    again = sending !== null;
    sending ??= round().finally(() => {
      sending = null;
      // Something was pressed while an answer was waited for.
      if (again) void send();
    });
    return sending;
  };

  root.addEventListener("submit", (event) => {
    const button = /** @type {SubmitEvent} */ (event).submitter;
    const card = button instanceof HTMLElement ? /** @type {HTMLElement | null} */ (button.closest("[data-card]")) : null;
    if (!button || !card || button.dataset.part === undefined) return;
    event.preventDefault();
    const on = button.getAttribute("aria-pressed") !== "true";
    const press = { plan: card.dataset.plan ?? "", setup: card.dataset.key ?? "", part: button.dataset.part };
    // Who presses sees how it stands: the press is no earlier than that, though this device's clock may be behind.
    const seen = merge(known, queue(), box).get(place(press))?.at ?? 0;
    wait([...queue(), { box, ...press, id: fresh(), on, at: Math.max(now(), seen) }]);
    paint();
    void send();
  });
  onOther("queue", paint);
  for (const event of ["online", "focus", "pageshow"]) window.addEventListener(event, () => void send());
  window.addEventListener("offline", () => {
    connected = false;
    paint();
  });
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) void send();
  });
  setInterval(() => {
    if (!document.hidden && (queue().length > 0 || !connected)) void send();
  }, AGAIN);
  paint();
  void send();
  return { send };
}

const now = () => Math.floor(Date.now() / 1000);

/**
 * How the ticks stood when this page was made, or when the bench was last asked, whichever was later.
 * @param {HTMLElement} root
 * @param {string} box
 * @returns {import("./queue.js").Standing[]}
 */
function lastKnown(root, box) {
  try {
    const kept = JSON.parse(get(`known.${box}`) ?? "null");
    if (kept && kept.now > Number(root.dataset.made)) return standings(JSON.stringify(kept.ticks));
  } catch {
    // What is kept cannot be read: the page itself knows.
  }
  const pressed = /** @type {HTMLElement[]} */ ([...root.querySelectorAll('[data-part][aria-pressed="true"]')]);
  return pressed.map((button) => {
    const card = /** @type {HTMLElement} */ (button.closest("[data-card]"));
    return { plan: card.dataset.plan ?? "", setup: card.dataset.key ?? "", part: button.dataset.part ?? "", on: true, by: "", at: 0 };
  });
}
