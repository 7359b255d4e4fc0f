// @ts-check
import { groupsOf, readTrack } from "./mp4.js";

/** Groups of pictures kept decoded: the one at the playhead and one on either side. */
const AROUND = 1;

/**
 * Decoded pictures around the playhead, so that a step is a drawing and not a seek.
 *
 * WebCodecs exists only in a secure context, and not in every browser; `StepCache.of` then gives
 * null, as it does for a file it cannot be sure of. A picture is either the right one or not here.
 */
export class StepCache {
  /** @type {Map<number, ImageBitmap>} */
  #pictures = new Map();
  /** @type {Set<number>} groups decoded or under way */
  #held = new Set();
  /** @type {number[]} groups wished for, the most wanted first */
  #wanted = [];
  #busy = false;
  #closed = false;
  /** @type {Map<number, number>} frame -> group */
  #groupOf = new Map();

  /** @param {ArrayBuffer} bytes @param {import("./mp4.js").Track} track @param {import("./mp4.js").Sample[][]} groups */
  constructor(bytes, track, groups) {
    this.bytes = bytes;
    this.track = track;
    this.groups = groups;
    groups.forEach((group, at) => group.forEach(({ frame }) => this.#groupOf.set(frame, at)));
    this.decoder = new VideoDecoder({
      output: (picture) => void this.#keep(picture),
      error: () => this.close(),
    });
    this.decoder.configure(configOf(track));
  }

  /**
   * @param {Blob} file a whole playable @param {number} frames how many its frame table has
   * @returns {Promise<StepCache|null>}
   */
  static async of(file, frames) {
    if (typeof VideoDecoder === "undefined") return null;
    try {
      const bytes = await file.arrayBuffer();
      const track = readTrack(bytes);
      const groups = groupsOf(track.samples);
      if (!groups || track.samples.length !== frames) return null;
      const { supported } = await VideoDecoder.isConfigSupported(configOf(track));
      return supported ? new StepCache(bytes, track, groups) : null;
    } catch {
      return null; // not a file of our making, or a decoder that will not: the element steps
    }
  }

  get closed() {
    return this.#closed;
  }

  /** The picture of a frame, if it is here. @param {number} frame */
  picture(frame) {
    return this.#pictures.get(frame) ?? null;
  }

  /**
   * Hold the pictures around this frame, let go of the rest.
   * @param {number} frame @param {number|null} [also] a frame whose group is held too
   */
  around(frame, also = null) {
    const centre = this.#groupOf.get(frame);
    if (centre === undefined || this.#closed) return;
    const near = [centre];
    for (let by = 1; by <= AROUND; by++) near.push(centre + by, centre - by);
    const kept = also === null ? undefined : this.#groupOf.get(also);
    if (kept !== undefined && !near.includes(kept)) near.push(kept);
    const wanted = near.filter((group) => group >= 0 && group < this.groups.length);
    for (const group of this.#held) if (!wanted.includes(group)) this.#drop(group);
    this.#wanted = wanted.filter((group) => !this.#held.has(group));
    if (!this.#busy) void this.#decode();
  }

  close() {
    if (this.#closed) return;
    this.#closed = true;
    this.#wanted = [];
    for (const group of this.#held) this.#drop(group);
    if (this.decoder.state !== "closed") this.decoder.close();
  }

  async #decode() {
    this.#busy = true;
    for (let group; (group = this.#wanted.shift()) !== undefined;) {
      this.#held.add(group);
      try {
        for (const sample of this.groups[group]) this.decoder.decode(this.#chunk(sample));
        await this.decoder.flush();
      } catch {
        this.close(); // whatever it was, the video element still steps
      }
    }
    this.#busy = false;
  }

  /** @param {import("./mp4.js").Sample} sample */
  #chunk({ offset, size, key, frame }) {
    return new EncodedVideoChunk({
      type: key ? "key" : "delta",
      timestamp: frame, // a name, not a time: it comes back on the picture
      data: new Uint8Array(this.bytes, offset, size),
    });
  }

  /** A bitmap of our own: a decoder hands out few frames, and waits for them back. @param {VideoFrame} picture */
  async #keep(picture) {
    const frame = picture.timestamp;
    try {
      const bitmap = await createImageBitmap(picture);
      if (this.#held.has(this.#groupOf.get(frame) ?? -1)) this.#pictures.set(frame, bitmap);
      else bitmap.close();
    } catch {
      this.close(); // a picture that never comes would be waited for
    } finally {
      picture.close();
    }
  }

  /** @param {number} group */
  #drop(group) {
    this.#held.delete(group);
    for (const { frame } of this.groups[group]) {
      this.#pictures.get(frame)?.close();
      this.#pictures.delete(frame);
    }
  }
}

/** @param {import("./mp4.js").Track} track @returns {VideoDecoderConfig} */
function configOf({ codec, description, width, height }) {
  return { codec, description, codedWidth: width, codedHeight: height, optimizeForLatency: true };
}
