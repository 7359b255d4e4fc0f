// @ts-check
/**
 * @typedef {{key: string, method: string, url: string, body: any, seq: number, tries: number,
 *   due: number}} Change
 * @typedef {{key: string, why: string, body: any}} Refusal
 */

/** A pause in typing, so that a sentence is one request and not forty. */
export const SETTLE_MS = 400;
const FIRST_RETRY_MS = 1000;
const LAST_RETRY_MS = 30000;

/** @param {number} tries @returns {number} ms; doubles from 1 s up to 30 s */
export function backoff(tries) {
  return Math.min(LAST_RETRY_MS, FIRST_RETRY_MS * 2 ** (tries - 1));
}

/**
 * What the page still owes the server: at most one change per object, oldest first, one on its
 * way at a time so that an order of notes never overtakes the note it names. Pure: the caller
 * brings the clock, the network and the place where `toJSON()` is kept.
 */
export class Outbox {
  /** @type {Map<string, Change>} */
  #waiting = new Map();
  /** @type {Change|null} */
  sending = null;
  /** @type {Refusal[]} */
  refused = [];
  /** Why the last attempt failed, or "" when it did not. */
  trouble = "";
  #seq = 0;

  /** @param {{changes?: Change[]}|null} [kept] what an earlier page left behind */
  constructor(kept) {
    for (const change of kept?.changes ?? []) {
      this.#waiting.set(change.key, { ...change, seq: ++this.#seq, tries: 0, due: 0 });
    }
  }

  /**
   * The newest change of an object replaces the older one; parts (PATCH) are laid over each other.
   * @param {{key: string, method: string, url: string, body?: any}} change
   * @param {number} now ms
   */
  put({ key, method, url, body = null }, now) {
    const older = this.#waiting.get(key);
    const whole = older && method === "PATCH" && older.method === "PATCH";
    this.refused = this.refused.filter((refusal) => refusal.key !== key);
    this.#waiting.set(key, {
      key,
      method,
      url,
      body: whole ? { ...older.body, ...body } : body,
      // A part laid over an older one may name what was made since, so it goes after that.
      seq: whole ? ++this.#seq : (older?.seq ?? ++this.#seq),
      tries: older?.tries ?? 0,
      due: Math.max(older?.tries ? older.due : 0, now + SETTLE_MS),
    });
  }

  /** Take the next change that is due. @param {number} now @returns {Change|null} */
  take(now) {
    if (this.sending) return null;
    const first = this.#ordered()[0];
    if (!first || first.due > now) return null;
    this.#waiting.delete(first.key);
    this.sending = first;
    return first;
  }

  /** The change under way has arrived. */
  arrived() {
    this.sending = null;
    this.trouble = "";
  }

  /** It did not arrive; keep it, under whatever was written since. @param {string} why @param {number} now */
  held(why, now) {
    const change = this.#end();
    this.trouble = why;
    const newer = this.#waiting.get(change.key);
    const tries = change.tries + 1;
    const due = now + backoff(tries);
    if (!newer) this.#waiting.set(change.key, { ...change, tries, due });
    else {
      const both = newer.method === "PATCH" && change.method === "PATCH";
      const body = both ? { ...change.body, ...newer.body } : newer.body;
      this.#waiting.set(change.key, { ...newer, body, seq: change.seq, tries, due });
    }
  }

  /** The server will not have it: trying again cannot help, so the words are shown instead. @param {string} why */
  refuse(why) {
    const { key, body } = this.#end();
    this.trouble = "";
    const newer = this.#waiting.get(key)?.body ?? {};
    // What was written since is heard in its place.
    if (body && Object.keys(body).every((name) => name in newer)) return;
    this.refused = [...this.refused.filter((refusal) => refusal.key !== key), { key, why, body }];
  }

  /** What it names is gone, and nothing of it is owed. @param {string} key */
  forget(key) {
    this.refused = this.refused.filter((refusal) => refusal.key !== key);
    this.#waiting.delete(key);
  }

  #end() {
    if (!this.sending) throw new Error("Nothing is on its way.");
    const change = this.sending;
    this.sending = null;
    return change;
  }

  /** The network came back: everything is due. @param {number} now */
  wake(now) {
    for (const change of this.#waiting.values()) change.due = Math.min(change.due, now);
  }

  /** When the next attempt is due, in ms, or null. */
  get due() {
    return this.#ordered()[0]?.due ?? null;
  }

  #ordered() {
    return [...this.#waiting.values()].sort((a, b) => a.seq - b.seq);
  }

  /** @returns {"saved"|"saving"|"kept"|"refused"} */
  get state() {
    if (this.refused.length) return "refused";
    if (!this.sending && !this.#waiting.size) return "saved";
    return this.trouble ? "kept" : "saving";
  }

  /** Everything not yet known to have arrived, the change under way first. @returns {Change[]} */
  get changes() {
    return [...(this.sending ? [this.sending] : []), ...this.#ordered()];
  }

  toJSON() {
    return { changes: this.changes };
  }
}
