// @ts-check
import { newId } from "../core/ids.js";

/**
 * Where a page keeps what has not arrived yet. Each page has a place of its own, or two tabs on one
 * review would throw away each other's words; what a closed page left is taken over by the next.
 *
 * A page holds a lock as long as it lives (Web Locks), which tells a closed page from an open one.
 * Without a secure context there are no locks: then everything that lies there is taken over, and
 * is sent twice at worst, which makes one.
 */
export class Shelf {
  /** The page to come may have been written before what arrives from now on: it finds it here. */
  leaving = false;

  /** @param {string} prefix the review and the reader */
  constructor(prefix) {
    this.prefix = prefix;
    this.key = `${prefix}.${newId()}`;
    addEventListener("beforeunload", () => (this.leaving = true));
    navigator.locks?.request(this.key, () => new Promise(() => {}));
  }

  /** @param {{changes: any[]}} outbox @returns {boolean} false where the browser allows no storage */
  keep(outbox) {
    if (this.leaving) return true;
    try {
      if (outbox.changes.length) localStorage.setItem(this.key, JSON.stringify(outbox));
      else localStorage.removeItem(this.key);
      return true;
    } catch {
      return outbox.changes.length === 0;
    }
  }

  /**
   * Hand what closed pages left to `take`, and forget it there once that has returned.
   * @param {(changes: import("../core/outbox.js").Change[]) => void} take
   */
  async takeOver(take) {
    const locks = (await navigator.locks?.query())?.held ?? [];
    const open = new Set([this.key, ...locks.map(({ name }) => name)]);
    for (const key of keys(`${this.prefix}.`)) {
      if (open.has(key)) continue;
      take(JSON.parse(localStorage.getItem(key) ?? "{}").changes ?? []);
      localStorage.removeItem(key);
    }
  }
}

/** @param {string} start */
function keys(start) {
  try {
    return Object.keys(localStorage).filter((key) => key.startsWith(start));
  } catch {
    return []; // storage switched off: nothing was left
  }
}
