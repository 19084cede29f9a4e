// @ts-check
// The drawing of a box: finds its element, draws the server's scene in it, answers hand and page.
//
// Events on the element: it tells `keepwright:part` (detail: a part's id, or null) when a part is pressed, and hears
// `keepwright:show-part` (the same) and `keepwright:scene` (detail: another scene).

import { makeBench } from './bench.js';

for (const root of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll('[data-drawing]'))) {
  const data = root.querySelector('script[data-scene]');
  const canvas = root.querySelector('canvas');
  if (!data?.textContent || !canvas) continue;
  try {
    makeBench(root, canvas, JSON.parse(data.textContent));
  } catch (error) {
    // No WebGL: the server's line drawing stays in its place.
    root.dataset.drawing = 'still';
    console.info('drawing in space is not possible here:', error);
  }
}
