// @ts-check
// Shows an answer of the bench: chapters, drawing, problems at their fields, fields that look different now.

/**
 * @typedef {{ key: string, field: string, chapter: string, says: string, remedy: string, line: number, column: number }} Spot
 * @typedef {{ ok: boolean, problems: Spot[], chapters: Record<string, string>, scene: unknown, sentence: string,
 *   base?: number, number?: number, says?: string, undo?: boolean, redo?: boolean, draft?: number | null,
 *   page?: string | null, forms?: Record<string, string> }} Answer
 */

/**
 * Text of the bench as nodes; the bench has escaped what makers typed.
 * @param {string} html
 */
function nodes(html) {
  const page = new DOMParser().parseFromString(html, 'text/html');
  return [...page.body.childNodes].map((node) => document.importNode(node, true));
}

/** @param {Answer} answer */
export function chapters(answer) {
  for (const [id, html] of Object.entries(answer.chapters)) {
    const place = document.querySelector(`[data-computed="${id}"]`);
    if (!place) continue;
    const open = [...place.querySelectorAll('details')].map((d) => d.open);
    place.replaceChildren(...nodes(html));
    place.querySelectorAll('details').forEach((d, i) => {
      d.open = open[i] ?? d.open;
    });
  }
  if (answer.scene) {
    const drawing = document.querySelector('[data-drawing]');
    drawing?.dispatchEvent(new CustomEvent('keepwright:scene', { detail: answer.scene }));
  }
}

/**
 * The version in force and what can be done with it.
 * @param {Answer} answer
 */
export function standing(answer) {
  for (const field of document.querySelectorAll('input[name="base"]')) field.setAttribute('value', String(answer.base));
  const line = document.querySelector('[data-version]');
  if (line) line.textContent = `version ${answer.number}, kept`;
  const last = document.querySelector('[data-last]');
  if (last) last.textContent = answer.says ?? '';
  /** @type {['undo' | 'redo', boolean | undefined][]} */
  const ways = [['undo', answer.undo], ['redo', answer.redo]];
  for (const [way, can] of ways) {
    const button = document.querySelector(`[data-step="${way}"] button`);
    if (button instanceof HTMLButtonElement) button.disabled = !can;
  }
}

/** @type {Promise<void> | undefined} */
let pressed;
document.addEventListener('pointerdown', () => {
  pressed = new Promise((resolve) => {
    const up = () => setTimeout(resolve, 0);
    for (const end of ['pointerup', 'pointercancel']) document.addEventListener(end, up, { once: true });
  });
}, { capture: true });

/** When no button is held: what is written anew under a press would lose it. */
export async function released() {
  await pressed;
}

/** Takes away what was said at fields. */
function clear() {
  for (const said of document.querySelectorAll('form[data-live] .wrong')) {
    const field = document.querySelector(`[aria-describedby~="${said.id}"]`);
    const others = (field?.getAttribute('aria-describedby') ?? '').split(' ').filter((id) => id && id !== said.id);
    if (others.length) field?.setAttribute('aria-describedby', others.join(' '));
    else field?.removeAttribute('aria-describedby');
    field?.removeAttribute('aria-invalid');
    said.remove();
  }
}

/**
 * Says at each field what is wrong with it; what has no field on the page is left over.
 * @param {Spot[]} problems
 * @returns {Spot[]}
 */
export function problems(problems) {
  clear();
  return problems.filter((problem) => {
    const field = problem.field ? document.getElementById(problem.field) : null;
    if (!field) return true;
    const id = `${problem.field}-wrong`;
    let said = document.getElementById(id);
    if (!said) {
      said = document.createElement('div');
      said.id = id;
      said.className = 'wrong';
      if (field instanceof HTMLFieldSetElement) field.querySelector('legend')?.after(said);
      else (field.closest('.field') ?? field).append(said);
      field.setAttribute('aria-describedby', `${field.getAttribute('aria-describedby') ?? ''} ${id}`.trim());
      if (!(field instanceof HTMLFieldSetElement)) field.setAttribute('aria-invalid', 'true');
    }
    const line = document.createElement('p');
    line.textContent = `${problem.says}: ${problem.remedy}`;
    said.append(line);
    return false;
  });
}

/**
 * Writes fields anew; what is being typed keeps its place and its text.
 * @param {Record<string, string>} forms
 * @param {Map<string, string>} typed
 */
export function fields(forms, typed) {
  for (const [id, html] of Object.entries(forms)) {
    const place = document.querySelector(`[data-fields="${id}"]`);
    if (!place) continue;
    const active = document.activeElement;
    const inside = active instanceof HTMLElement && place.contains(active) ? active : undefined;
    const name = inside?.getAttribute('name');
    const button = inside?.getAttribute('value');
    const caret = inside instanceof HTMLInputElement ? [inside.selectionStart, inside.selectionEnd] : undefined;
    place.replaceChildren(...nodes(html));
    for (const field of place.querySelectorAll('[name]')) {
      const text = typed.get(field.getAttribute('name') ?? '');
      if (text !== undefined && 'value' in field) field.value = text;
    }
    if (!name) continue;
    const again = [...place.querySelectorAll(`[name="${CSS.escape(name)}"]`)];
    const same = again.find((f) => name !== 'row' || f.getAttribute('value') === button) ?? again.at(-1);
    if (same instanceof HTMLElement) same.focus({ preventScroll: true });
    if (same instanceof HTMLInputElement && caret) same.setSelectionRange(caret[0], caret[1]);
  }
}

/**
 * @param {string} words
 * @param {{ bad?: boolean, href?: string, link?: string, more?: Spot[] }} [how]
 */
export function say(words, how = {}) {
  const place = document.querySelector('[data-live-says]');
  if (!place) return;
  place.classList.toggle('bad', Boolean(how.bad));
  /** @type {Node[]} */
  const lines = [];
  /** @param {string} text */
  const line = (text) => {
    const p = document.createElement('p');
    p.textContent = text;
    lines.push(p);
    return p;
  };
  if (words) {
    const first = line(words);
    if (how.href) {
      const link = document.createElement('a');
      link.href = how.href;
      link.textContent = how.link ?? '';
      first.append(' ', link);
    }
  }
  for (const problem of how.more ?? []) line(`Line ${problem.line}: ${problem.says}: ${problem.remedy}`);
  place.replaceChildren(...lines);
}
