// @ts-check
// One card at a time: buttons, links, arrow keys, a swipe. The address follows, so that Back goes back and a reload shows
// the same card.

/** A swipe goes at least this far across, in pixels, and twice as far across as up or down. */
const SWIPE = 60;

/**
 * Whether a finger's way was a swipe, and to which side.
 * @param {number} dx
 * @param {number} dy
 * @returns {-1 | 0 | 1}
 */
export function swiped(dx, dy) {
  if (Math.abs(dx) < SWIPE || Math.abs(dx) < 2 * Math.abs(dy)) return 0;
  return dx < 0 ? 1 : -1;
}

/**
 * The card that an address asks for; 0 for the list.
 * @param {string} path
 * @param {string} hash
 * @param {number} total
 * @returns {number}
 */
export function asked(path, hash, total) {
  const found = /\/saw\/(\d+)$/.exec(path) ?? /^#card-(\d+)$/.exec(hash);
  const number = found ? Number(found[1]) : 0;
  return number >= 1 && number <= total ? number : 0;
}

/**
 * @param {HTMLElement} root
 */
export function cards(root) {
  const list = /** @type {HTMLElement} */ (root.querySelector("[data-list]"));
  const all = /** @type {HTMLElement[]} */ ([...root.querySelectorAll("[data-card]")]);
  const base = `/boxes/${root.dataset.saw}/saw`;
  let at = asked(location.pathname, location.hash, all.length);

  const show = (/** @type {number} */ number) => {
    at = number;
    list.hidden = number !== 0;
    all.forEach((card, i) => (card.hidden = i + 1 !== number));
    root.dataset.at = String(number);
  };

  const go = (/** @type {number} */ number) => {
    if (number < 0 || number > all.length || number === at) return;
    const from = at;
    history.pushState(null, "", number === 0 ? base : `${base}/${number}`);
    show(number);
    window.scrollTo(0, 0);
    if (number === 0) {
      const link = /** @type {HTMLElement | null} */ (list.querySelector(`[data-to="${from}"]`));
      link?.focus();
      link?.scrollIntoView({ block: "center" });
    } else {
      /** @type {HTMLElement | null} */ (all[number - 1].querySelector("h2"))?.focus({ preventScroll: true });
    }
  };

  root.addEventListener("click", (event) => {
    const target = event.target instanceof Element ? event.target.closest("[data-to], [data-go-on]") : null;
    if (!(target instanceof HTMLAnchorElement) || event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0) return;
    event.preventDefault();
    go(target.dataset.to === undefined ? asked(target.pathname, "", all.length) : Number(target.dataset.to));
  });
  document.addEventListener("keydown", (event) => {
    if (at === 0 || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    if (event.key === "ArrowRight") go(at + 1);
    else if (event.key === "ArrowLeft") go(at - 1 || at);
    else if (event.key === "Escape") go(0);
    else return;
    event.preventDefault();
  });
  /** @type {{ x: number, y: number } | null} */
  let down = null;
  root.addEventListener("touchstart", (event) => {
    const finger = event.touches.length === 1 ? event.touches[0] : null;
    down = finger && { x: finger.clientX, y: finger.clientY };
  }, { passive: true });
  root.addEventListener("touchend", (event) => {
    const finger = event.changedTouches[0];
    if (!down || !finger || at === 0) return;
    const side = swiped(finger.clientX - down.x, finger.clientY - down.y);
    if (side !== 0) go(at + side || at);
    down = null;
  }, { passive: true });
  window.addEventListener("popstate", () => show(asked(location.pathname, location.hash, all.length)));
  show(at);
}
