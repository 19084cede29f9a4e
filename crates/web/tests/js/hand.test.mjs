// Keys and fingers, pace and names of pictures.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { makePace } from '../../assets/js/drawing/pace.js';
import { fileName, lineHref } from '../../assets/js/drawing/picture.js';
import { onKey, spread } from '../../assets/js/drawing/pointer.js';
import { VIEWS } from '../../assets/js/drawing/view.js';

function hand() {
  const did = [];
  const note = (name) => (...what) => did.push([name, ...what]);
  return { did, turn: note('turn'), move: note('move'), zoom: note('zoom'), press: note('press'), reset: note('reset'), leave: note('leave') };
}

test('arrows turn, shift and arrows move, plus and minus zoom', () => {
  const one = hand();
  for (const [key, shift] of [['ArrowLeft', false], ['ArrowUp', true], ['+', false], ['-', false], ['0', false], ['Escape', false]]) {
    assert.ok(onKey(key, shift, one), key);
  }
  assert.deepEqual(one.did.map(([name]) => name), ['turn', 'move', 'zoom', 'zoom', 'reset', 'leave']);
  assert.ok(one.did[0][1] < 0 && one.did[2][1] < 1 && one.did[3][1] > 1);
  assert.ok(!onKey('Tab', false, one) && !onKey('a', false, one), 'other keys are the page’s');
});

test('two fingers have a middle and a spread', () => {
  assert.deepEqual(spread([{ x: 0, y: 0 }, { x: 10, y: 0 }]), { x: 5, y: 0, wide: 5 });
});

test('a slow card is coarse while it moves and sharp when it rests', () => {
  let now = 0;
  const pace = makePace(() => {}, () => now);
  assert.equal(pace.share(), 1);
  pace.stir();
  const shares = [0, 200, 200, 200].map((wait) => {
    now += wait;
    return pace.share();
  });
  assert.deepEqual(shares.slice(0, 2), [1, 1], 'one slow frame may be making ready');
  assert.ok(shares[2] < 1 && shares[3] < 1);
  pace.rest();
  assert.equal(pace.share(), 1);
});

test('a quick card is never coarse', () => {
  let now = 0;
  const pace = makePace(() => {}, () => now);
  pace.stir();
  for (let i = 0; i < 20; i++) {
    now += 16;
    assert.equal(pace.share(), 1);
  }
  pace.rest();
});

test('the server is asked for this very view', () => {
  const plain = lineHref('/boxes/a/drawing.svg', VIEWS.front, { apart: 0, open: 0 }, null);
  assert.equal(decodeURIComponent(plain), '/boxes/a/drawing.svg?from=0,-1,0');
  const cut = new URL(lineHref('/d.svg', VIEWS.side, { apart: 0.3, open: 1 }, [0, -1, 0, -92]), 'http://x');
  assert.deepEqual(Object.fromEntries(cut.searchParams), { from: '1,0,0', apart: '0.300', open: '1.000', cut: '0,-1,0,-92' });
});

test('a picture is named after its box', () => {
  assert.equal(fileName('Stamp chest / no. 2', 'png'), 'stamp-chest-no-2.png');
  assert.equal(fileName('…', 'png'), 'box.png');
});
