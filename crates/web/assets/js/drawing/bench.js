// @ts-check
// One drawing on the page: what it shows, what it hears, when it draws.

import { colorsOf } from './colors.js';
import { cutPlane } from './cut.js';
import { showLabels } from './labels.js';
import { setPlane } from './materials.js';
import { makePace } from './pace.js';
import { START, listenPanel } from './panel.js';
import { makePick } from './pick.js';
import { lineHref, savePng } from './picture.js';
import { listen } from './pointer.js';
import { marginFor, measured } from './sizes.js';
import { makeStage } from './stage.js';
import { around, cloud } from './stance.js';
import { VIEWS, between, corners, frame, panned, turned, zoomed } from './view.js';

/** A view swings round in this time, milliseconds. */
const SWING = 260;
/** A saved picture is at least this wide, pixels. */
const FINE = 2000;

/** One id, several or none. @param {string | string[] | null} detail @returns {string[]} */
const listed = (detail) => [detail ?? []].flat();

/** @param {HTMLElement} root @param {HTMLCanvasElement} canvas @param {WebGL2RenderingContext} card the canvas's @param {any} first the scene */
export function makeBench(root, canvas, card, first) {
  const stage = makeStage(canvas, card);
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
  /** @type {string[]} */
  let marked = [];
  let placed = /** @type {import('./dimensions.js').Placed[]} */ ([]);
  let [asked, held, lost, swing] = [0, false, false, 0];

  const panel = listenPanel(root, signal, { change, view, part: (id) => mark(listed(id), true), picture });
  const pace = makePace(ask);
  const aspect = () => stage.size.width / stage.size.height;
  const radius = () => Math.max(...corners(scene.reach[0], scene.reach[1]).map((p) => Math.hypot(...p.map((v, i) => v - shot.center[i])))) + 5;

  function repaint() {
    stage.paint(colorsOf(root));
    ask();
  }
  function ask() {
    if (!asked && !lost && !signal.aborted) asked = requestAnimationFrame(() => drawAt(pace.share()));
  }
  function stir() {
    pace.stir();
    ask();
  }
  function fit() {
    shot = frame(points, sight, aspect(), marginFor(scene, panel.state, stage.size));
  }
  /** @param {number} share of the screen's points in each direction */
  function drawAt(share) {
    asked = 0;
    if (signal.aborted || lost) return;
    stage.sharpen(share);
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
  /** Outlines parts and names them. @param {string[]} ids @param {boolean} tell whether the page is to hear of it */
  function mark(ids, tell) {
    const names = new Map(scene.pieces.filter((/** @type {any} */ p) => ids.includes(p.part)).map((/** @type {any} */ p) => [p.part, `${p.name}, ${scene.woods[p.wood].name}`]));
    marked = [...names.keys()];
    pieces.mark(marked);
    panel.mark(marked[0] ?? null);
    if (tag) {
      tag.textContent = [...names.values()].slice(0, 3).join('; ') + (names.size > 3 ? '; …' : '');
      tag.hidden = !names.size;
    }
    if (tell) root.dispatchEvent(new CustomEvent('keepwright:part', { detail: marked[0] ?? null, bubbles: true }));
    ask();
  }
  /** A picture of the reader's own choosing, kept until a view is asked for. @param {import('./view.js').Frame} next */
  function hold(next) {
    shot = next;
    held = true;
    stir();
  }
  function picture() {
    pace.rest();
    drawAt(Math.max(1, FINE / (stage.size.width * (window.devicePixelRatio || 1))));
    savePng(stage, placed, colorsOf(root), scene.name);
    ask();
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
    move: (x, y) => hold(panned(shot, sight, x, y, stage.size.height)),
    zoom: (share, x, y) => hold(zoomed(shot, sight, share, x, y, stage.size)),
    press: (x, y) => mark(listed(pick.part(x, y)), true),
    reset: () => view('corner'),
    leave: () => mark([], true),
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
  root.addEventListener('keepwright:show-part', (e) => mark(listed(/** @type {CustomEvent} */ (e).detail), false), { signal });
  root.addEventListener('keepwright:scene', (e) => load(/** @type {CustomEvent} */ (e).detail), { signal });
  window.matchMedia('(prefers-color-scheme: dark)').addEventListener('change', repaint, { signal });
  window.addEventListener('pagehide', (e) => e.persisted || end(), { signal });
  const watch = new ResizeObserver(() => {
    if (!root.isConnected) return end();
    stage.resize(box.clientWidth, box.clientHeight);
    if (!held) fit();
    drawAt(1);
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
  return { end, draw: () => drawAt(1) };
}
