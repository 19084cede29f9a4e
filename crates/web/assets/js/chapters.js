// @ts-check
// The bar of chapters: marks the chapter that is being read, and keeps its own mark in view on a narrow screen.

const bar = document.querySelector('[data-chapter-bar]');
/** @type {Map<string, HTMLAnchorElement>} */
const links = new Map();
for (const link of bar?.querySelectorAll('a') ?? []) links.set(link.hash.slice(1), link);

/** @type {string | undefined} */
let marked;

/** @param {string | undefined} id */
function mark(id) {
  if (!id || id === marked) return;
  if (marked) links.get(marked)?.removeAttribute('aria-current');
  marked = id;
  const link = links.get(id);
  link?.setAttribute('aria-current', 'true');
  if (bar && link && bar.scrollWidth > bar.clientWidth) {
    bar.scrollLeft = link.offsetLeft - (bar.clientWidth - link.offsetWidth) / 2;
  }
}

/** The last chapter whose beginning has come up to the bar. */
function reading() {
  const under = (bar?.getBoundingClientRect().bottom ?? 0) + 60;
  let found = links.keys().next().value;
  for (const id of links.keys()) {
    const top = document.getElementById(id)?.getBoundingClientRect().top;
    if (top !== undefined && top <= under) found = id;
  }
  // The last chapter may be too short to come up so far.
  const page = document.documentElement;
  if (page.scrollTop > 0 && page.scrollTop + page.clientHeight >= page.scrollHeight - 2) found = [...links.keys()].pop();
  mark(found);
}

let waiting = false;
function later() {
  if (waiting) return;
  waiting = true;
  requestAnimationFrame(() => {
    waiting = false;
    reading();
  });
}

/** A table takes a stop of the Tab key only where it must be scrolled. */
function stops() {
  for (const table of document.querySelectorAll('[data-chapters] .wide')) {
    if (table.scrollWidth > table.clientWidth + 1) table.setAttribute('tabindex', '0');
    else table.removeAttribute('tabindex');
  }
}

/** A chapter that is gone to begins under the bar, however many lines the bar takes. */
function measure() {
  if (bar instanceof HTMLElement) document.documentElement.style.setProperty('--bar', `${bar.offsetHeight}px`);
  stops();
  later();
}

if (bar) {
  addEventListener('scroll', later, { passive: true });
  addEventListener('resize', measure, { passive: true });
  measure();
  const chapters = document.querySelector('[data-chapters]');
  if (chapters) new MutationObserver(stops).observe(chapters, { childList: true, subtree: true });
}
