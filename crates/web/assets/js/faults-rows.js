// @ts-check
// The rows of the table of faults: fields read and written, a fresh row when all are taken.

const INCH = 25.4;
/** The measures of a fault, in the order of their fields. */
export const MEASURES = ["x", "y", "length", "width"];

/** @typedef {{ x: number, y: number, length: number, width: number }} Spot millimeters from the lower left corner */
/** @typedef {{ step: number, inches: boolean }} Rule what a rule of the board's unit is read to */

/** @param {string | undefined} unit @returns {Rule} */
export function ruleOf(unit) {
  return unit === "in" ? { step: INCH / 16, inches: true } : { step: 1, inches: false };
}

/** As it is read off a rule: 31 1/2, or 800. @param {number} mm @param {Rule} rule */
export function words(mm, rule) {
  const steps = Math.round(mm / rule.step);
  if (!rule.inches) return String(steps);
  const whole = Math.floor(steps / 16);
  let [top, bottom] = [steps % 16, 16];
  while (top > 0 && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  if (top === 0) return String(whole);
  return whole > 0 ? `${whole} ${top}/${bottom}` : `${top}/${bottom}`;
}

/**
 * Keeps a spot on the board, on the rule's steps and not smaller than one.
 * @param {Spot} spot @param {{ length: number, width: number }} board @param {Rule} rule @returns {Spot}
 */
export function fit(spot, board, { step }) {
  /** @param {number} mm */
  const snap = (mm) => Math.round(mm / step) * step;
  const length = Math.min(Math.max(snap(spot.length), step), board.length);
  const width = Math.min(Math.max(snap(spot.width), step), board.width);
  const x = Math.min(Math.max(snap(spot.x), 0), board.length - length);
  const y = Math.min(Math.max(snap(spot.y), 0), board.width - width);
  return { x, y, length, width };
}

/** @param {Element} row @param {string} part */
export function field(row, part) {
  return /** @type {HTMLInputElement} */ (row.querySelector(`[data-part="${part}"]`));
}

/** Where a row's fault lies, as the server read it or the pointer drew it. @param {HTMLElement} row @returns {Spot | null} */
export function spotOf(row) {
  const [x, y, length, width] = (row.dataset.mm ?? "").split(" ").map(Number);
  return [x, y, length, width].every(Number.isFinite) ? { x, y, length, width } : null;
}

/** @param {HTMLElement} row @param {Spot} spot @param {Rule} rule */
export function write(row, spot, rule) {
  row.dataset.mm = [spot.x, spot.y, spot.length, spot.width].join(" ");
  field(row, "x").value = words(spot.x, rule);
  field(row, "y").value = words(spot.y, rule);
  field(row, "length").value = words(spot.length, rule);
  field(row, "width").value = words(spot.width, rule);
}

/** A row in words. @param {HTMLElement} row @param {Rule} rule */
export function label(row, rule) {
  const [x, y, l, w] = MEASURES.map((part) => field(row, part).value);
  const unit = rule.inches ? "inches" : "millimeters";
  return `Fault ${row.dataset.row}, ${field(row, "kind").value}: ${x} from the left, ${y} from below, ${l} by ${w} ${unit}`;
}

/** @param {HTMLElement} body @returns {HTMLElement[]} */
export function rowsOf(body) {
  return [...body.querySelectorAll("[data-row]")].filter((row) => row instanceof HTMLElement);
}

/** The first row with nothing in it; a new one behind the last if there is none. @param {HTMLElement} body */
export function spare(body) {
  const rows = rowsOf(body);
  const empty = rows.find((row) => MEASURES.every((part) => field(row, part).value.trim() === ""));
  if (empty) return empty;
  const last = rows[rows.length - 1];
  const number = String(Number(last.dataset.row) + 1);
  const row = /** @type {HTMLElement} */ (last.cloneNode(true));
  row.dataset.row = number;
  row.dataset.mm = "";
  for (const wrong of row.querySelectorAll(".wrong")) wrong.remove();
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
