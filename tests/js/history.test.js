// @ts-check
import assert from "node:assert/strict";
import { test } from "node:test";
import { History, PAUSE_MS } from "../../static/js/core/history.js";

const note = (/** @type {string} */ text, more = {}) => ({ id: "n", text, phase: null, ...more });
const step = (/** @type {any} */ before, /** @type {any} */ after, what = "note:n") => ({
  what,
  before,
  after,
});

test("undo hands back what was, redo what came of it", () => {
  const history = new History();
  history.record([step(null, note(""))], 0);
  history.record([step(note(""), note("", { phase: "ascent" }))], 10);
  assert.deepEqual(history.undo(), [{ what: "note:n", value: note("") }]);
  assert.deepEqual(history.undo(), [{ what: "note:n", value: null }]);
  assert.deepEqual(history.undo(), []);
  assert.deepEqual(history.redo(), [{ what: "note:n", value: note("") }]);
  assert.equal(history.canRedo, true);
});

test("typing without a pause is one deed, a pause begins another", () => {
  const history = new History();
  history.record([step(note(""), note("h"))], 0);
  history.record([step(note("h"), note("hi"))], 200);
  history.record([step(note("hi"), note("hips"))], 200 + PAUSE_MS + 1);
  assert.deepEqual(history.undo(), [{ what: "note:n", value: note("hi") }]);
  assert.deepEqual(history.undo(), [{ what: "note:n", value: note("") }]);
});

test("another note, another field or a choice is another deed", () => {
  const history = new History();
  history.record([step(note(""), note("h"))], 0);
  history.record([step(note("h"), note("h", { phase: "ascent" }))], 1);
  history.record([step(note(""), note("x"), "note:m")], 2);
  assert.equal(history.undo()[0].what, "note:m");
  assert.deepEqual(history.undo(), [{ what: "note:n", value: note("h") }]);
  assert.deepEqual(history.undo(), [{ what: "note:n", value: note("") }]);
});

test("steps that belong together are undone together, the last first", () => {
  const history = new History();
  history.record([step(note("x"), null), step(["n", "m"], ["m"], "ranks")], 0);
  assert.deepEqual(history.undo(), [
    { what: "ranks", value: ["n", "m"] },
    { what: "note:n", value: note("x") },
  ]);
  assert.deepEqual(history.redo(), [
    { what: "note:n", value: null },
    { what: "ranks", value: ["m"] },
  ]);
});

test("something new forgets what was undone, and only so much is kept", () => {
  const history = new History(2);
  for (const at of [1, 2, 3]) history.record([step({ at: at - 1 }, { at }, "rep:c:1")], at * 1e4);
  assert.deepEqual(history.undo(), [{ what: "rep:c:1", value: { at: 2 } }]);
  history.record([step({ at: 2 }, { at: 9 }, "rep:c:1")], 9e4);
  assert.equal(history.canRedo, false);
  history.undo();
  history.undo();
  assert.deepEqual(history.undo(), []);
});
