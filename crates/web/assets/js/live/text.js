// @ts-check
// The whole text while it is typed: kept in the window's own memory until the bench shows the same.

import { keep, kept } from './typed.js';

const form = /** @type {HTMLFormElement | null} */ (document.querySelector('form[data-text]'));
const text = form?.querySelector('textarea');
const base = form?.querySelector('input[name="base"]');
const note = document.querySelector('[data-text-note]');

/** @type {Storage | undefined} */
let storage;
try {
  storage = sessionStorage;
} catch {
  storage = undefined;
}

if (form && text && base instanceof HTMLInputElement && !text.readOnly) {
  const place = `text-${form.dataset.text}`;
  const shown = text.value;
  const before = kept(storage, place);
  const typed = before.get('text');
  let sending = false;
  if (typed === shown) keep(storage, place, new Map());
  else if (typed !== undefined) {
    text.value = typed;
    // It was made from that version: should another have come since, the bench tells.
    base.value = before.get('base') ?? base.value;
    if (note) note.textContent = 'What was typed here before is back; it is not kept yet.';
  }
  text.addEventListener('input', () => {
    const same = text.value === shown;
    keep(storage, place, new Map(same ? [] : [['text', text.value], ['base', base.value]]));
  });
  form.addEventListener('submit', () => {
    sending = true;
  });
  addEventListener('beforeunload', (event) => {
    if (!sending && text.value !== shown) event.preventDefault();
  });
}
