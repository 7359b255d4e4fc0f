// @ts-check
/** Which clips of a draft were removed and can still come back. They leave when the question goes. */

import { DraftStorage } from "../core/draft-storage.js";

export class RemovedClips {
  #storage;
  /** @type {Set<string>} */
  #ids;

  /** @param {string} draft */
  constructor(draft) {
    this.#storage = new DraftStorage("removed", draft);
    this.#ids = new Set(this.#storage.read()); // storage is off: the clip is shown again, which loses nothing
  }

  /** @param {string} clip */
  has(clip) {
    return this.#ids.has(clip);
  }

  /** @param {string} clip @param {boolean} removed */
  set(clip, removed) {
    if (removed) this.#ids.add(clip);
    else this.#ids.delete(clip);
    this.#storage.write(this.#ids.size ? [...this.#ids] : null);
  }
}
