import assert from "node:assert/strict";
import { test } from "node:test";
import { FrameTable } from "../../static/js/core/frametable.js";
import { DecodedPlayback } from "../../static/js/player/decoded-playback.js";
import { playToEnd } from "../../static/js/player/playback-loop.js";

const STRETCH = { first: 40, last: 42 };
const table = new FrameTable(Array.from({ length: 100 }, (_, n) => n * 3000), 90000, 300000);

/** A screen that is refreshed when told to, at a time of our own. */
function screen() {
  let now = 0;
  let next = (/** @type {number} */ _now) => {};
  globalThis.requestAnimationFrame = (then) => ((next = then), 1);
  globalThis.cancelAnimationFrame = () => (next = () => {});
  globalThis.performance.now = () => now;
  return { refresh: (/** @type {number} */ ms) => next((now += ms)) };
}

/** Chance that is the same at each run: a linear congruential generator. */
function chance(seed) {
  return () => (seed = (seed * 1103515245 + 12345) % 2147483648) / 2147483648;
}

/** A position whose seeks land when told to; `frames` it has shown. */
function slowPosition() {
  return {
    frames: [40],
    busy: false,
    get shown() {
      return this.frames.at(-1);
    },
    goTo(frame) {
      this.busy = true;
      this.land = () => {
        this.frames.push(frame);
        this.busy = false;
      };
    },
  };
}

test("each round ends at the last picture, however late the screen and the seeks are", () => {
  for (let seed = 1; seed <= 200; seed += 1) {
    const draw = chance(seed);
    const { refresh } = screen();
    let rounds = 0;
    const position = slowPosition();
    playToEnd(position, table, STRETCH, () => 1, () => (rounds += 1)).run(40);
    for (let turn = 0; turn < 200 && !rounds; turn += 1) {
      refresh(draw() < 0.3 ? 100 * draw() : 16);
      if (position.busy && draw() < 0.4) position.land();
    }
    assert.equal(rounds, 1);
    const shown = position.frames.join(" ");
    assert.ok(["40 41 42 40", "40 42 40"].includes(shown), shown);
  }
});

test("from decoded pictures too, however late each of them is", () => {
  for (let seed = 1; seed <= 200; seed += 1) {
    const draw = chance(seed);
    const { refresh } = screen();
    const shown = [];
    const show = (frame) => {
      if (frame === shown.at(-1)) return true;
      if (draw() < 0.6) return false;
      shown.push(frame);
      return true;
    };
    const never = () => assert.fail("the pictures have not ended");
    new DecodedPlayback(table, STRETCH, () => 2, show, () => true, never).run(40);
    for (let turn = 0; turn < 200; turn += 1) refresh(draw() < 0.3 ? 100 * draw() : 16);
    for (const round of shown.join(" ").split(" 40").slice(0, -1)) assert.match(round, /42$/);
    assert.ok(shown.filter((frame) => frame === 42).length > 5);
  }
});

for (const [rate, timescale, each] of [[120, 15360, 128], [240, 15360, 64], [240, 90000, 375]]) {
  test(`a loop at ${rate} frames and ${timescale} ticks begins and ends where it was told to, for every pair`, () => {
    const fast = new FrameTable(Array.from({ length: 600 }, (_, n) => n * each), timescale, 600 * each);
    const frozen = [];
    for (let first = 0; first < 590; first += 1) {
      const last = first + 5;
      const { refresh } = screen();
      const shown = [];
      const show = (frame) => (shown.push(frame), true);
      const decoded = new DecodedPlayback(fast, { first, last }, () => 1, show, () => true, () => {});
      decoded.run(first);
      for (let turn = 0; turn < 30; turn += 1) refresh(16);
      decoded.stop();
      const turns = shown.filter((frame, at) => at && frame < shown[at - 1]).length;
      if (shown[0] !== first || turns < 3 || shown.some((frame) => frame < first || frame > last)) frozen.push(first);
    }
    assert.deepEqual(frozen, []);
  });
}
