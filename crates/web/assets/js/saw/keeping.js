// @ts-check
// A copy of the cards on this device: the service worker keeps it, and tells the page when the network is back.

/**
 * @param {HTMLElement} root
 * @param {HTMLElement | null} words where it is said what is kept
 * @param {() => Promise<void>} send sends waiting ticks
 */
export async function keeping(root, words, send) {
  const say = (/** @type {string} */ text) => {
    if (!words) return;
    words.textContent = text;
    words.hidden = false;
  };
  if (!("serviceWorker" in navigator)) {
    say("Leave this page open: cards, ticks and clocks then work without the network. This browser keeps no copy of a page that comes over plain HTTP from another machine.");
    return;
  }
  navigator.serviceWorker.addEventListener("message", (event) => {
    if (event.data === "send") void send();
    if (event.data?.kept === root.dataset.saw) say("Kept on this device: the cards open without the network.");
    if (event.data?.failed === root.dataset.saw) say("The copy on this device could not be renewed; an older one may be there.");
  });
  try {
    await navigator.serviceWorker.register("/service-worker.js", { scope: "/" });
    const worker = await navigator.serviceWorker.ready;
    worker.active?.postMessage({ keep: root.dataset.saw });
  } catch {
    say("Leave this page open: this browser keeps no copy of the cards.");
  }
}

/** Asks the browser to wake the worker when the network is back, where it can. */
export async function wakeWhenBack() {
  try {
    const worker = /** @type {any} */ (await navigator.serviceWorker?.ready);
    await worker?.sync?.register("ticks");
  } catch {
    // Not allowed here: the page itself sends when it is looked at again.
  }
}
