// @ts-check
// What is typed and not yet saved: kept in the window's own memory until the bench has it.

/** @typedef {Map<string, string>} Typed names of fields with what was typed */

/** @param {string} slug */
const place = (slug) => `keepwright-typed-${slug}`;

/**
 * What was typed before a reload.
 * @param {Storage | undefined} storage
 * @param {string} slug
 * @returns {Typed}
 */
export function kept(storage, slug) {
  try {
    const text = storage?.getItem(place(slug));
    const read = text ? JSON.parse(text) : [];
    const pairs = Array.isArray(read) ? read.filter((p) => Array.isArray(p) && p.length === 2 && p.every((t) => typeof t === 'string')) : [];
    return new Map(pairs);
  } catch {
    return new Map();
  }
}

/**
 * @param {Storage | undefined} storage
 * @param {string} slug
 * @param {Typed} typed
 */
export function keep(storage, slug, typed) {
  try {
    if (typed.size) storage?.setItem(place(slug), JSON.stringify([...typed]));
    else storage?.removeItem(place(slug));
  } catch {
    // Storage that is full or forbidden: the fields themselves still hold it.
  }
}

/**
 * What is left once some of it was saved: a field that was typed in again meanwhile stays.
 * @param {Typed} typed
 * @param {Typed} saved
 * @returns {Typed}
 */
export function without(typed, saved) {
  return new Map([...typed].filter(([name, value]) => saved.get(name) !== value));
}

/**
 * The body of a request.
 * @param {{ base: string, draft?: string, chapter?: string }} from
 * @param {Typed} typed
 * @param {[string, string][]} [more]
 */
export function body(from, typed, more = []) {
  const fields = new URLSearchParams();
  fields.set('base', from.base);
  if (from.draft) fields.set('draft', from.draft);
  if (from.chapter) fields.set('chapter', from.chapter);
  for (const [name, value] of typed) fields.append(name, value);
  for (const [name, value] of more) fields.append(name, value);
  return fields;
}

/**
 * Whether keys mean undo or redo; not while a text is being typed, where they are the browser's own.
 * @param {{ key: string, ctrlKey: boolean, metaKey: boolean, shiftKey: boolean, altKey: boolean }} press
 * @param {boolean} typing
 * @returns {'undo' | 'redo' | undefined}
 */
export function step(press, typing) {
  if (typing || press.altKey || !(press.ctrlKey || press.metaKey)) return undefined;
  const key = press.key.toLowerCase();
  if (key === 'z') return press.shiftKey ? 'redo' : 'undo';
  return key === 'y' && !press.shiftKey ? 'redo' : undefined;
}
