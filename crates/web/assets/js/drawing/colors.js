// @ts-check
// The page's colors and face, from its custom properties.

/** Ink and paper where a page states none. */
const PLAIN = { '--ink': '#241a12', '--paper': '#faf6ee', '--drawing-line': '#241a12', '--drawing-mark': '#1c5c9c' };

/** @param {Element} root */
export function colorsOf(root) {
  const style = getComputedStyle(root);
  const of = (/** @type {keyof typeof PLAIN} */ name) => style.getPropertyValue(name).trim() || PLAIN[name];
  return { ink: of('--ink'), paper: of('--paper'), line: of('--drawing-line'), mark: of('--drawing-mark'), font: style.fontFamily };
}
