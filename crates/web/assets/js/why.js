// @ts-check
// A press on a number: where it comes from, in a dialog. Without script the number is a link to the same as a page.

/** @type {HTMLDialogElement | null} */
const dialog = document.querySelector('dialog[data-why-dialog]');
const text = dialog?.querySelector('[data-why-text]');

/**
 * @param {string} href
 * @returns {Promise<Node[]>}
 */
async function asked(href) {
  const address = new URL(href, location.href);
  address.searchParams.set('part', '1');
  const answer = await fetch(address, { credentials: 'same-origin' });
  const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
  const from = answer.ok ? page.body : (page.querySelector('main') ?? page.body);
  return [...from.childNodes].map((node) => document.importNode(node, true));
}

document.addEventListener('click', async (event) => {
  const link = event.target instanceof Element ? event.target.closest('a.why') : null;
  if (!(link instanceof HTMLAnchorElement) || !dialog || !text) return;
  // A press that asks for another window keeps its meaning.
  if (event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
  event.preventDefault();
  try {
    text.replaceChildren(...(await asked(link.href)));
    dialog.showModal();
  } catch {
    // The bench does not answer: the page itself says so better.
    location.assign(link.href);
  }
});

// A press beside the dialog closes it, as Escape does.
dialog?.addEventListener('click', (event) => {
  if (event.target === dialog) dialog.close();
});
