// @ts-check
// Ticks the free boards of the woods that the ticked boxes take; a board that was ticked by hand stays as it was put.

const form = /** @type {HTMLFormElement | null} */ (document.querySelector("[data-choose]"));

/** @param {HTMLFormElement} form */
function follow(form) {
  const boxes = /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll("[data-woods]"));
  const boards = /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll("[data-wood]"));
  /** @type {Set<HTMLInputElement>} */
  const byHand = new Set();
  form.addEventListener("change", (event) => {
    const changed = event.target;
    if (!(changed instanceof HTMLInputElement)) return;
    if (changed.dataset.wood !== undefined) byHand.add(changed);
    if (changed.dataset.woods === undefined) return;
    const woods = new Set();
    for (const box of boxes) {
      if (box.checked) for (const wood of (box.dataset.woods ?? "").split(" ")) woods.add(wood);
    }
    for (const board of boards) {
      if (!byHand.has(board)) board.checked = woods.has(board.dataset.wood ?? "");
    }
  });
}

if (form) follow(form);
