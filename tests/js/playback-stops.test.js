import assert from "node:assert/strict";
import { test } from "node:test";
import { apart, inPlayingOrder, reached } from "../../static/js/reply/playback-stops.js";

const stop = (number, clip, frame) => ({ number, clip, frame, title: "", cue: "" });

test("stops come by clip and frame, whatever their rank", () => {
  const stops = [stop(1, "b", 5), stop(2, "a", 90), stop(3, "a", 10)];
  const order = inPlayingOrder(stops, [{ id: "a" }, { id: "b" }]).map(({ number }) => number);
  assert.deepEqual(order, [3, 2, 1]);
});

test("a stop is reached even when its own picture was skipped, and only once", () => {
  const stops = [stop(2, "a", 0), stop(1, "a", 40)];
  assert.equal(reached(stops, -1, 0)?.number, 2);
  assert.equal(reached(stops, 0, 39), undefined);
  assert.equal(reached(stops, 39, 43)?.number, 1);
  assert.equal(reached(stops, 40, 41), undefined);
});

test("of two stops jumped over at once the earlier one counts", () => {
  assert.equal(reached([stop(1, "a", 10), stop(2, "a", 12)], 8, 15)?.number, 1);
});

test("marks are pushed apart, in order, within the track", () => {
  assert.deepEqual(apart([100, 101, 300], 300, 44), [100, 144, 300]);
  assert.deepEqual(apart([280, 290, 300], 300, 44), [212, 256, 300]);
  assert.deepEqual(apart([0, 0, 0, 0, 0], 120, 44), [0, 30, 60, 90, 120]);
  assert.deepEqual(apart([70], 300, 44), [70]);
  assert.deepEqual(apart([], 300, 44), []);
});
