// @ts-check
// The controls beside the drawing: found by their data attributes, told as changes of a state.

/**
 * @typedef {object} State
 * @property {number} apart 0 to 1 @property {number} open 0 to 1
 * @property {'' | 'front' | 'right' | 'top'} side what is cut away, nothing if empty @property {number} cut 0 to 1
 * @property {boolean} sizes @property {boolean} through @property {boolean} finished
 */

/** @type {State} */
export const START = { apart: 0, open: 0, side: '', cut: 0.5, sizes: true, through: false, finished: true };

/**
 * Listens to the controls until the signal ends.
 * @param {HTMLElement} root @param {AbortSignal} signal
 * @param {{change: (state: State) => void, view: (name: string) => void, part: (id: string | null) => void, picture: () => void}} hears
 */
export function listenPanel(root, signal, hears) {
  /** @type {State} */
  const state = { ...START };
  const find = (/** @type {string} */ name) => /** @type {any} */ (root.querySelector(`[data-${name}]`));
  const on = (/** @type {any} */ node, /** @type {string} */ name, /** @type {() => void} */ act) => node?.addEventListener(name, act, { signal });
  const parts = find('part-list');

  function shares() {
    for (const name of /** @type {const} */ (['apart', 'open', 'cut'])) {
      const range = find(name);
      if (!range) continue;
      range.value = String(Math.round(state[name] * 100));
      range.setAttribute('aria-valuetext', `${range.value} percent`);
    }
    if (find('cut')) find('cut').disabled = state.side === '';
  }

  for (const name of /** @type {const} */ (['apart', 'open', 'cut'])) {
    on(find(name), 'input', () => {
      state[name] = Number(find(name).value) / 100;
      shares();
      hears.change(state);
    });
  }
  on(find('side'), 'change', () => {
    state.side = find('side').value;
    shares();
    hears.change(state);
  });
  for (const name of /** @type {const} */ (['sizes', 'through', 'finished'])) {
    const box = find(name);
    if (box) box.checked = state[name];
    on(box, 'change', () => {
      state[name] = box.checked;
      hears.change(state);
    });
  }
  for (const button of root.querySelectorAll('[data-view]')) on(button, 'click', () => hears.view(button.getAttribute('data-view') ?? ''));
  on(parts, 'change', () => hears.part(parts.value || null));
  on(find('picture'), 'click', hears.picture);
  if (find('side')) find('side').value = state.side;
  shares();

  return {
    state,
    /** Offers a box's parts, and its lid if it has one. @param {any} scene */
    offer(scene) {
      const lid = find('lid-control');
      if (lid) lid.hidden = !scene.lid;
      if (!scene.lid) state.open = 0;
      if (!parts) return;
      const names = new Map(scene.pieces.map((/** @type {any} */ p) => [p.part, p.name]));
      const kept = parts.value;
      const options = [...names].map(([id, name]) => new Option(name, id));
      parts.replaceChildren(new Option('none', ''), ...options);
      parts.value = names.has(kept) ? kept : '';
    },
    /** @param {string | null} part */
    mark(part) {
      if (parts) parts.value = part ?? '';
    },
  };
}
