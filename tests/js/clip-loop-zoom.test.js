// @ts-check
import assert from "node:assert/strict";
import { test } from "node:test";
import { repBeside, withEnd } from "../../static/js/core/loop.js";
import { inside, moved, MOST, sized, stepped, transformOf, WHOLE } from "../../static/js/core/zoom.js";

test("a view never shows what lies beyond the clip", () => {
  assert.deepEqual(inside({ scale: 0.5, x: 9, y: -9 }), WHOLE);
  assert.deepEqual(inside({ scale: 2, x: 1, y: 0 }), { scale: 2, x: 0.75, y: 0.25 });
  assert.equal(inside({ scale: 99, x: 0.5, y: 0.5 }).scale, MOST);
  assert.deepEqual(moved({ scale: 2, x: 0.5, y: 0.5 }, 10, 0), { scale: 2, x: 0.75, y: 0.5 });
});

test("the point under the pointer stays under the pointer", () => {
  const point = { x: 0.4, y: 0.6 };
  const before = WHOLE;
  const after = sized(before, 2, point);
  const place = (/** @type {typeof WHOLE} */ { scale, x, y }) => [
    (point.x - x) * scale,
    (point.y - y) * scale,
  ];
  place(after).forEach((at, i) => assert.ok(Math.abs(at - place(before)[i]) < 1e-12));
});

test("keys go through the sizes and stop at the ends", () => {
  let view = WHOLE;
  const seen = [];
  for (let n = 0; n < 7; n += 1) seen.push((view = stepped(view, 1)).scale);
  assert.deepEqual(seen, [1.5, 2, 3, 4, 6, 6, 6]);
  for (let n = 0; n < 7; n += 1) view = stepped(view, -1);
  assert.deepEqual(view, WHOLE);
  assert.equal(transformOf(WHOLE), "scale(1) translate(0%, 0%)");
});

test("a loop's ends keep their order, and the other end", () => {
  assert.deepEqual(withEnd(null, "first", 30, 99), { first: 30, last: 99 });
  assert.deepEqual(withEnd({ first: 30, last: 99 }, "last", 60, 99), { first: 30, last: 60 });
  assert.deepEqual(withEnd({ first: 30, last: 60 }, "first", 70, 99), { first: 70, last: 70 });
});

test("the rep before and after are by where they begin, marked ones only", () => {
  const calls = [
    { rep: 2, first_frame: 50 },
    { rep: 1, first_frame: 10 },
    { rep: 3, first_frame: null },
  ];
  assert.equal(repBeside(calls, 10, 1)?.rep, 2);
  assert.equal(repBeside(calls, 50, -1)?.rep, 1);
  assert.equal(repBeside(calls, 10, -1), null);
  assert.equal(repBeside(calls, 50, 1), null);
});
