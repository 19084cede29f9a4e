// @ts-check
// A box while it is being changed: every key press is looked at, every finished field is saved, nothing typed is lost.

import { inOrder, oneAtATime } from './queue.js';
import * as show from './show.js';
import { body, keep, kept, step, without } from './typed.js';

/** Quiet after the last key before the new numbers are read out, milliseconds. */
const QUIET = 700;

const root = /** @type {HTMLElement | null} */ (document.querySelector('[data-box]'));
const slug = root?.dataset.box ?? '';
const forgery = /** @type {HTMLMetaElement | null} */ (document.querySelector('meta[name="forgery"]'))?.content ?? '';

/** @type {Storage | undefined} */
let storage;
try {
  storage = sessionStorage;
} catch {
  storage = undefined;
}

let typed = kept(storage, slug);
let base = /** @type {HTMLInputElement | null} */ (document.querySelector('[data-step] input[name="base"]'))?.value ?? '';
let draft = /** @type {HTMLInputElement | null} */ (document.querySelector('form[data-live] input[name="draft"]'))?.value ?? '';
/** Counts what is typed, so that a look that was overtaken is not read out. */
let presses = 0;
/** Counts what is saved, so that a look that was overtaken by it is not shown. */
let saved = 0;

/**
 * @param {string} what
 * @param {URLSearchParams} fields
 * @returns {Promise<show.Answer>}
 */
async function ask(what, fields) {
  const answer = await fetch(`/boxes/${slug}/${what}`, {
    method: 'POST',
    credentials: 'same-origin',
    headers: { accept: 'application/json', 'x-forgery': forgery },
    body: fields,
  });
  if (!answer.headers.get('content-type')?.startsWith('application/json')) throw new Error(`${answer.status}`);
  return answer.json();
}

function mark() {
  keep(storage, slug, typed);
  const line = document.querySelector('[data-version]');
  const number = line?.textContent?.match(/\d+/)?.[0];
  if (line && number) line.textContent = `version ${number}, ${typed.size ? 'not kept yet' : 'kept'}`;
}

const looks = oneAtATime(async (/** @type {number} */ press) => {
  const before = saved;
  let answer;
  try {
    answer = await ask('try', body({ base, draft }, typed));
  } catch {
    return;
  }
  await show.released();
  if (before !== saved) return;
  const left = show.problems(answer.problems);
  if (answer.ok) show.chapters(answer);
  performance.mark('keepwright:shown');
  setTimeout(() => {
    if (press !== presses) return;
    const first = answer.problems[0];
    if (answer.ok) show.say(answer.sentence);
    else show.say(first ? `${first.says}: ${first.remedy}` : '', { bad: true, more: left.slice(1) });
  }, QUIET);
});

/** @param {show.Answer} answer */
function settled(answer) {
  if (answer.base !== undefined) base = String(answer.base);
  show.standing(answer);
  draft = '';
  document.querySelector('[data-draft]')?.remove();
  show.fields(answer.forms ?? {}, typed);
  const left = show.problems(answer.problems);
  show.chapters(answer);
  const still = document.querySelector('[data-drawing="still"] [data-still]');
  if (still && !answer.problems.length) {
    const picture = new Image();
    picture.src = `/boxes/${slug}/figure/closed.svg?v=${base}`;
    picture.alt = answer.sentence;
    still.replaceChildren(picture);
  }
  if (answer.problems.length) show.say('Kept, but it cannot be planned like this.', { bad: true, more: left });
  else show.say(`Kept: ${answer.says}. ${answer.sentence}`);
}

/**
 * @typedef {{ what: string, chapter?: string, more?: [string, string][] }} Save
 */
const saves = inOrder(async (/** @type {Save} */ job) => {
  const sent = new Map(job.what === 'change' ? typed : []);
  if (job.what === 'change' && !sent.size && !job.more?.length) return;
  if (job.what !== 'change' && typed.size) {
    show.say('There is a change that is not kept yet: mend it first, then go back.', { bad: true });
    return;
  }
  let answer;
  try {
    answer = await ask(job.what, body({ base, draft, chapter: job.chapter }, sent, job.more));
  } catch {
    show.say('Not kept: the bench does not answer. What you typed stays in this window; save again.', { bad: true });
    return;
  }
  saved += 1;
  await show.released();
  if (answer.page) {
    typed = without(typed, sent);
    mark();
    const words = job.what === 'change' ? 'Another window saved first. Yours is kept beside it.' : 'Another window saved first; nothing was undone.';
    show.say(words, { bad: true, href: answer.page, link: 'See both' });
    return;
  }
  if (answer.ok) {
    typed = without(typed, sent);
    settled(answer);
    mark();
    return;
  }
  if (answer.draft) draft = String(answer.draft);
  const left = show.problems(answer.problems);
  const first = answer.problems[0];
  show.say(first ? `Not kept yet. ${first.says}: ${first.remedy}` : 'Not kept yet.', { bad: true, more: left.slice(1) });
});

/** @param {EventTarget | null} target */
function fieldOf(target) {
  const field = /** @type {HTMLInputElement | null} */ (target);
  const inForm = target instanceof Element && target.closest('form[data-live]');
  return inForm && field?.name?.startsWith('f:') ? field : undefined;
}

/** @param {Event} event */
function note(event) {
  const field = fieldOf(event.target);
  if (!field) return undefined;
  typed.set(field.name, field.value);
  presses += 1;
  mark();
  return field;
}

if (root) {
  document.addEventListener('input', (event) => {
    if (note(event)) looks.ask(presses);
  });
  document.addEventListener('change', (event) => {
    const field = note(event);
    if (field) void saves.ask({ what: 'change', chapter: field.closest('form')?.dataset.live });
  });
  document.addEventListener('submit', (event) => {
    const form = /** @type {HTMLFormElement} */ (event.target);
    const way = form.dataset.step;
    if (!way && !form.action.endsWith(`/boxes/${slug}/change`)) return;
    event.preventDefault();
    if (way) {
      // What is typed is saved first: then there is something to undo.
      void saves.ask({ what: 'change' });
      void saves.ask({ what: way });
      return;
    }
    const fields = [...new FormData(form, event.submitter)].map(([n, v]) => /** @type {[string, string]} */ ([n, String(v)]));
    const more = fields.filter(([name]) => ['set', 'says', 'row', 'at'].includes(name));
    void saves.ask({ what: 'change', chapter: form.dataset.live, more });
  });
  document.addEventListener('keydown', (event) => {
    const at = document.activeElement;
    const typing = at instanceof HTMLTextAreaElement || (at instanceof HTMLInputElement && at.type !== 'checkbox' && at.type !== 'range');
    const way = step(event, typing);
    if (!way) return;
    event.preventDefault();
    const button = document.querySelector(`[data-step="${way}"] button`);
    if (button instanceof HTMLButtonElement) button.click();
  });
  addEventListener('beforeunload', (event) => {
    if (typed.size || saves.busy) event.preventDefault();
  });
  // After a reload what was typed stands in the fields again.
  for (const [name, value] of typed) {
    const field = document.querySelector(`form[data-live] [name="${CSS.escape(name)}"]`);
    if (!field || !('value' in field)) typed.delete(name);
    else field.value = value;
  }
  mark();
  if (typed.size) looks.ask(presses);
}
