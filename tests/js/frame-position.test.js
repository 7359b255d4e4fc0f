import assert from "node:assert/strict";
import { mock, test } from "node:test";
import { FrameTable } from "../../static/js/core/frametable.js";
import { FramePosition } from "../../static/js/player/frame-position.js";

/** A video that seeks and shows a picture when the test lets it. */
function still() {
  globalThis.document = { hidden: false };
  const pts = Array.from({ length: 100 }, (_, n) => n * 3000);
  const video = Object.assign(new EventTarget(), { paused: true, seeking: false });
  const sought = [];
  let time = 0;
  Object.defineProperty(video, "currentTime", {
    configurable: true,
    get: () => time,
    set: (seconds) => sought.push((time = seconds)),
  });
  const table = new FrameTable(pts, 90000, 300000);
  const labels = [];
  const position = new FramePosition(table, video, (frame) => labels.push(frame));
  const show = (frame) => position.videoShows(frame);
  return { position, video, table, sought, show, labels };
}

const settle = () => new Promise((resolve) => setImmediate(resolve));

test("one seek at a time, to the middle of the frame, and the latest wish wins", async () => {
  const { position, table, sought, show } = still();
  const landed = Promise.all([7, 40, 3, 12].map((frame) => position.goTo(frame)));
  assert.equal(position.destination, 12);
  assert.deepEqual(sought, [table.mid(7)]);
  show(7);
  await settle();
  assert.deepEqual(sought, [table.mid(7), table.mid(12)], "40 and 3 are never sought");
  show(12);
  assert.deepEqual(await landed, [12, 12, 12, 12]);
  assert.equal(position.busy, false);
});

test("a picture of another frame does not end the wait", async () => {
  const { position, show } = still();
  let done = false;
  void position.goTo(5).then(() => (done = true));
  show(4);
  await settle();
  assert.equal(done, false);
  show(5);
  await settle();
  assert.equal(done, true);
});

test("the grace of a seek that landed does not cut a later one short", async () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  const { position, video, show } = still();
  const first = position.goTo(5);
  video.dispatchEvent(new Event("seeked"));
  show(5);
  await first;
  mock.timers.tick(1990);
  let done = false;
  void position.goTo(6).then(() => (done = true));
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
  const { position, video, show } = still();
  const landed = position.goTo(14);
  video.dispatchEvent(new Event("seeked"));
  show(20);
  mock.timers.tick(2000);
  assert.equal(await landed, 20);
  mock.timers.reset();
});

test("a clip that plays is sent back to the picture it shows: it will have gone on", async () => {
  const { position, video, table, sought, show } = still();
  show(8);
  video.currentTime = table.mid(8);
  sought.length = 0;
  video.paused = false;
  const landed = position.goTo(8);
  assert.deepEqual(sought, [table.mid(8)]);
  show(9);
  show(8);
  assert.equal(await landed, 8);
  video.paused = true;
  await position.goTo(8);
  assert.equal(sought.length, 1, "what stands still there already is left alone");
  assert.equal(position.shown, 8);
});

test("what was told of on the way is not taken for the place it arrived at", async () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  const { position, video, show } = still();
  video.paused = false;
  const landed = position.goTo(14);
  show(16); // it was playing, and had come this far
  video.dispatchEvent(new Event("seeked"));
  mock.timers.tick(2000);
  assert.equal(await landed, 14);
  mock.timers.reset();
});

test("where no picture is told of, the place sought is taken after a grace", async () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  const { position, video } = still();
  const landed = position.goTo(9);
  video.dispatchEvent(new Event("seeked"));
  mock.timers.tick(2000);
  assert.equal(await landed, 9);
  mock.timers.reset();
});

test("where the clock stopped by itself is no proof: a frame is sought again after it has played", async () => {
  const { position, video, table, sought, show } = still();
  const first = position.goTo(8);
  show(8);
  await first;
  video.dispatchEvent(new Event("play"));
  position.moved();
  video.currentTime = table.start(8);
  sought.length = 0;
  const again = position.goTo(8);
  assert.deepEqual(sought, [table.mid(8)], "although the clock says frame 8 already");
  show(8);
  assert.equal(await again, 8);
});

test("a picture that lies over the video is what is shown, while the video follows beneath", async () => {
  const { position, sought, show, labels } = still();
  position.cover(20);
  assert.deepEqual([position.shown, position.destination], [20, 20]);
  const following = position.goTo(20);
  show(19);
  assert.equal(position.shown, 20, "what passes beneath is not seen");
  position.cover(21);
  assert.equal(position.destination, 21, "a step counts from what is seen");
  show(20);
  await following;
  assert.deepEqual(labels, [20, 21]);
  position.covered = false;
  void position.goTo(20);
  assert.equal(position.shown, 20, "the video stands there: it is seen at once");
  assert.equal(sought.length, 1);
});

test("another video of the same clip stands where it was brought, and is sent on from there", async () => {
  const { position, sought, show } = still();
  const other = still();
  position.cover(30);
  position.change(other.video, 30);
  await position.goTo(30);
  position.covered = false;
  const landed = position.goTo(31);
  assert.deepEqual([sought, other.sought], [[], [other.table.mid(31)]]);
  show(31);
  assert.equal(await landed, 31);
});

test("it is settled only where a seek has ended since it played", async () => {
  const { position, show } = still();
  assert.equal(position.settled, true, "at its first frame");
  position.moved();
  show(5);
  assert.equal(position.settled, false);
  const landed = position.goTo(5);
  show(5);
  await landed;
  assert.equal(position.settled, true);
});

/** A video that shows, once it has arrived, the picture that `showing` names for the place sought. */
function engine(showing) {
  const { position, video, table } = still();
  let places = 0;
  Object.defineProperty(video, "currentTime", {
    get: () => 0,
    set: (seconds) => {
      places += 1;
      queueMicrotask(() => {
        video.dispatchEvent(new Event("seeked"));
        position.videoShows(showing(table, seconds));
      });
    },
  });
  return { position, places: () => places };
}

for (const [name, showing] of [
  ["that holds the place sought", (table, seconds) => table.at(seconds)],
  ["that begins at or after it", (table, seconds) => table.pts.findIndex((_, n) => table.start(n) >= seconds)],
]) {
  test(`in a browser that shows the picture ${name}, every frame is reached, and learned once`, async () => {
    const { position, places } = engine(showing);
    const reached = [];
    for (const frame of [12, 13, 14, 1, 0, 99, 50]) reached.push(await position.goTo(frame));
    assert.deepEqual(reached, [12, 13, 14, 1, 0, 99, 50]);
    assert.ok(places() <= 8, `${places()} seeks`);
  });
}

test("a late picture of a clip that played does not mislead for longer than one seek", async () => {
  let late = true;
  const { position, places } = engine((table, seconds) => (late ? ((late = false), 42) : table.at(seconds)));
  position.moved();
  assert.equal(await position.goTo(41), 41);
  assert.equal(await position.goTo(43), 43);
  assert.equal(places(), 4);
});

test("a clip that played to its end is not sought where it stands", async () => {
  const { position, table, sought } = still();
  position.moved();
  position.ended();
  assert.deepEqual([position.shown, position.settled], [table.last, true]);
  assert.equal(await position.goTo(table.last), table.last);
  assert.deepEqual(sought, []);
});
