// @ts-check
// One drawing on the page: what it shows, what it hears, when it draws.

import { colorsOf } from './colors.js';
import { cutPlane } from './cut.js';
import { showLabels } from './labels.js';
import { setPlane } from './materials.js';
import { START, listenPanel } from './panel.js';
import { makePick } from './pick.js';
import { lineHref, savePng } from './picture.js';
import { listen } from './pointer.js';
import { marginFor, measured } from './sizes.js';
import { makeStage } from './stage.js';
import { around, cloud } from './stance.js';
import { VIEWS, between, corners, frame, paper, turned } from './view.js';

/** Nearest and farthest half height of the picture, mm. */
const [NEAREST, FARTHEST] = [4, 4000];
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
  let points = cloud(scene, { apart: 0, open: 0 });
  let shot = frame(points, sight, 1, marginFor(scene, START, { width: 1, height: 1 }));
  /** @type {import('./cut.js').Plane | null} */
  let plane = null;
  /** @type {string | null} */
  let marked = null;
  /** @type {import('./dimensions.js').Placed[]} */
  let placed = [];
  let [asked, held, lost, swing] = [0, false, false, 0];

  const panel = listenPanel(root, signal, { change, view, part: (id) => mark(id, true), picture });
  const pace = makePace(ask);
  const aspect = () => stage.size.width / stage.size.height;
  const radius = () => Math.max(...corners(scene.reach[0], scene.reach[1]).map((p) => Math.hypot(...p.map((v, i) => v - shot.center[i])))) + 5;

  function repaint() {
    stage.paint(colorsOf(root));
    ask();
  }
  function ask() {
    if (!asked && !lost && !signal.aborted) asked = requestAnimationFrame(draw);
  }
  function stir() {
    pace.stir();
    ask();
  }
  function fit() {
    shot = frame(points, sight, aspect(), marginFor(scene, panel.state, stage.size));
  }
  function draw() {
    asked = 0;
    if (signal.aborted || lost) return;
    stage.sharpen(pace.share());
    stage.look(sight, shot, radius());
    stage.cut(plane, radius());
    stage.draw();
    placed = measured({ scene, state: panel.state, plane, points, sight, shot, size: stage.size, seen: pick.seen });
    if (labels) showLabels(labels, placed, stage.size);
    if (line) line.href = lineHref(root.dataset.lineDrawing ?? line.getAttribute('href'), sight, panel.state, plane);
  }
  /** What the controls ask. */
  function change() {
    const { apart, open, side, cut, through, finished } = panel.state;
    points = cloud(scene, { apart, open });
    plane = cutPlane(side, cut, around(points));
    setPlane(shared, plane);
    shared.finished.value = finished ? 1 : 0;
    shared.opacity.value = through ? 0.2 : 1;
    pieces.look({ through, cut: plane !== null });
    pieces.stand({ apart, open });
    if (!held) fit();
    stir();
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
      stir();
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
    stir();
  }
  function picture() {
    pace.rest();
    draw();
    savePng(stage, placed, colorsOf(root), scene.name);
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
      stir();
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
      stir();
    },
    press: (x, y) => mark(pick.part(x, y), true),
    reset: () => view('corner'),
    leave: () => mark(null, true),
  }, signal);
  const live = (/** @type {boolean} */ on) => {
    still?.toggleAttribute('hidden', on);
    for (const part of root.querySelectorAll('[data-stage], [data-controls]')) part.toggleAttribute('hidden', !on);
    root.dataset.drawing = on ? 'live' : 'still';
  };
  canvas.addEventListener('webglcontextlost', (e) => {
    // The browser took the card away: the line drawing stands in until it is given back.
    e.preventDefault();
    lost = true;
    live(false);
  }, { signal });
  canvas.addEventListener('webglcontextrestored', () => {
    lost = false;
    live(true);
    repaint();
  }, { signal });
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
    cancelAnimationFrame(swing);
    pace.rest();
    ending.abort();
    stage.dispose();
  }

  live(true);
  pieces.load(scene);
  panel.offer(scene);
  stage.resize(box.clientWidth, box.clientHeight);
  change();
  repaint();
  watch.observe(box);
  return { end, draw };
}
