// @ts-check
// Follows a packet while it is made: how far it is, in the server's words.

const EVERY = 300;

/** @typedef {{ running: boolean, done: number, of: number | null, says: string }} Told */

const packet = /** @type {HTMLElement | null} */ (document.querySelector("[data-packet]"));

/** @param {HTMLElement} packet */
async function follow(packet) {
  const bar = /** @type {HTMLProgressElement | null} */ (packet.querySelector("[data-progress]"));
  for (;;) {
    await new Promise((done) => setTimeout(done, EVERY));
    /** @type {Told} */
    let told;
    try {
      const answer = await fetch(`${packet.dataset.packet}/progress`, { headers: { accept: "application/json" } });
      if (!answer.ok) continue;
      told = await answer.json();
    } catch {
      continue; // The bench is busy or restarting: ask again.
    }
    if (!told.running) {
      location.reload();
      return;
    }
    if (bar && told.of !== null) {
      bar.max = told.of;
      bar.value = told.done;
    }
    say(told.says);
  }
}

/** Only when it is another sentence, so that it is not read out again and again. @param {string} words */
function say(words) {
  const place = document.querySelector("[data-says]");
  if (place && place.textContent !== words) place.textContent = words;
}

if (packet) follow(packet);
