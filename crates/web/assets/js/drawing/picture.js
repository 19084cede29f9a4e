// @ts-check
// A picture of the view: PNG from the canvas, SVG from the server's line drawing.

import { inkLabels } from './labels.js';
import { toward, words } from './view.js';

/**
 * The page's drawing, its paper and its dimensions as a PNG, offered for saving.
 * @param {import('./stage.js').Stage} stage drawn in this very task
 * @param {import('./dimensions.js').Placed[]} placed @param {{ink: string, paper: string, font: string}} colors @param {string} name
 */
export function savePng(stage, placed, colors, name) {
  const source = stage.renderer.domElement;
  const sheet = document.createElement('canvas');
  Object.assign(sheet, { width: source.width, height: source.height });
  const pen = sheet.getContext('2d');
  if (!pen) return;
  pen.fillStyle = colors.paper;
  pen.fillRect(0, 0, sheet.width, sheet.height);
  pen.drawImage(source, 0, 0);
  pen.scale(stage.size.ratio, stage.size.ratio);
  inkLabels(pen, placed, colors);
  sheet.toBlob((blob) => {
    if (!blob) return;
    const link = document.createElement('a');
    link.href = URL.createObjectURL(blob);
    link.download = fileName(name, 'png');
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  }, 'image/png');
}

/** A name that any file system takes. @param {string} name @param {string} ending */
export function fileName(name, ending) {
  const plain = name.normalize('NFKD').replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-+|-+$/g, '').toLowerCase();
  return `${plain || 'box'}.${ending}`;
}

/**
 * Where the server draws this view in lines.
 * @param {string} base @param {import('./view.js').Sight} sight @param {import('./stance.js').Stance} stance
 * @param {readonly number[] | null} plane
 */
export function lineHref(base, sight, stance, plane) {
  const asked = new URLSearchParams({ from: words(toward(sight)) });
  if (stance.apart > 0) asked.set('apart', stance.apart.toFixed(3));
  if (stance.open > 0) asked.set('open', stance.open.toFixed(3));
  if (plane) asked.set('cut', words(/** @type {any} */ (plane)));
  return `${base}${base.includes('?') ? '&' : '?'}${asked}`;
}
