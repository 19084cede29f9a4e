// @ts-check
// Faults drawn on the picture of a board: dragged with the pointer or moved with the keys, kept in the form's fields.
// Typed lengths are read by the server; what is drawn is written as a rule reads, to a millimeter or a sixteenth.

import { MEASURES, field, fit, label, rowsOf, ruleOf, spare, spotOf, write } from "./faults-rows.js";

const NS = "http://www.w3.org/2000/svg";
const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
/** From here on a press pulls at the upper right corner, as a share of the fault's size. */
const CORNER = 0.7;

/** @typedef {import("./faults-rows.js").Spot} Spot */

const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-faults]"));
const body = /** @type {HTMLElement | null} */ (document.querySelector("[data-rows]"));

/** @param {HTMLElement} place @param {HTMLElement} body */
function draw(place, body) {
  const svg = /** @type {SVGSVGElement} */ (place.querySelector("svg.board"));
  const board = { length: Number(place.dataset.length), width: Number(place.dataset.width) };
  const rule = ruleOf(place.dataset.unit);
  const told = document.querySelector("[data-told]");
  const press = /** @type {HTMLButtonElement | null} */ (document.querySelector("[data-draw]"));
  /** @type {Map<HTMLElement, SVGRectElement>} */
  const rects = new Map();
  let drawing = false;

  /** @param {string} words */
  function say(words) {
    if (told) told.textContent = words;
  }

  /** @param {HTMLElement} row @param {Spot} spot */
  function put(row, spot) {
    write(row, fit(spot, board, rule), rule);
    paint(row);
  }

  /** @param {HTMLElement} row */
  function paint(row) {
    const spot = field(row, "gone").checked ? null : spotOf(row);
    const rect = spot ? rects.get(row) ?? fresh(row) : rects.get(row);
    if (!spot || !rect) {
      rect?.remove();
      rects.delete(row);
      return;
    }
    rect.setAttribute("tabindex", drawing ? "0" : "-1");
    rect.setAttribute("x", String(spot.x));
    rect.setAttribute("y", String(board.width - spot.y - spot.width));
    rect.setAttribute("width", String(spot.length));
    rect.setAttribute("height", String(spot.width));
    rect.setAttribute("aria-label", label(row, rule));
  }

  /** @param {HTMLElement} row */
  function fresh(row) {
    const rect = document.createElementNS(NS, "rect");
    rect.setAttribute("class", "mine");
    rect.setAttribute("role", "button");
    rect.addEventListener("keydown", (event) => key(event, row));
    rect.addEventListener("pointerdown", (event) => grab(event, row, rect));
    rects.set(row, rect);
    svg.append(rect);
    return rect;
  }

  /** The script's faults in the place of the server's. */
  function paintAll() {
    place.classList.add("mine-shown");
    rowsOf(body).forEach(paint);
  }

  /** @param {KeyboardEvent} event @param {HTMLElement} row */
  function key(event, row) {
    const way = WAYS[/** @type {keyof typeof WAYS} */ (event.key)];
    const spot = spotOf(row);
    if (!drawing || !spot) return;
    if (way) {
      const [dx, dy] = [way[0] * rule.step, way[1] * rule.step];
      put(row, event.shiftKey
        ? { ...spot, length: spot.length + dx, width: spot.width + dy }
        : { ...spot, x: spot.x + dx, y: spot.y + dy });
      say(label(row, rule));
    } else if (event.key === "Delete" || event.key === "Backspace") {
      field(row, "gone").checked = true;
      say(`Fault ${row.dataset.row} will be taken away when the board is kept`);
      paint(row);
      press?.focus();
    } else {
      return;
    }
    event.preventDefault();
  }

  /** Where a pointer is on the board. @param {PointerEvent} event */
  function at(event) {
    const box = svg.getBoundingClientRect();
    const x = ((event.clientX - box.left) / box.width) * board.length;
    const y = board.width - ((event.clientY - box.top) / box.height) * board.width;
    return { x: Math.min(Math.max(x, 0), board.length), y: Math.min(Math.max(y, 0), board.width) };
  }

  /**
   * Follows a pointer until it is let go.
   * @param {PointerEvent} event @param {(p: { x: number, y: number }) => void} move @param {() => void} done
   */
  function follow(event, move, done) {
    const id = event.pointerId;
    const ears = new AbortController();
    /** @param {PointerEvent} e */
    const end = (e) => {
      if (e.pointerId !== id) return;
      ears.abort();
      done();
    };
    addEventListener("pointermove", (e) => e.pointerId === id && move(at(e)), { signal: ears.signal });
    addEventListener("pointerup", end, { signal: ears.signal });
    addEventListener("pointercancel", end, { signal: ears.signal });
    event.preventDefault();
  }

  /** Moves a fault, or pulls at its upper right corner. @param {PointerEvent} event @param {HTMLElement} row @param {SVGRectElement} rect */
  function grab(event, row, rect) {
    const spot = spotOf(row);
    if (!drawing || !spot) return;
    event.stopPropagation();
    rect.focus();
    const from = at(event);
    const pulls = from.x > spot.x + spot.length * CORNER && from.y > spot.y + spot.width * CORNER;
    follow(event, (to) => {
      const [dx, dy] = [to.x - from.x, to.y - from.y];
      put(row, pulls
        ? { ...spot, length: spot.length + dx, width: spot.width + dy }
        : { ...spot, x: spot.x + dx, y: spot.y + dy });
    }, () => say(label(row, rule)));
  }

  svg.addEventListener("pointerdown", (event) => {
    if (!drawing || event.button !== 0) return;
    const from = at(event);
    const row = spare(body);
    follow(event, (to) => {
      const [x, y] = [Math.min(from.x, to.x), Math.min(from.y, to.y)];
      put(row, { x, y, length: Math.abs(to.x - from.x), width: Math.abs(to.y - from.y) });
    }, () => {
      if (!spotOf(row)) return;
      rects.get(row)?.focus();
      say(`${label(row, rule)}. It is kept with the board when you press Keep.`);
    });
  });

  body.addEventListener("change", async (event) => {
    const row = /** @type {HTMLElement | null} */ (/** @type {Element} */ (event.target).closest("[data-row]"));
    if (!row) return;
    const asked = new URLSearchParams({ unit: place.dataset.unit ?? "mm" });
    for (const part of MEASURES) asked.append("t", field(row, part).value);
    try {
      const answer = await fetch(`/lengths?${asked}`);
      /** @type {(number | null)[]} */
      const mm = await answer.json();
      row.dataset.mm = mm.every((v) => v !== null) ? mm.join(" ") : "";
    } catch {
      return; // The fields stand; only the drawing waits.
    }
    paintAll();
  });

  press?.addEventListener("click", () => {
    drawing = !drawing;
    press.setAttribute("aria-pressed", String(drawing));
    place.classList.toggle("drawing", drawing);
    svg.setAttribute("role", drawing ? "group" : "img");
    for (const help of document.querySelectorAll("[data-help]")) help.toggleAttribute("hidden", !drawing);
    paintAll();
  });
  for (const tools of document.querySelectorAll("[data-draw-tools]")) tools.removeAttribute("hidden");
}

if (place && body) draw(place, body);
