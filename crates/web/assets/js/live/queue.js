// @ts-check
// One request at a time: while one is under way, only the latest that was asked for meanwhile follows it.

/**
 * @template T
 * @param {(job: T) => Promise<void>} work
 * @param {(job: T, later: T) => T} [joined] what becomes of two jobs that wait; the later one alone if it is left out
 */
export function oneAtATime(work, joined = (_, later) => later) {
  /** @type {T[]} */
  let waiting = [];
  let busy = false;

  async function run() {
    busy = true;
    while (waiting.length) {
      const [job] = waiting;
      waiting = waiting.slice(1);
      try {
        await work(job);
      } catch (error) {
        console.error(error);
      }
    }
    busy = false;
  }

  return {
    /** @param {T} job */
    ask(job) {
      const last = waiting.at(-1);
      waiting = last === undefined ? [job] : [joined(last, job)];
      if (!busy) void run();
    },
    get busy() {
      return busy;
    },
  };
}

/**
 * Jobs one after another, each of them done.
 * @template T
 * @param {(job: T) => Promise<void>} work
 */
export function inOrder(work) {
  /** @type {Promise<void>} */
  let last = Promise.resolve();
  let open = 0;
  return {
    /** @param {T} job */
    ask(job) {
      open += 1;
      last = last
        .then(() => work(job))
        .catch((error) => console.error(error))
        .finally(() => {
          open -= 1;
        });
      return last;
    },
    get busy() {
      return open > 0;
    },
  };
}
