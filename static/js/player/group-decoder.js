// @ts-check
/**
 * Decodes groups of pictures of one file, the most wanted one first: what is asked for while an
 * older neighbour is decoded does not wait for it.
 */
export class GroupDecoder {
  /** @type {number|null} */
  #group = null;
  #running = false;
  #givenUp = false;
  #closed = false;
  #outputs = 0;
  /** @type {Promise<void>[]} */
  #taking = [];

  /**
   * @param {Blob} file @param {import("./mp4.js").Track} track
   * @param {import("./mp4.js").Sample[][]} groups
   * @param {{next: () => number|null, take: (frame: number, picture: VideoFrame) => Promise<void>,
   *   failed: () => void}} owner `next` names the group that is most wanted now; `take` closes the picture
   */
  constructor(file, track, groups, owner) {
    this.file = file;
    this.track = track;
    this.groups = groups;
    this.owner = owner;
    this.decoder = new VideoDecoder({
      output: (picture) => {
        this.#outputs += 1;
        this.#taking.push(owner.take(picture.timestamp, picture));
      },
      error: () => this.#fail(),
    });
    this.decoder.configure(configOf(track));
  }

  /** Another frame may be the most wanted one now. */
  look() {
    if (this.#closed) return;
    if (!this.#running) return void this.#run();
    const next = this.owner.next();
    if (next !== null && next !== this.#group) this.#giveUp();
  }

  close() {
    this.#closed = true;
    if (this.decoder.state !== "closed") this.decoder.close();
  }

  /** What is under way is less wanted than another one. */
  #giveUp() {
    if (this.#givenUp) return;
    this.#givenUp = true;
    try {
      this.decoder.reset();
      this.decoder.configure(configOf(this.track));
    } catch {
      this.#fail();
    }
  }

  async #run() {
    this.#running = true;
    while (!this.#closed && (this.#group = this.owner.next()) !== null) {
      this.#givenUp = false;
      try {
        await this.#decode(this.groups[this.#group]);
      } catch {
        if (!this.#givenUp) this.#fail(); // whatever it was, the video still steps
      }
      await Promise.all(this.#taking.splice(0)).catch(() => this.#fail());
    }
    this.#running = false;
  }

  /** @param {import("./mp4.js").Sample[]} group */
  async #decode(group) {
    const first = Math.min(...group.map(({ offset }) => offset));
    const end = Math.max(...group.map(({ offset, size }) => offset + size));
    const bytes = await this.file.slice(first, end).arrayBuffer();
    if (this.#givenUp || this.#closed) return;
    this.#outputs = 0;
    for (const { offset, size, key, frame } of group)
      this.decoder.decode(
        new EncodedVideoChunk({
          type: key ? "key" : "delta",
          timestamp: frame, // a name, not a time: it comes back on the picture
          data: new Uint8Array(bytes, offset - first, size),
        }),
      );
    await this.decoder.flush();
    // A picture that never comes would be asked for again and again.
    if (this.#outputs !== group.length) throw new RangeError("The decoder left out a picture.");
  }

  #fail() {
    if (this.#closed) return;
    this.close();
    this.owner.failed();
  }
}

/** @param {import("./mp4.js").Track} track @returns {VideoDecoderConfig} */
export function configOf({ codec, description, width, height }) {
  return { codec, description, codedWidth: width, codedHeight: height, optimizeForLatency: true };
}
