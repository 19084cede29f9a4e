// @ts-check
// A trade word in a text says what it means when it is pressed; without script the link leads to the glossary.

/** @type {HTMLElement | null} */
let shown = null;
/** @type {HTMLElement | null} */
let from = null;

/** Takes the meaning away, and gives the focus back where it came from. */
function hide() {
  if (!shown) return;
  const had = shown.contains(document.activeElement);
  shown.remove();
  shown = null;
  from?.removeAttribute("aria-expanded");
  if (had) from?.focus();
  from = null;
}

/**
 * Shows what a word means, right behind it.
 * @param {HTMLAnchorElement} link
 */
function show(link) {
  const note = document.createElement("span");
  note.className = "word-says";
  note.setAttribute("role", "note");
  note.append(link.dataset.says ?? "", " ");
  const more = document.createElement("a");
  more.href = link.href;
  more.textContent = "All words";
  note.append(more);
  link.after(note);
  link.setAttribute("aria-expanded", "true");
  shown = note;
  from = link;
}

document.addEventListener("click", (event) => {
  if (!(event.target instanceof Element) || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const link = event.target.closest("a.word");
  if (link instanceof HTMLAnchorElement) {
    event.preventDefault();
    const again = link === from;
    hide();
    if (!again) show(link);
  } else if (!shown?.contains(event.target)) {
    hide();
  }
});
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape") hide();
});
