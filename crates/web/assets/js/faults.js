// @ts-check
// Faults drawn on the picture of a board: dragged with the pointer or moved with the keys, kept in the form's fields.
// Typed lengths are read by the server; what is drawn is written as a rule reads, to a millimeter or a sixteenth.

const NS = "http://www.w3.org/2000/svg";
const INCH = 25.4;

/** @typedef {{ x: number, y: number, length: number, width: number }} Spot millimeters from the lower left corner */

const place = /** @type {HTMLElement | null} */ (document.querySelector("[data-faults]"));
const body = /** @type {HTMLElement | null} */ (document.querySelector("[data-rows]"));

/** @param {HTMLElement} place @param {HTMLElement} body */
function draw(place, body) {
  const svg = /** @type {SVGSVGElement} */ (place.querySelector("svg.board"));
  const board = { length: Number(place.dataset.length), width: Number(place.dataset.width) };
  const inches = place.dataset.unit === "in";
  const step = inches ? INCH / 16 : 1;
  const told = document.querySelector("[data-told]");
  /** @type {Map<HTMLElement, SVGRectElement>} */
  const rects = new Map();
  let drawing = false;

  /** @param {number} mm */
  const snap = (mm) => Math.round(mm / step) * step;

  /** As it is read off a rule: 31 1/2, or 800. @param {number} mm */
  function words(mm) {
    if (!inches) return String(Math.round(mm));
    const all = Math.round(mm / step);
    const whole = Math.floor(all / 16);
    let [top, bottom] = [all % 16, 16];
    while (top > 0 && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
    if (top === 0) return String(whole);
    return whole > 0 ? `${whole} ${top}/${bottom}` : `${top}/${bottom}`;
  }

  /** @param {HTMLElement} row @param {string} part */
  const field = (row, part) => /** @type {HTMLInputElement} */ (row.querySelector(`[data-part="${part}"]`));

  /** @param {HTMLElement} row @returns {Spot | null} */
  function spotOf(row) {
    const mm = (row.dataset.mm ?? "").split(" ").map(Number);
    return mm.length === 4 && mm.every(Number.isFinite) ? { x: mm[0], y: mm[1], length: mm[2], width: mm[3] } : null;
  }

  /** Keeps a spot on the board and not smaller than a step. @param {Spot} s @returns {Spot} */
  function fit(s) {
    const length = Math.min(Math.max(snap(s.length), step), board.length);
    const width = Math.min(Math.max(snap(s.width), step), board.width);
    const x = Math.min(Math.max(snap(s.x), 0), board.length - length);
    const y = Math.min(Math.max(snap(s.y), 0), board.width - width);
    return { x, y, length, width };
  }

  /** @param {HTMLElement} row @param {Spot} spot */
  function put(row, spot) {
    row.dataset.mm = [spot.x, spot.y, spot.length, spot.width].join(" ");
    field(row, "x").value = words(spot.x);
    field(row, "y").value = words(spot.y);
    field(row, "length").value = words(spot.length);
    field(row, "width").value = words(spot.width);
    paint(row);
  }

  /** @param {HTMLElement} row */
  function label(row) {
    const [x, y, l, w] = ["x", "y", "length", "width"].map((p) => field(row, p).value);
    const unit = inches ? "inches" : "millimeters";
    return `Fault ${row.dataset.row}, ${field(row, "kind").value}: ${x} from the left, ${y} from below, ${l} by ${w} ${unit}`;
  }

  /** @param {HTMLElement} row */
  function paint(row) {
    const spot = field(row, "gone").checked ? null : spotOf(row);
    let rect = rects.get(row);
    if (!spot) {
      rect?.remove();
      rects.delete(row);
      return;
    }
    if (!rect) {
      rect = document.createElementNS(NS, "rect");
      rect.setAttribute("class", "mine");
      rect.setAttribute("role", "button");
      rects.set(row, rect);
      svg.append(rect);
      const made = rect;
      rect.addEventListener("keydown", (event) => key(event, row));
      rect.addEventListener("pointerdown", (event) => grab(event, row, made));
    }
    rect.setAttribute("tabindex", drawing ? "0" : "-1");
    rect.setAttribute("x", String(spot.x));
    rect.setAttribute("y", String(board.width - spot.y - spot.width));
    rect.setAttribute("width", String(spot.length));
    rect.setAttribute("height", String(spot.width));
    rect.setAttribute("aria-label", label(row));
  }

  /** @param {string} words */
  function say(words) {
    if (told) told.textContent = words;
  }

  /** @param {KeyboardEvent} event @param {HTMLElement} row */
  function key(event, row) {
    const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
    const way = ways[/** @type {keyof typeof ways} */ (event.key)];
    const spot = spotOf(row);
    if (!drawing || !spot) return;
    if (way) {
      const [dx, dy] = [way[0] * step, way[1] * step];
      const moved = event.shiftKey
        ? { ...spot, length: spot.length + dx, width: spot.width + dy }
        : { ...spot, x: spot.x + dx, y: spot.y + dy };
      put(row, fit(moved));
      say(label(row));
    } else if (event.key === "Delete" || event.key === "Backspace") {
      field(row, "gone").checked = true;
      say(`Fault ${row.dataset.row} will be taken away when the board is kept`);
      paint(row);
      /** @type {HTMLElement | null} */ (document.querySelector("[data-draw]"))?.focus();
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

  /** Follows a pointer until it is let go. @param {PointerEvent} event @param {(p: {x: number, y: number}) => void} move */
  function follow(event, move, done = () => {}) {
    const id = event.pointerId;
    /** @param {PointerEvent} e */
    const onMove = (e) => e.pointerId === id && move(at(e));
    /** @param {PointerEvent} e */
    const onEnd = (e) => {
      if (e.pointerId !== id) return;
      for (const [name, heard] of ears) removeEventListener(name, /** @type {EventListener} */ (heard));
      done();
    };
    const ears = /** @type {const} */ ([["pointermove", onMove], ["pointerup", onEnd], ["pointercancel", onEnd]]);
    for (const [name, heard] of ears) addEventListener(name, /** @type {EventListener} */ (heard));
    event.preventDefault();
  }

  /** Moves a fault, or pulls at its nearest corner. @param {PointerEvent} event @param {HTMLElement} row @param {SVGRectElement} rect */
  function grab(event, row, rect) {
    const spot = spotOf(row);
    if (!drawing || !spot) return;
    event.stopPropagation();
    rect.focus();
    const from = at(event);
    const upperRight = from.x > spot.x + spot.length * 0.7 && from.y > spot.y + spot.width * 0.7;
    follow(event, (to) => {
      const [dx, dy] = [to.x - from.x, to.y - from.y];
      put(row, fit(upperRight
        ? { ...spot, length: spot.length + dx, width: spot.width + dy }
        : { ...spot, x: spot.x + dx, y: spot.y + dy }));
    }, () => say(label(row)));
  }

  /** The first row with nothing in it; a new one behind the last if there is none. */
  function spare() {
    const rows = /** @type {HTMLElement[]} */ ([...body.querySelectorAll("[data-row]")]);
    const empty = rows.find((row) => ["x", "y", "length", "width"].every((p) => field(row, p).value.trim() === ""));
    if (empty) return empty;
    const last = rows[rows.length - 1];
    const number = String(Number(last.dataset.row) + 1);
    const row = /** @type {HTMLElement} */ (last.cloneNode(true));
    row.dataset.row = number;
    row.dataset.mm = "";
    for (const words of row.querySelectorAll(".wrong")) words.remove();
    for (const one of /** @type {NodeListOf<HTMLInputElement>} */ (row.querySelectorAll("[data-part]"))) {
      one.name = `fault.${number}.${one.dataset.part}`;
      one.setAttribute("aria-label", (one.getAttribute("aria-label") ?? "").replace(/\d+/, number));
      one.removeAttribute("aria-invalid");
      one.removeAttribute("aria-describedby");
      if (one.type === "checkbox") one.checked = false;
      else if (one.localName === "input") one.value = "";
    }
    const head = row.querySelector("th");
    if (head) head.textContent = number;
    body.append(row);
    return row;
  }

  svg.addEventListener("pointerdown", (event) => {
    if (!drawing || event.button !== 0) return;
    const from = at(event);
    const row = spare();
    follow(event, (to) => {
      const [x, y] = [Math.min(from.x, to.x), Math.min(from.y, to.y)];
      put(row, fit({ x, y, length: Math.abs(to.x - from.x), width: Math.abs(to.y - from.y) }));
    }, () => {
      if (!spotOf(row)) return;
      rects.get(row)?.focus();
      say(`${label(row)}. Kept with the board when you press Keep.`);
    });
  });

  body.addEventListener("change", async (event) => {
    const row = /** @type {HTMLElement | null} */ (/** @type {Element} */ (event.target).closest("[data-row]"));
    if (!row) return;
    const asked = new URLSearchParams({ unit: place.dataset.unit ?? "mm" });
    for (const part of ["x", "y", "length", "width"]) asked.append("t", field(row, part).value);
    try {
      const answer = await fetch(`/lengths?${asked}`);
      /** @type {(number | null)[]} */
      const mm = await answer.json();
      row.dataset.mm = mm.every((v) => v !== null) ? mm.join(" ") : "";
    } catch {
      return; // The fields stand; only the drawing waits.
    }
    paint(row);
  });

  const tools = /** @type {HTMLElement | null} */ (document.querySelector("[data-draw-tools]"));
  const press = /** @type {HTMLButtonElement | null} */ (document.querySelector("[data-draw]"));
  const help = /** @type {HTMLElement | null} */ (document.querySelector("[data-help]"));
  if (tools) tools.hidden = false;
  press?.addEventListener("click", () => {
    drawing = !drawing;
    press.setAttribute("aria-pressed", String(drawing));
    place.classList.toggle("drawing", drawing);
    svg.setAttribute("role", drawing ? "group" : "img");
    if (help) help.hidden = !drawing;
    for (const row of /** @type {NodeListOf<HTMLElement>} */ (body.querySelectorAll("[data-row]"))) paint(row);
  });
}

if (place && body) draw(place, body);
