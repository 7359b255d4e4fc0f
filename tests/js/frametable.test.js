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

test("frame n is not at n / the rate a phone names, which is why seconds are looked up", () => {
  // 29.97 frames per second is 30000/1001; phones name it 30.
  const pts = Array.from({ length: 3000 }, (_, n) => n * 3003);
  const table = new FrameTable(pts, 90000, 3000 * 3003);
  const wrong = pts.filter((_, n) => table.at(n / 30) !== n).length;
  assert.ok(wrong > 2900);
  assert.equal(pts.filter((_, n) => table.at(table.mid(n)) !== n).length, 0);
});

test("a presentation time rounded down to microseconds still names its frame", () => {
  const pts = Array.from({ length: 500 }, (_, n) => n * 3003 + 7);
  const table = new FrameTable(pts, 90000, 500 * 3003);
  pts.forEach((ticks, n) => {
    const rounded = Math.floor((ticks / 90000) * 1e6) / 1e6;
    assert.equal(table.at(rounded), n);
  });
});

/** [frames per second, ticks per second, ticks per frame], as libavformat's MP4 muxer writes them. */
const RATES = [
  [30, 15360, 512],
  [59.94, 60000, 1001],
  [60, 15360, 256],
  [119.88, 120000, 1001],
  [120, 15360, 128],
  [240, 15360, 64],
  [240, 90000, 375],
  [240, 240, 1],
  [240, 1000000, 4167],
];

for (const [rate, timescale, each] of RATES) {
  test(`${rate} frames per second at ${timescale} ticks: a frame holds its own first moment`, () => {
    const pts = Array.from({ length: 5000 }, (_, n) => n * each);
    const table = new FrameTable(pts, timescale, 5000 * each);
    const wrong = (/** @type {(n: number) => number} */ frame) => pts.filter((_, n) => frame(n) !== n);
    assert.deepEqual(wrong((n) => table.at(table.start(n))), []);
    assert.deepEqual(wrong((n) => table.at(table.mid(n))), []);
    assert.deepEqual(wrong((n) => table.at(Math.round(table.start(n) * 1e6) / 1e6)), []);
    assert.deepEqual(wrong((n) => table.at(Math.fround(table.mid(n)))), []);
    assert.deepEqual(wrong((n) => table.frameAt(table.startTick(n))), []);
    assert.deepEqual(wrong((n) => table.frameAt(table.endTick(n) - 1)), []);
  });
}

test("a moment within a frame is that frame's, however near the next one is", () => {
  const table = uneven();
  assert.equal(table.at(0.0195), 0, "nearer to frame 1, which has not begun");
  assert.equal(table.at(0.0199), 0);
  assert.equal(table.at(0.02), 1);
});

test("times before the first frame and after the last one name the first and the last", () => {
  const table = uneven();
  assert.equal(table.at(-1), 0);
  assert.equal(table.at(99), 4);
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
