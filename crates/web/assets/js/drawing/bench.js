// @ts-check
// One drawing on the page: what it shows, what it hears, when it draws.

import { placeAll } from './dimensions.js';
import { showLabels } from './labels.js';
import { setPlane } from './materials.js';
import { cutPlane, listenPanel } from './panel.js';
import { makePick } from './pick.js';
import { lineHref, savePng } from './picture.js';
import { listen } from './pointer.js';
import { makeStage } from './stage.js';
import { reach } from './stance.js';
import { VIEWS, between, corners, frame, paper, turned } from './view.js';

/** Free space round the box: for dimensions. Nearest and farthest half height of the picture, mm. */
const [MARGIN, NEAREST, FARTHEST] = [{ across: 0.16, along: 0.16 }, 4, 4000];
/** A view swings round in this time, milliseconds. */
const SWING = 260;

/** Throws where there is no WebGL. @param {HTMLElement} root @param {HTMLCanvasElement} canvas @param {any} first the scene */
export function makeBench(root, canvas, first) {
  const stage = makeStage(canvas);
  const { pieces, shared } = stage;
  const pick = makePick(stage);
  const ending = new AbortController();
  const { signal } = ending;
  const find = (/** @type {string} */ name) => /** @type {any} */ (root.querySelector(`[data-${name}]`));
  const [labels, tag, still, box, line] = ['labels', 'tag', 'still', 'stage', 'line'].map(find);
  const calm = window.matchMedia('(prefers-reduced-motion: reduce)');
  let scene = first;
  let sight = VIEWS.corner;
  let block = { low: scene.low, high: scene.high };
  let shot = frame(corners(block.low, block.high), sight, 1, MARGIN);
  /** @type {[number, number, number, number] | null} */
  let plane = null;
  /** @type {string | null} */
  let marked = null;
  /** @type {import('./dimensions.js').Placed[]} */
  let placed = [];
  let [asked, held, lost, swing] = [0, false, false, 0];

  const panel = listenPanel(root, signal, { change, view, part: (id) => mark(id, true), picture });
  const aspect = () => stage.size.width / stage.size.height;
  const radius = () => Math.max(...corners(scene.reach[0], scene.reach[1]).map((p) => Math.hypot(...p.map((v, i) => v - shot.center[i])))) + 5;

  function colors() {
    const style = getComputedStyle(root);
    const of = (/** @type {string} */ name, /** @type {string} */ or) => style.getPropertyValue(name).trim() || or;
    return { ink: of('--ink', '#241a12'), paper: of('--paper', '#faf6ee'), line: of('--drawing-line', '#241a12'), mark: of('--drawing-mark', '#1c5c9c'), font: style.fontFamily };
  }
  function repaint() {
    const { line: ink, mark: accent } = colors();
    stage.paint({ ink, mark: accent });
    ask();
  }
  function ask() {
    if (!asked && !lost && !signal.aborted) asked = requestAnimationFrame(draw);
  }
  function fit() {
    shot = frame(corners(block.low, block.high), sight, aspect(), MARGIN);
  }
  function draw() {
    asked = 0;
    if (signal.aborted || lost) return;
    stage.look(sight, shot, radius());
    stage.cut(plane, radius());
    stage.draw();
    measure();
    if (line) line.href = lineHref(root.dataset.lineDrawing ?? line.getAttribute('href'), sight, panel.state, plane);
  }
  /** Dimensions on or off, and which of them are true of what is shown. */
  function measure() {
    const { apart, open, side, through, sizes } = panel.state;
    const { width, height } = stage.size;
    const { right, up } = paper(sight);
    const project = (/** @type {number[]} */ p) => {
      const [x, y] = [right, up].map((axis) => axis.reduce((s, a, i) => s + a * (p[i] - shot.center[i]), 0));
      const scale = height / (2 * shot.half);
      return { x: width / 2 + x * scale, y: height / 2 - y * scale };
    };
    const shown = scene.sizes.filter((/** @type {any} */ s) => {
      if (!sizes || apart > 0.02) return false;
      if (s.inside) return open > 0.3 || side !== '' || through || !scene.lid;
      return side === '' && (open < 0.02 || s.name !== 'outside height');
    });
    placed = placeAll(shown, corners(scene.low, scene.high).map(project), project, { width, height }, pick.seen);
    if (labels) showLabels(labels, placed, { width, height });
  }
  /** What the controls ask. */
  function change() {
    const { apart, open, side, cut, through, finished } = panel.state;
    block = reach(scene, { apart, open });
    plane = cutPlane(side, cut, block);
    setPlane(shared, plane);
    shared.finished.value = finished ? 1 : 0;
    shared.opacity.value = through ? 0.2 : 1;
    pieces.stand({ apart, open });
    pieces.look({ through, cut: plane !== null });
    if (!held) fit();
    ask();
  }
  /** A plain view, swung to unless the reader wants no motion. @param {string} name */
  function view(name) {
    const to = VIEWS[name];
    if (!to) return;
    cancelAnimationFrame(swing);
    const [from, start] = [sight, performance.now()];
    held = false;
    const step = () => {
      const share = calm.matches ? 1 : Math.min(1, (performance.now() - start) / SWING);
      sight = share < 1 ? between(from, to, share) : to;
      fit();
      ask();
      if (share < 1 && !signal.aborted) swing = requestAnimationFrame(step);
    };
    step();
  }
  /** @param {string | null} part @param {boolean} tell */
  function mark(part, tell) {
    const one = scene.pieces.find((/** @type {any} */ p) => p.part === part);
    marked = one ? part : null;
    pieces.mark(marked);
    panel.mark(marked);
    if (tag) {
      tag.textContent = one ? `${one.name}, ${scene.woods[one.wood].name}` : '';
      tag.hidden = !one;
    }
    if (tell) root.dispatchEvent(new CustomEvent('keepwright:part', { detail: marked, bubbles: true }));
    ask();
  }
  /** @param {number} x @param {number} y CSS pixels, y down */
  function move(x, y) {
    const { right, up } = paper(sight);
    const scale = (2 * shot.half) / stage.size.height;
    shot = { ...shot, center: /** @type {any} */ (shot.center.map((v, i) => v + (up[i] * y - right[i] * x) * scale)) };
    held = true;
    ask();
  }
  function picture() {
    draw();
    savePng(stage, placed, colors(), scene.name);
  }
  /** @param {any} next */
  function load(next) {
    const before = scene;
    scene = next;
    pieces.load(scene);
    panel.offer(scene);
    // The eye stays where it is, unless the changed box would not be in the picture any more.
    const grown = [0, 1, 2].some((i) => Math.abs(scene.high[i] - scene.low[i] - before.high[i] + before.low[i]) > 0.3 * (before.high[i] - before.low[i]));
    held = held || !grown;
    change();
    held = held && !grown;
    mark(marked, false);
  }

  listen(canvas, {
    turn(around, above) {
      sight = turned(sight, around, above);
      ask();
    },
    move,
    zoom(share, x, y) {
      const half = Math.max(NEAREST, Math.min(FARTHEST, shot.half * share));
      const kept = half / shot.half;
      const { width, height } = stage.size;
      // The point under the hand stays under it.
      if (Number.isFinite(x)) move((width / 2 - x) * (1 - kept), (height / 2 - y) * (1 - kept));
      shot = { ...shot, half };
      held = true;
      ask();
    },
    press: (x, y) => mark(pick.part(x, y), true),
    reset: () => view('corner'),
    leave: () => mark(null, true),
  }, signal);
  canvas.addEventListener('webglcontextlost', (e) => { e.preventDefault(); lost = true; }, { signal });
  canvas.addEventListener('webglcontextrestored', () => { lost = false; repaint(); }, { signal });
  root.addEventListener('keepwright:show-part', (e) => mark(/** @type {CustomEvent} */ (e).detail, false), { signal });
  root.addEventListener('keepwright:scene', (e) => load(/** @type {CustomEvent} */ (e).detail), { signal });
  window.matchMedia('(prefers-color-scheme: dark)').addEventListener('change', repaint, { signal });
  window.addEventListener('pagehide', (e) => e.persisted || end(), { signal });
  const watch = new ResizeObserver(() => {
    if (!root.isConnected) return end();
    stage.resize(box.clientWidth, box.clientHeight);
    if (!held) fit();
    draw();
  });
  function end() {
    watch.disconnect();
    cancelAnimationFrame(asked);
    ending.abort();
    stage.dispose();
  }

  still?.setAttribute('hidden', '');
  for (const part of root.querySelectorAll('[data-stage], [data-controls]')) part.removeAttribute('hidden');
  pieces.load(scene);
  panel.offer(scene);
  stage.resize(box.clientWidth, box.clientHeight);
  change();
  repaint();
  watch.observe(box);
  root.dataset.drawing = 'live';
  return { end, draw, sight: (/** @type {import('./view.js').Sight} */ s) => { sight = s; ask(); } };
}
