import assert from "node:assert/strict";
import { mock, test } from "node:test";
import { FrameTable } from "../../static/js/core/frametable.js";
import { Seeker } from "../../static/js/player/seeker.js";

/** A video that seeks when told to, and a player that shows a picture when told to. */
function still() {
  globalThis.document = { hidden: false };
  const pts = Array.from({ length: 100 }, (_, n) => n * 3000);
  const video = Object.assign(new EventTarget(), { paused: true, seeking: false });
  const sought = [];
  let time = 0;
  Object.defineProperty(video, "currentTime", {
    get: () => time,
    set: (seconds) => sought.push((time = seconds)),
  });
  const table = new FrameTable(pts, 90000, 300000);
  const player = {
    video,
    table,
    currentFrame: 0,
    showing: (frame) => (player.currentFrame = frame),
  };
  const seeker = new Seeker(player);
  const show = (frame) => {
    player.showing(frame);
    seeker.shown(frame);
  };
  return { seeker, player, video, table, sought, show };
}

const settle = () => new Promise((resolve) => setImmediate(resolve));

test("one seek at a time, to the middle of the frame, and the latest wish wins", async () => {
  const { seeker, table, sought, show } = still();
  const landed = Promise.all([7, 40, 3, 12].map((frame) => seeker.goTo(frame)));
  assert.equal(seeker.destination, 12);
  assert.deepEqual(sought, [table.mid(7)]);
  show(7);
  await settle();
  assert.deepEqual(sought, [table.mid(7), table.mid(12)], "40 and 3 are never sought");
  show(12);
  assert.deepEqual(await landed, [12, 12, 12, 12]);
  assert.equal(seeker.busy, false);
});

test("a picture of another frame does not end the wait", async () => {
  const { seeker, show } = still();
  let done = false;
  void seeker.goTo(5).then(() => (done = true));
  show(4);
  await settle();
  assert.equal(done, false);
  show(5);
  await settle();
  assert.equal(done, true);
});

test("the grace of a seek that landed does not cut a later one short", async () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  const { seeker, video, show } = still();
  const first = seeker.goTo(5);
  video.dispatchEvent(new Event("seeked"));
  show(5);
  await first;
  mock.timers.tick(1990);
  let done = false;
  void seeker.goTo(6).then(() => (done = true));
  mock.timers.tick(20);
  await settle();
  assert.equal(done, false, "the second one still waits for its own picture");
  show(6);
  await settle();
  assert.equal(done, true);
  mock.timers.reset();
});

test("a browser that shows another frame is believed", async () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  const { seeker, video, show } = still();
  const landed = seeker.goTo(14);
  video.dispatchEvent(new Event("seeked"));
  show(15);
  mock.timers.tick(2000);
  assert.equal(await landed, 15);
  mock.timers.reset();
});

test("a clip that plays is sent back to the picture it shows: it will have gone on", async () => {
  const { seeker, player, video, table, sought, show } = still();
  show(8);
  video.currentTime = table.mid(8);
  sought.length = 0;
  video.paused = false;
  const landed = seeker.goTo(8);
  assert.deepEqual(sought, [table.mid(8)]);
  show(9);
  show(8);
  assert.equal(await landed, 8);
  video.paused = true;
  await seeker.goTo(8);
  assert.equal(sought.length, 1, "what stands still there already is left alone");
  assert.equal(player.currentFrame, 8);
});

test("what was told of on the way is not taken for the place it arrived at", async () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  const { seeker, video, show } = still();
  const landed = seeker.goTo(14);
  show(16); // it was playing, and had come this far
  video.dispatchEvent(new Event("seeked"));
  mock.timers.tick(2000);
  assert.equal(await landed, 14);
  mock.timers.reset();
});

test("where no picture is told of, the place sought is taken after a grace", async () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  const { seeker, video } = still();
  const landed = seeker.goTo(9);
  video.dispatchEvent(new Event("seeked"));
  mock.timers.tick(2000);
  assert.equal(await landed, 9);
  mock.timers.reset();
});
