import assert from "node:assert/strict";
import { test } from "node:test";
import { DecodedFrames } from "../../static/js/player/decoded-frames.js";
import { CACHE_BYTES, FrameCache, framesAround } from "../../static/js/player/frame-cache.js";

const GROUP = 15;
const COUNT = 300;
const HD = { width: 1280, height: 720 };

/** Groups of fifteen, as our playables have them: a key, then frames in the order they are shown. */
const groups = Array.from({ length: COUNT / GROUP }, (_, group) =>
  Array.from({ length: GROUP }, (_, at) => ({ offset: 0, size: 1, key: at === 0, frame: group * GROUP + at })),
);

/**
 * Decoder and bitmaps in place of the browser's: nothing is decoded but what `run` is asked for.
 * @param {{width: number, height: number}} size
 */
function machine({ width, height }) {
  const live = new Set();
  const stats = { bytes: 0, most: 0, given: [] };
  globalThis.EncodedVideoChunk = class {
    constructor({ timestamp }) {
      this.timestamp = timestamp;
    }
  };
  globalThis.createImageBitmap = async () => {
    const bitmap = { close: () => live.delete(bitmap) && (stats.bytes -= width * height * 4) };
    live.add(bitmap);
    stats.most = Math.max(stats.most, (stats.bytes += width * height * 4));
    return bitmap;
  };
  globalThis.VideoDecoder = class {
    static now;
    state = "configured";
    #waiting = [];
    #flush = null;
    constructor({ output }) {
      this.output = output;
      VideoDecoder.now = this;
    }
    configure() {}
    decode({ timestamp }) {
      stats.given.push(timestamp);
      this.#waiting.push(timestamp);
    }
    flush() {
      return new Promise((resolve, reject) => (this.#flush = { resolve, reject }));
    }
    reset() {
      this.#waiting = [];
      this.#flush?.reject(new DOMException("reset", "AbortError"));
      this.#flush = null;
    }
    close() {
      this.reset();
      this.state = "closed";
    }
    /** Decode so many samples. */
    async run(samples) {
      for (; samples > 0; samples -= 1) {
        await settle();
        const frame = this.#waiting.shift();
        if (frame !== undefined) this.output({ timestamp: frame, close() {} });
        if (this.#waiting.length) continue;
        this.#flush?.resolve(undefined);
        this.#flush = null;
        if (frame === undefined) return;
      }
      await settle();
    }
  };
  const decoded = new DecodedFrames(new Blob(["0"]), { codec: "avc1", description: new Uint8Array(), samples: [], width, height }, groups);
  return { decoded, stats, live, decode: (samples) => VideoDecoder.now.run(samples) };
}

/** Until what is under way has gone on as far as it can by itself. */
async function settle() {
  for (let turn = 0; turn < 6; turn += 1) await new Promise((resolve) => setImmediate(resolve));
}

test("what is wished for is decoded ahead of older neighbours", async () => {
  const { decoded, stats, decode } = machine(HD);
  decoded.around(7, 1, null);
  await decode(20); // the first group, and a part of the next one
  decoded.around(200, 193, null);
  await settle();
  assert.equal(stats.given.at(-1), 209, "its group is in the decoder's hands at once");
  await decode(GROUP);
  assert.ok(decoded.picture(200));
  assert.equal(decoded.picture(7), null);
});

test("a neighbour of what is decoded already does not begin it anew", async () => {
  const { decoded, stats, decode } = machine(HD);
  decoded.around(0, 1, null);
  await decode(5);
  decoded.around(1, 1, null);
  decoded.around(2, 1, null);
  await settle();
  assert.deepEqual(stats.given, groups[0].map(({ frame }) => frame));
});

test("the pictures never take more than their bytes, wherever the playhead goes", async () => {
  for (const size of [HD, { width: 1920, height: 1080 }, { width: 3840, height: 2160 }]) {
    const { decoded, stats, live, decode } = machine(size);
    let frame = 0;
    for (const by of [1, 1, 10, 10, 10, 10, 1, -1, -10, 150, -1, -1, 30, 100, -200, 1]) {
      frame = Math.max(0, Math.min(COUNT - 1, frame + by));
      decoded.around(frame, by, by === 30 ? 20 : null);
      await decode(by > 30 ? 200 : 9);
      assert.ok(stats.bytes <= CACHE_BYTES, `${stats.bytes} at frame ${frame}`);
    }
    assert.ok(stats.most <= CACHE_BYTES && stats.most > CACHE_BYTES / 2, String(stats.most));
    decoded.close();
    await settle();
    assert.deepEqual([live.size, stats.bytes], [0, 0]);
  }
});

for (const by of [10, -10]) {
  test(`${by} frames at a time the pictures are here, though four presses come at once`, async () => {
    const { decoded, decode } = machine(HD);
    let frame = by > 0 ? 0 : COUNT - 1;
    const press = () => decoded.around((frame += by), by, null);
    decoded.around(frame, 1, null);
    await decode(60);
    press();
    await decode(120);
    const hits = [];
    for (let burst = 0; burst < 6; burst += 1) {
      for (let time = 0; time < 4; time += 1) {
        press();
        hits.push(decoded.picture(frame) !== null);
      }
      await decode(4 * 12); // hardly more than the ten new frames of each press
    }
    assert.equal(hits.filter(Boolean).length, 24);
  });
}

test("a decoder that leaves out a picture is not asked again and again", async () => {
  const { decoded, decode } = machine(HD);
  VideoDecoder.now.output = () => {};
  decoded.around(0, 1, null);
  await decode(GROUP + 1);
  assert.equal(decoded.closed, true);
});

test("ahead first, in the direction of travel; a stretch keeps its beginning", () => {
  const at = { turn: null, last: 299, room: 9 };
  assert.deepEqual(framesAround({ ...at, frame: 100, by: 1 }), [100, 101, 102, 99, 103, 104, 98, 105, 106]);
  assert.deepEqual(framesAround({ ...at, frame: 100, by: -1 }), [100, 99, 98, 101, 97, 96, 102, 95, 94]);
  assert.deepEqual(framesAround({ ...at, frame: 100, by: 10 }), [100, 110, 120, 130, 140, 150, 160, 101, 102]);
  assert.deepEqual(framesAround({ ...at, frame: 299, by: 1 }).slice(0, 3), [299, 298, 297]);
  assert.deepEqual(framesAround({ ...at, frame: 100, by: 1, turn: 20 }).slice(-4), [20, 21, 22, 23]);
  assert.deepEqual(framesAround({ ...at, frame: 100, by: 1, room: 1 }), [100]);
});

test("one picture too large for its bytes is held all the same, alone", async () => {
  const cache = new FrameCache(500, 400);
  cache.want([3, 4]);
  assert.deepEqual([cache.room, cache.hasRoomFor(3), cache.hasRoomFor(4)], [1, true, false]);
});
