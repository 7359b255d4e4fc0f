// @ts-check
import { FrameCache, framesAround } from "./frame-cache.js";
import { configOf, GroupDecoder } from "./group-decoder.js";
import { groupsOf, readMovie, readTrack } from "./mp4.js";

const BYTES_PER_PIXEL = 4; // of an ImageBitmap

/**
 * Decoded pictures around the playhead, so that a step is a drawing and not a seek.
 *
 * WebCodecs exists only in a secure context, and not in every browser; `DecodedFrames.of` then
 * gives null, as it does for a file it cannot be sure of. A picture is either the right one or not
 * here.
 */
export class DecodedFrames {
  #closed = false;
  /** @type {Map<number, number>} frame -> group */
  #groupOf = new Map();

  /** @param {Blob} file @param {import("./mp4.js").Track} track @param {import("./mp4.js").Sample[][]} groups */
  constructor(file, track, groups) {
    groups.forEach((group, at) => group.forEach(({ frame }) => this.#groupOf.set(frame, at)));
    /** @type {FrameCache<ImageBitmap>} */
    this.cache = new FrameCache(track.width * track.height * BYTES_PER_PIXEL);
    this.decoder = new GroupDecoder(file, track, groups, {
      next: () => this.#next(),
      take: (frame, picture) => this.#take(frame, picture),
      failed: () => this.close(),
    });
  }

  /**
   * @param {Blob} file a whole playable @param {number} frames how many its frame table has
   * @returns {Promise<DecodedFrames|null>}
   */
  static async of(file, frames) {
    if (typeof VideoDecoder === "undefined") return null;
    try {
      const track = readTrack(await readMovie(file));
      const groups = groupsOf(track.samples);
      if (!groups || track.samples.length !== frames) return null;
      const { supported } = await VideoDecoder.isConfigSupported(configOf(track));
      return supported ? new DecodedFrames(file, track, groups) : null;
    } catch {
      return null; // not a file of our making, or a decoder that will not: the video steps
    }
  }

  get closed() {
    return this.#closed;
  }

  /** The picture of a frame, if it is here. @param {number} frame */
  picture(frame) {
    return this.cache.picture(frame);
  }

  /**
   * Hold the pictures around this frame, let go of the rest.
   * @param {number} frame @param {number} by how the playhead came there
   * @param {number|null} turn a frame that is soon gone back to
   */
  around(frame, by, turn) {
    if (this.#closed) return;
    const last = this.#groupOf.size - 1;
    this.cache.want(framesAround({ frame, by, turn, last, room: this.cache.room }));
    this.decoder.look();
  }

  close() {
    if (this.#closed) return;
    this.#closed = true;
    this.decoder.close();
    this.cache.clear();
  }

  #next() {
    const { missing } = this.cache;
    return missing === null ? null : (this.#groupOf.get(missing) ?? null);
  }

  /** A bitmap of our own: a decoder hands out few frames, and waits for them back.
   * @param {number} frame @param {VideoFrame} picture */
  async #take(frame, picture) {
    try {
      if (this.cache.hasRoomFor(frame)) await this.cache.keep(frame, createImageBitmap(picture));
    } finally {
      picture.close();
    }
  }
}
