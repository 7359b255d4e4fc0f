import assert from "node:assert/strict";
import { test } from "node:test";
import { FrameTable } from "../../static/js/core/frametable.js";

/** Uneven times, as phones write them: 0, 20, 70, 73 and 200 ms, the last one 50 ms long. */
const uneven = () =>
  FrameTable.fromJSON({
    version: 1,
    timescale: 90000,
    pts: [0, 1800, 6300, 6570, 18000],
    duration: 22500,
  });

test("every frame's middle lies strictly inside its own interval and names that frame", () => {
  const table = uneven();
  for (let frame = 0; frame < table.length; frame += 1) {
    assert.ok(table.start(frame) < table.mid(frame) && table.mid(frame) < table.end(frame));
    assert.equal(table.at(table.mid(frame)), frame);
  }
});

test("frame n of a constant rate is not always at n / rate, which is why seconds are looked up", () => {
  // 29.97 frames per second is 30000/1001; floats put some n / rate just short of frame n.
  const pts = Array.from({ length: 3000 }, (_, n) => n * 3003);
  const table = new FrameTable(pts, 90000, 3000 * 3003);
  const wrong = pts.filter((_, n) => table.at(n / (30000 / 1001)) !== n).length;
  assert.ok(wrong > 0);
  assert.equal(pts.filter((_, n) => table.at(table.mid(n)) !== n).length, 0);
});

test("a presentation time rounded down to microseconds still names its frame", () => {
  const pts = Array.from({ length: 500 }, (_, n) => n * 3003 + 7);
  const table = new FrameTable(pts, 90000, 500 * 3003);
  pts.forEach((ticks, n) => {
    const told = Math.floor((ticks / 90000) * 1e6) / 1e6;
    assert.equal(table.nearest(told), n);
  });
});

test("times before the first frame and after the last one name the first and the last", () => {
  const table = uneven();
  assert.equal(table.at(-1), 0);
  assert.equal(table.at(99), 4);
  assert.equal(table.nearest(99), 4);
  assert.equal(table.clamp(-3), 0);
  assert.equal(table.clamp(17), 4);
  assert.equal(table.seconds, 0.25);
});

test("a last frame without a stated end lasts as long as the one before", () => {
  const table = new FrameTable([0, 3000, 6000], 90000, 0);
  assert.equal(table.end(2), 0.1);
});

test("a single frame and an unknown version", () => {
  assert.ok(new FrameTable([0], 90000, 3000).mid(0) > 0);
  assert.throws(() => new FrameTable([], 90000, 0), RangeError);
  assert.throws(
    () => FrameTable.fromJSON({ version: 2, timescale: 1, pts: [0], duration: 1 }),
    RangeError,
  );
});
