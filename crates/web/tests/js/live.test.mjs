// What happens between a key press and its answer: one look at a time, the latest wins; nothing typed is forgotten.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { inOrder, oneAtATime } from '../../assets/js/live/queue.js';
import { body, keep, kept, step, without } from '../../assets/js/live/typed.js';

/** A promise with its key outside. */
function gate() {
  let open;
  const passed = new Promise((resolve) => {
    open = resolve;
  });
  return { passed, open };
}

const later = () => new Promise((resolve) => setTimeout(resolve, 0));

test('one look at a time, and then the latest only', async () => {
  const begun = [];
  const gates = [];
  let most = 0;
  let now = 0;
  const looks = oneAtATime(async (job) => {
    begun.push(job);
    now += 1;
    most = Math.max(most, now);
    const g = gate();
    gates.push(g);
    await g.passed;
    now -= 1;
  });
  for (const job of [1, 2, 3, 4]) looks.ask(job);
  assert.deepEqual(begun, [1]);
  gates[0].open();
  await later();
  assert.deepEqual(begun, [1, 4]);
  assert.equal(looks.busy, true);
  gates[1].open();
  await later();
  assert.equal(looks.busy, false);
  assert.equal(most, 1);
});

test('a look that fails does not end the looking', async () => {
  const error = console.error;
  console.error = () => {};
  const done = [];
  const looks = oneAtATime(async (job) => {
    if (job === 1) throw new Error('no answer');
    done.push(job);
  });
  looks.ask(1);
  await later();
  looks.ask(2);
  await later();
  console.error = error;
  assert.deepEqual(done, [2]);
});

test('saves are all made, one after another', async () => {
  const done = [];
  const saves = inOrder(async (job) => {
    await later();
    done.push(job);
  });
  saves.ask('a');
  saves.ask('b');
  assert.equal(saves.busy, true);
  await saves.ask('c');
  assert.deepEqual(done, ['a', 'b', 'c']);
  assert.equal(saves.busy, false);
});

test('what is typed outlives a reload until it is saved', () => {
  const inside = new Map();
  const storage = {
    getItem: (k) => inside.get(k) ?? null,
    setItem: (k, v) => inside.set(k, v),
    removeItem: (k) => inside.delete(k),
  };
  const typed = new Map([['f:walls.thickness', '7 1/2"'], ['f:name', '<b>']]);
  keep(storage, 'box', typed);
  assert.deepEqual(kept(storage, 'box'), typed);
  assert.equal(kept(storage, 'other').size, 0);
  keep(storage, 'box', new Map());
  assert.equal(inside.size, 0);
  for (const broken of ['{', '3', '[1]', '[["a"]]', '[["a", 2]]']) {
    inside.set('keepwright-typed-box', broken);
    assert.ok([...kept(storage, 'box').values()].every((v) => typeof v === 'string'), broken);
  }
  keep(undefined, 'box', typed);
  assert.equal(kept(undefined, 'box').size, 0);
});

test('a field that was typed in again while it was being saved is still to be saved', () => {
  const typed = new Map([['a', '2'], ['b', '1']]);
  assert.deepEqual(without(typed, new Map([['a', '1'], ['b', '1']])), new Map([['a', '2']]));
});

test('a request carries what it was made from', () => {
  const fields = body({ base: '7', draft: '', chapter: 'shape' }, new Map([['f:name', 'ü & =']]), [['row', 'add x']]);
  assert.equal(fields.toString(), 'base=7&chapter=shape&f%3Aname=%C3%BC+%26+%3D&row=add+x');
});

test('keys undo and redo, but not in a text', () => {
  const press = (key, more = {}) => ({ key, ctrlKey: true, metaKey: false, shiftKey: false, altKey: false, ...more });
  assert.equal(step(press('z'), false), 'undo');
  assert.equal(step(press('Z', { shiftKey: true }), false), 'redo');
  assert.equal(step(press('y'), false), 'redo');
  assert.equal(step(press('z', { ctrlKey: false, metaKey: true }), false), 'undo');
  assert.equal(step(press('z'), true), undefined);
  assert.equal(step(press('z', { ctrlKey: false }), false), undefined);
  assert.equal(step(press('z', { altKey: true }), false), undefined);
});
