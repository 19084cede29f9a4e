// @ts-check
// Dimensions and the name of the marked part over the drawing, in SVG on the page and in ink on a picture.

import { TALL } from './dimensions.js';

/** @typedef {import('./dimensions.js').Placed} Placed */
/** @typedef {import('./dimensions.js').Point} Point */

const NS = 'http://www.w3.org/2000/svg';
/** An extension line starts so far off the box and runs so far past the dimension line, CSS pixels. */
const [GAP, PAST, ARROW] = [5, 6, 9];

/** What is drawn for one dimension: lines, then arrowheads. @param {Placed} one @returns {{lines: Point[][], heads: Point[][]}} */
export function strokes({ a, b, from, to, on }) {
  const long = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  const way = { x: (b.x - a.x) / long, y: (b.y - a.y) / long };
  const lines = [[a, b]];
  if (!on) {
    for (const [edge, end] of [[from, a], [to, b]]) {
      const off = Math.hypot(end.x - edge.x, end.y - edge.y) || 1;
      const out = { x: (end.x - edge.x) / off, y: (end.y - edge.y) / off };
      lines.push([{ x: edge.x + out.x * GAP, y: edge.y + out.y * GAP }, { x: end.x + out.x * PAST, y: end.y + out.y * PAST }]);
    }
  }
  const head = (/** @type {Point} */ tip, /** @type {number} */ sign) => {
    const foot = { x: tip.x + sign * way.x * ARROW, y: tip.y + sign * way.y * ARROW };
    const [x, y] = [-way.y * ARROW * 0.3, way.x * ARROW * 0.3];
    return [tip, { x: foot.x + x, y: foot.y + y }, { x: foot.x - x, y: foot.y - y }];
  };
  return { lines, heads: [head(a, 1), head(b, -1)] };
}

const list = (/** @type {Point[]} */ points) => points.map((p) => `${p.x.toFixed(1)},${p.y.toFixed(1)}`).join(' ');

/** @param {string} name @param {Record<string, string | number>} attributes @param {string} [text] */
function element(name, attributes, text) {
  const made = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  if (text !== undefined) made.textContent = text;
  return made;
}

/** The paper under words, so that no line is read as a stroke of them. @param {import('./dimensions.js').Box} box */
const sheet = ({ left, top, right, bottom }) => ({ x: left, y: top, width: right - left, height: bottom - top });

/** Shows dimensions in the sheet over the canvas. @param {Element} svg @param {Placed[]} placed @param {{width: number, height: number}} size */
export function showLabels(svg, placed, { width, height }) {
  svg.setAttribute('viewBox', `0 0 ${width} ${height}`);
  const made = [];
  for (const one of placed) {
    const { lines, heads } = strokes(one);
    const group = element('g', { class: one.on ? 'drawing-size drawing-size-on' : 'drawing-size' });
    // Over wood a line needs paper around it to be seen.
    for (const kind of one.on ? ['halo', 'line'] : ['line']) {
      for (const points of lines) group.append(element('polyline', { class: `drawing-${kind}`, points: list(points) }));
    }
    for (const points of heads) group.append(element('polygon', { class: 'drawing-head', points: list(points) }));
    group.append(element('rect', { class: 'drawing-words', ...sheet(one.box) }));
    group.append(element('text', { x: one.at.x.toFixed(1), y: (one.at.y + TALL * 0.35).toFixed(1), 'font-size': TALL }, one.text));
    made.push(group);
  }
  svg.replaceChildren(...made);
}

/**
 * The same in ink on a picture, as much larger as the picture is.
 * @param {CanvasRenderingContext2D} pen @param {Placed[]} placed @param {{ink: string, paper: string, font: string}} colors
 */
export function inkLabels(pen, placed, { ink, paper, font }) {
  pen.lineJoin = 'round';
  const path = (/** @type {Point[]} */ points) => {
    pen.beginPath();
    points.forEach((p, i) => (i ? pen.lineTo(p.x, p.y) : pen.moveTo(p.x, p.y)));
  };
  for (const one of placed) {
    const { lines, heads } = strokes(one);
    for (const [width, style] of one.on ? /** @type {const} */ ([[4, paper], [1.2, ink]]) : /** @type {const} */ ([[1.2, ink]])) {
      pen.lineWidth = width;
      pen.strokeStyle = style;
      for (const points of lines) path(points), pen.stroke();
    }
    pen.fillStyle = ink;
    for (const points of heads) path(points), pen.closePath(), pen.fill();
    pen.font = `600 ${TALL}px ${font}`;
    pen.textAlign = 'center';
    const { x, y, width, height } = sheet(one.box);
    pen.fillStyle = paper;
    pen.fillRect(x, y, width, height);
    pen.fillStyle = ink;
    pen.fillText(one.text, one.at.x, one.at.y + TALL * 0.35);
  }
}
