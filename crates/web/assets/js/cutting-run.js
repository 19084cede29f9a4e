// @ts-check
// Follows a cutting run: progress, numbers and the best plan's drawing, all computed and written by the server.

const EVERY = 300;

/**
 * @typedef {{ cost: string, bound: string, gap: string, waste: string, boards: number, missing: number }} Facts
 * @typedef {{ state: string, elapsed: number, seconds: number, drawing: number, says: string, facts: Facts | null }} Told
 */

const run = /** @type {HTMLElement | null} */ (document.querySelector("[data-run]"));

/** @param {HTMLElement} run */
async function follow(run) {
  const address = `/cutting/${run.dataset.run}`;
  const bar = /** @type {HTMLProgressElement | null} */ (run.querySelector("[data-progress]"));
  let drawing = Number(run.dataset.drawing);
  for (;;) {
    await new Promise((done) => setTimeout(done, EVERY));
    /** @type {Told} */
    let told;
    try {
      const answer = await fetch(`${address}/progress`, { headers: { accept: "application/json" } });
      if (!answer.ok) continue;
      told = await answer.json();
    } catch {
      continue; // The bench is busy or restarting: ask again.
    }
    if (told.state !== "running") {
      location.reload();
      return;
    }
    if (bar && told.seconds > 0) bar.value = told.elapsed;
    if (told.says) say(told.says);
    if (told.facts) show(told.facts);
    if (told.drawing > drawing && (await redraw(`${address}/best`))) drawing = told.drawing;
  }
}

/** Only when it is another sentence, so that it is not read out again and again. @param {string} words */
function say(words) {
  const place = document.querySelector("[data-says]");
  if (place && place.textContent !== words) place.textContent = words;
}

/** @param {Facts} facts */
function show(facts) {
  const list = /** @type {HTMLElement | null} */ (document.querySelector("[data-facts]"));
  if (!list) return;
  list.hidden = false;
  for (const [name, value] of Object.entries(facts)) {
    const place = list.querySelector(`[data-fact="${name}"]`);
    if (place) place.textContent = String(value);
  }
}

/** @param {string} address @returns {Promise<boolean>} */
async function redraw(address) {
  const place = document.querySelector("[data-best]");
  try {
    const answer = await fetch(address);
    if (!answer.ok || !place) return false;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (page.body.childElementCount === 0) return false;
    place.replaceChildren(...page.body.children);
    return true;
  } catch {
    return false;
  }
}

if (run) follow(run);
