// @ts-check
/**
 * What was typed and is not known to be saved, cell by cell. Everything that waits goes out as one
 * request; what is typed meanwhile waits for the next. Pure: the caller brings network and shelf.
 */
export class Pending {
  /** @type {Map<string, string>} cell -> text */
  #waiting = new Map();
  /** @type {Map<string, string>} */
  #away = new Map();

  /** @param {[string, string][]} [kept] what an earlier page left behind */
  constructor(kept = []) {
    for (const [key, text] of kept) this.#waiting.set(key, text);
  }

  /** @param {string} key @param {string} text */
  put(key, text) {
    this.#waiting.set(key, text);
  }

  /** Nothing of this cell is owed any more. @param {string} key */
  drop(key) {
    this.#waiting.delete(key);
  }

  /** Take all that waits; none while a request is under way. @returns {[string, string][]} */
  take() {
    if (this.#away.size) return [];
    this.#away = this.#waiting;
    this.#waiting = new Map();
    return [...this.#away];
  }

  /** The request arrived, whatever it answered for each cell. */
  arrived() {
    this.#away = new Map();
  }

  /** It did not arrive: keep it, under whatever was typed since. */
  held() {
    this.#waiting = new Map([...this.#away, ...this.#waiting]);
    this.#away = new Map();
  }

  /** @param {string} key whether a newer text than the one under way waits */
  has(key) {
    return this.#waiting.has(key);
  }

  get away() {
    return this.#away.size > 0;
  }

  get size() {
    return this.all.length;
  }

  /** All that is owed, the newest text of each cell. @returns {[string, string][]} */
  get all() {
    return [...new Map([...this.#away, ...this.#waiting])];
  }
}
