// @ts-check
/**
 * What was typed into a plain form and is not known to be with the server, kept in this browser. A
 * draft belongs to one reader and one form: the next person on the same browser never meets it.
 *
 * @typedef {{action: string, fields: [string, string][], typedAt: string, pressed: boolean}} Draft
 *   `pressed`: its button was pressed, no answer came, and it may be sent again by itself
 */

const PREFIX = "form:";

/** @param {string} reader @param {string} form its address, and its name where a page has several */
export const keyOf = (reader, form) => `${PREFIX}${reader}:${form}`;

/** @param {string} key @returns {Draft|null} */
export function readDraft(key) {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "null");
  } catch {
    return null; // storage is off, or holds something that is not ours
  }
}

/** @param {string} key @param {Draft|null} draft null: forget it @returns {boolean} whether this browser keeps it */
export function writeDraft(key, draft) {
  try {
    if (draft) localStorage.setItem(key, JSON.stringify(draft));
    else localStorage.removeItem(key);
    return true;
  } catch {
    return false;
  }
}

/** Every draft of a reader, or of all who used this browser. @param {string} [reader] @returns {string[]} keys */
export function drafts(reader) {
  try {
    return Object.keys(localStorage).filter((key) => key.startsWith(reader === undefined ? PREFIX : keyOf(reader, "")));
  } catch {
    return [];
  }
}
