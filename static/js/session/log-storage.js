// @ts-check
/** Where this phone keeps the journal of an athlete: written before anything is sent. */

import { Journal } from "./journal.js";

const PREFIX = "training:";

/** @param {string} athlete */
export const shelfOf = (athlete) => `${PREFIX}${athlete}`;

/** @param {string} name @returns {{entries?: import("./journal.js").Entry[]}|null} */
export function kept(name) {
  try {
    return JSON.parse(localStorage.getItem(name) ?? "null");
  } catch {
    return null; // storage is off, or holds something that is not ours
  }
}

/**
 * Write the journal down, laid over what another tab may have written since.
 * @param {string} name @param {Journal} journal @param {{forgets?: boolean}} [how] forgets: the
 *   journal let go of something on purpose, which the other copy must not bring back
 * @returns {boolean} false where the browser keeps nothing
 */
export function keep(name, journal, { forgets = false } = {}) {
  try {
    if (!forgets) journal.merge(kept(name));
    if (journal.entries.size) localStorage.setItem(name, JSON.stringify(journal));
    else localStorage.removeItem(name);
    return true;
  } catch {
    return false;
  }
}

/** Every journal on this phone: whoever trained here. @returns {{name: string, journal: Journal}[]} */
export function shelves() {
  try {
    return Object.keys(localStorage)
      .filter((name) => name.startsWith(PREFIX))
      .map((name) => ({ name, journal: new Journal(kept(name)) }));
  } catch {
    return [];
  }
}
