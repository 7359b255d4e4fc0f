// @ts-check
/** Two files at a time: more would only make each slower, and the first clip later. */

const AT_ONCE = 2;

/** @typedef {import("./clip-upload.js").ClipUpload} ClipUpload */

export class UploadQueue {
  /** @type {ClipUpload[]} */
  #all = [];

  /** @param {ClipUpload} upload */
  join(upload) {
    this.#all.push(upload);
    this.next();
  }

  /** @param {ClipUpload} upload */
  leave(upload) {
    upload.drop();
    this.#all = this.#all.filter((other) => other !== upload);
    this.next();
  }

  /** Start whoever waits, as far as there is room. */
  next() {
    const busy = this.#all.filter((upload) => upload.active).length;
    const waiting = this.#all.filter((upload) => upload.state === "waiting");
    for (const upload of waiting.slice(0, Math.max(0, AT_ONCE - busy))) upload.start();
  }

  get active() {
    return this.#all.some((upload) => upload.active || upload.state === "waiting");
  }
}
