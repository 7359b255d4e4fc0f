// @ts-check
import { newId } from "./ids.js";

/** Who reads this page: the next person at the same browser never meets what this one typed. */
export const READER = globalThis.document?.querySelector('meta[name="reader"]')?.getAttribute("content") ?? "";

/**
 * A place in this browser for what the server does not have yet.
 *
 * `ownTab`: each tab has a place of its own, or two of them would throw away each other's words;
 * what a closed tab left is taken over by the next. A tab holds a lock as long as it lives (Web
 * Locks), which tells a closed one from an open one. Without a secure context there are no locks:
 * then everything that lies there is taken over, and is sent twice at worst, which makes one.
 */
export class DraftStorage {
  /** @param {string} kind @param {string} name of the thing that is written on @param {{ownTab?: boolean}} [how] */
  constructor(kind, name, { ownTab = false } = {}) {
    this.shared = `${kind}:${READER}:${name}`;
    this.key = ownTab ? `${this.shared}#${newId()}` : this.shared;
    if (ownTab) navigator.locks?.request(this.key, () => new Promise(() => {}));
  }

  /** @returns {any} null where there is nothing */
  read() {
    return readKey(this.key);
  }

  /** @param {any} value null: nothing @returns {boolean} whether this browser keeps it */
  write(value) {
    return writeKey(this.key, value);
  }

  /** Everything of a kind that this reader left here. @param {string} kind @returns {string[]} names */
  static names(kind) {
    const start = `${kind}:${READER}:`;
    return keysOf(start).map((key) => key.slice(start.length));
  }

  /** Hand what closed tabs left to `take`, and forget it there. @param {(stored: any) => void} take */
  async takeOver(take) {
    const locks = (await navigator.locks?.query())?.held ?? [];
    const open = new Set([this.key, ...locks.map(({ name }) => name)]);
    for (const key of keysOf(`${this.shared}#`)) {
      if (open.has(key)) continue;
      take(readKey(key));
      writeKey(key, null);
    }
  }
}

/** @param {string} key @returns {any} */
export function readKey(key) {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "null");
  } catch {
    return null; // storage is off, or holds something that is not ours
  }
}

/** @param {string} key @param {any} value null: nothing @returns {boolean} whether this browser keeps it */
export function writeKey(key, value) {
  const text = JSON.stringify(value);
  try {
    if (text === "null") localStorage.removeItem(key);
    else localStorage.setItem(key, text);
    return true;
  } catch {
    return text === "null"; // a private window may refuse storage
  }
}

/** @param {string} start @returns {string[]} */
export function keysOf(start) {
  try {
    return Object.keys(localStorage).filter((key) => key.startsWith(start));
  } catch {
    return []; // storage is off: nothing lies there
  }
}
