// @ts-check
// One part everywhere: a press on its name shows it in the drawing and marks it in every chapter; a press in the
// drawing marks every place and says where they are.

const chapters = document.querySelector('[data-chapters]');
const says = document.querySelector('[data-part-says]');

/** @type {string[]} the ids of the parts that are shown now */
let shown = [];
let name = '';

/** The elements about the shown parts. */
function places() {
  return [...(chapters?.querySelectorAll('[data-part]') ?? [])].filter((place) =>
    (place.getAttribute('data-part') ?? '').split(' ').some((id) => shown.includes(id)),
  );
}

function mark() {
  const here = new Set(places());
  for (const was of chapters?.querySelectorAll('[data-part].shown') ?? []) {
    if (here.has(was)) continue;
    was.classList.remove('shown');
    was.removeAttribute('aria-current');
  }
  for (const place of here) {
    place.classList.add('shown');
    place.setAttribute('aria-current', 'true');
  }
}

/** Chapters with the shown parts, in the order of the page, with how many places each has. */
function where() {
  /** @type {Map<HTMLElement, { first: Element, count: number }>} */
  const found = new Map();
  for (const place of places()) {
    const chapter = /** @type {HTMLElement | null} */ (place.closest('.chapter'));
    if (!chapter) continue;
    const have = found.get(chapter);
    if (have) have.count += 1;
    else found.set(chapter, { first: place, count: 1 });
  }
  return found;
}

/** @param {Element} place */
function go(place) {
  for (let at = place.parentElement; at; at = at.parentElement) if (at instanceof HTMLDetailsElement) at.open = true;
  const calm = matchMedia('(prefers-reduced-motion: reduce)').matches;
  place.scrollIntoView({ block: 'center', behavior: calm ? 'auto' : 'smooth' });
  if (place instanceof HTMLElement) place.focus({ preventScroll: true });
}

function tell() {
  if (!says) return;
  if (!shown.length) {
    says.replaceChildren();
    return;
  }
  /** @type {(Node | string)[]} */
  const words = [`${name.charAt(0).toUpperCase()}${name.slice(1)}: `];
  const found = [...where()];
  if (!found.length) words.push('not named in the chapters.');
  for (const [index, [chapter, { first, count }]] of found.entries()) {
    const link = document.createElement('a');
    link.href = `#${chapter.id}`;
    link.textContent = chapter.querySelector('h2')?.textContent ?? chapter.id;
    link.addEventListener('click', (event) => {
      event.preventDefault();
      go(first);
    });
    words.push(index ? ', ' : 'in ', link, count > 1 ? ` (${count} places)` : '');
  }
  const clear = document.createElement('button');
  clear.type = 'button';
  clear.textContent = 'Show none';
  clear.addEventListener('click', () => show([], '', true));
  words.push(' ', clear);
  says.replaceChildren(...words);
}

/**
 * @param {string[]} ids
 * @param {string} words
 * @param {boolean} inDrawing whether the drawing is to be told
 */
function show(ids, words, inDrawing) {
  shown = ids;
  name = words || ids[0]?.replaceAll('-', ' ') || '';
  mark();
  tell();
  if (!inDrawing) return;
  const drawing = document.querySelector('[data-drawing]');
  drawing?.dispatchEvent(new CustomEvent('keepwright:show-part', { detail: ids }));
}

chapters?.addEventListener('click', (event) => {
  const part = event.target instanceof Element ? event.target.closest('a.part') : null;
  if (!(part instanceof HTMLAnchorElement) || !(event instanceof MouseEvent)) return;
  if (event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
  event.preventDefault();
  show((part.getAttribute('data-part') ?? '').split(' ').filter(Boolean), part.textContent ?? '', true);
});

document.addEventListener('keepwright:part', (event) => {
  const id = /** @type {CustomEvent} */ (event).detail;
  show(id ? [String(id)] : [], '', false);
});

// A chapter that was written anew knows nothing of the mark.
if (chapters) {
  new MutationObserver((changes) => {
    if (shown.length && changes.some((change) => change.addedNodes.length)) mark();
  }).observe(chapters, { childList: true, subtree: true });
}
