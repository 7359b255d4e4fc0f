// @ts-check
/** Which clips of a draft were removed and can still come back. They leave when the question goes. */

export class RemovedClips {
  #place;
  /** @type {Set<string>} */
  #ids;

  /** @param {string} draft */
  constructor(draft) {
    this.#place = `removed:${draft}`;
    this.#ids = new Set(this.#read());
  }

  /** @returns {string[]} */
  #read() {
    try {
      return JSON.parse(localStorage.getItem(this.#place) ?? "[]");
    } catch {
      return []; // storage is off: a reload shows the clip again, which loses nothing
    }
  }

  /** @param {string} clip */
  has(clip) {
    return this.#ids.has(clip);
  }

  /** @param {string} clip @param {boolean} removed */
  set(clip, removed) {
    if (removed) this.#ids.add(clip);
    else this.#ids.delete(clip);
    try {
      if (this.#ids.size) localStorage.setItem(this.#place, JSON.stringify([...this.#ids]));
      else localStorage.removeItem(this.#place);
    } catch {
      // as above
    }
  }
}
