// @ts-check
// The drawing of a box: finds its element, draws the server's scene in it, answers hand and page.
//
// Events on the element: it tells `keepwright:part` (detail: a part's id, or null) when a part is pressed, and hears
// `keepwright:show-part` (the same, or a list of ids) and `keepwright:scene` (detail: another scene).

import { makeBench } from './bench.js';
import { cardOf } from './stage.js';

for (const root of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll('[data-drawing]'))) {
  const data = root.querySelector('script[data-scene]');
  const canvas = root.querySelector('canvas');
  const card = canvas && cardOf(canvas);
  // No script block, no WebGL: the server's line drawing stays in its place.
  if (canvas && card && data?.textContent) makeBench(root, canvas, card, JSON.parse(data.textContent));
  else root.dataset.drawing = 'still';
}
