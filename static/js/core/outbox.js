// @ts-check
/**
 * @typedef {{key: string, method: string, url: string, body?: any, at?: string, once?: boolean}} NewChange
 *   `at`: when it was written; `once`: it would count twice if it arrived twice
 * @typedef {NewChange & {body: any, seq: number, due: number}} Change
 * @typedef {{key: string, method: string, url: string, body: any, why: string,
 *   errors: Record<string, any>}} Refusal
 */

/** A pause in typing, so that a sentence is one request and not forty. */
export const SETTLE_MS = 400;

/**
 * What the page still owes the server: at most one change per key, oldest first, and nothing is
 * sent while something is under way, so that an order of notes never overtakes the note it names.
 * A change can also be parked: it is kept, and sent once it is put. Pure: the sender brings clock
 * and network, the storage the place where `toJSON()` is kept.
 */
export class Outbox {
  /** @type {Map<string, Change>} */
  #waiting = new Map();
  /** @type {Map<string, NewChange>} */
  #parked = new Map();
  /** What is under way. @type {Change[]} */
  sending = [];
  /** @type {Refusal[]} */
  refused = [];
  #seq = 0;

  /**
   * @param {{changes?: NewChange[], parked?: NewChange[]}|null} [stored] what an earlier page left;
   *   of one key it may have left two states, the one under way first
   * @param {{keepsRefused?: boolean}} [how] keepsRefused: the next page tries it again
   */
  constructor(stored, { keepsRefused = false } = {}) {
    this.keepsRefused = keepsRefused;
    for (const change of stored?.changes ?? []) this.put(change, -SETTLE_MS);
    for (const change of stored?.parked ?? []) this.park(change);
  }

  /**
   * The newest change of a key replaces the older one; parts (PATCH) are laid over each other.
   * @param {NewChange} change @param {number} now ms
   */
  put(change, now) {
    const { key, method, body = null } = change;
    const older = this.#waiting.get(key);
    const base = older ?? this.#parked.get(key);
    const isPart = method === "PATCH" && base?.method === "PATCH";
    this.#parked.delete(key);
    this.#dropRefusal(key);
    this.#waiting.set(key, {
      ...change,
      body: isPart ? { ...base.body, ...body } : body,
      // A part laid over an older one may name what was made since, so it goes after that.
      seq: isPart || !older ? ++this.#seq : older.seq,
      due: now + SETTLE_MS,
    });
  }

  /** Keep a change that is not to be sent as it is. @param {NewChange} change */
  park(change) {
    this.forget(change.key);
    this.#parked.set(change.key, change);
  }

  /** Take the next change, or all that waits in one batch. @param {boolean} [all] @returns {Change[]} */
  take(all = false) {
    if (this.sending.length) return [];
    this.sending = this.#ordered().slice(0, all ? undefined : 1);
    for (const { key } of this.sending) this.#waiting.delete(key);
    return this.sending;
  }

  /** What is under way has arrived. */
  arrived() {
    this.sending = [];
  }

  /** It did not arrive: it waits again, under whatever was written since. */
  held() {
    for (const change of this.sending) {
      const { body, method, ...newer } = this.#waiting.get(change.key) ?? change;
      const isPart = method === "PATCH" && change.method === "PATCH";
      this.#waiting.set(change.key, { ...newer, method, body: isPart ? { ...change.body, ...body } : body, seq: change.seq });
    }
    this.sending = [];
  }

  /**
   * The server will not have it: trying again cannot help, so the reason is shown instead.
   * @param {string} why @param {Record<string, any>} [errors] field by field
   */
  refuse(why, errors = {}) {
    for (const { key, method, url, body } of this.sending) {
      const newer = this.#waiting.get(key)?.body ?? {};
      // What was written since is heard in its place.
      if (body && Object.keys(body).every((name) => name in newer)) continue;
      this.#dropRefusal(key);
      this.refused.push({ key, method, url, body, why, errors });
    }
    this.sending = [];
  }

  /** Nothing of it is owed any more. @param {string} key */
  forget(key) {
    this.#dropRefusal(key);
    this.#waiting.delete(key);
    this.#parked.delete(key);
  }

  /** @param {string} key */
  #dropRefusal(key) {
    this.refused = this.refused.filter((refusal) => refusal.key !== key);
  }

  #ordered() {
    return [...this.#waiting.values()].sort((a, b) => a.seq - b.seq);
  }

  /** When the next change may go, in ms, or null. */
  get due() {
    return this.#ordered()[0]?.due ?? null;
  }

  /** @param {string} key whether a newer change than the one under way waits */
  has(key) {
    return this.#waiting.has(key);
  }

  /** Everything not yet known to have arrived, what is under way first. @returns {Change[]} */
  get changes() {
    return [...this.sending, ...this.#ordered()];
  }

  /** @returns {NewChange[]} */
  get parked() {
    return [...this.#parked.values()];
  }

  /** @returns {{changes: NewChange[], parked: NewChange[]}|null} null: nothing to be kept */
  toJSON() {
    const { parked } = this;
    const changes = [...(this.keepsRefused ? this.refused.map(asChange) : []), ...this.changes];
    return changes.length || parked.length ? { changes, parked } : null;
  }
}

/** @param {Refusal} refusal @returns {NewChange} */
function asChange({ key, method, url, body }) {
  return { key, method, url, body };
}
