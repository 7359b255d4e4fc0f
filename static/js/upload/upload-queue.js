// @ts-check
/** Two files at a time: more would only make each slower, and the first clip later. */

const AT_ONCE = 2;

/** @typedef {import("./clip-upload.js").Sending} Sending */

export class Line {
  /** @type {Sending[]} */
  #all = [];

  /** @param {Sending} sending */
  join(sending) {
    this.#all.push(sending);
    this.next();
  }

  /** @param {Sending} sending */
  leave(sending) {
    sending.drop();
    this.#all = this.#all.filter((one) => one !== sending);
    this.next();
  }

  /** Start whoever waits, as far as there is room. */
  next() {
    const busy = this.#all.filter((one) => one.active).length;
    const waiting = this.#all.filter((one) => one.state === "waiting");
    for (const one of waiting.slice(0, Math.max(0, AT_ONCE - busy))) one.start();
  }

  get active() {
    return this.#all.some((one) => one.active || one.state === "waiting");
  }
}
