// @ts-check
/**
 * What this phone logged, and how much of it the server has. Pure: no clock, no network, no DOM.
 *
 * Each thing carries a count of its changes (`revision`). The server takes a change only when its
 * count is higher than the one it has, so sending twice or late does no harm, and two tabs that
 * hold the same journal can be laid over each other.
 *
 * @typedef {"session"|"set"|"weight"} Kind
 * @typedef {{kind: Kind, id: string, session: string, body: Record<string, any>|null,
 *   revision: number, arrived: number, asOf: string, refused: string, overtaken: boolean,
 *   seq: number}} Entry
 *   `body` null: taken out. `arrived`: the newest count the server has. `asOf`: the server's clock
 *   then. `refused`: why the server will not have it. `overtaken`: another phone's change stands.
 */

/** @param {Kind} kind @param {string} id */
export const keyOf = (kind, id) => `${kind}:${id}`;

export class Journal {
  /** @type {Map<string, Entry>} */
  entries = new Map();
  /** What is under way, as it was then. @type {Entry[]} */
  sending = [];

  /** @param {{entries?: Entry[]}|null} [stored] */
  constructor(stored) {
    this.merge(stored);
  }

  /**
   * Note a change. @param {Kind} kind @param {string} id @param {Record<string, any>|null} body
   * @param {{session?: string, known?: number}} [facts] known: the count of what the page shows
   */
  put(kind, id, body, { session = "", known = 0 } = {}) {
    const older = this.entries.get(keyOf(kind, id));
    const revision = Math.max(older?.revision ?? 0, known) + 1;
    const facts = { refused: "", overtaken: false, seq: older?.seq ?? this.#next() };
    const arrived = older?.arrived ?? 0;
    const entry = { kind, id, session, body, revision, arrived, asOf: older?.asOf ?? "", ...facts };
    this.entries.set(keyOf(kind, id), entry);
    return entry;
  }

  #next() {
    return 1 + Math.max(0, ...[...this.entries.values()].map((entry) => entry.seq));
  }

  /** Lay another copy over this one, thing by thing: the higher count wins. @param {{entries?: Entry[]}|null} [other] */
  merge(other) {
    for (const theirs of other?.entries ?? []) {
      const key = keyOf(theirs.kind, theirs.id);
      const ours = this.entries.get(key);
      if (!ours || theirs.revision > ours.revision) this.entries.set(key, { ...theirs });
      else if (theirs.revision === ours.revision && theirs.arrived > ours.arrived)
        this.entries.set(key, { ...theirs });
      else ours.arrived = Math.max(ours.arrived, theirs.arrived);
    }
  }

  /** What the server does not have yet, oldest first; a session goes before its sets. @returns {Entry[]} */
  get waiting() {
    return [...this.entries.values()]
      .filter((entry) => entry.revision > entry.arrived && !entry.refused)
      .sort((a, b) => Number(b.kind === "session") - Number(a.kind === "session") || a.seq - b.seq);
  }

  /** What the server refused. @returns {Entry[]} */
  get refused() {
    return [...this.entries.values()].filter((entry) => entry.refused);
  }

  /** Nothing is due before another: what waits goes at once. @returns {number|null} */
  get due() {
    return this.waiting.length ? 0 : null;
  }

  /** @returns {Entry[]} the next to be sent */
  take() {
    if (this.sending.length) return [];
    this.sending = this.waiting.slice(0, 1).map((entry) => ({ ...entry }));
    return this.sending;
  }

  /** It did not arrive: it waits on. */
  held() {
    this.sending = [];
  }

  /**
   * The server answered. What was changed again since stays waiting.
   * @param {{as_of: string, gone?: boolean, stored?: Record<string, any>}} answer stored: the row
   *   as it stands, where there is one
   */
  arrived({ as_of: asOf, gone = false, stored }) {
    const [entry, revision] = this.#sent();
    if (!entry) return;
    entry.arrived = Math.max(entry.arrived, revision);
    entry.asOf = asOf;
    if (entry.revision !== revision) return;
    if (gone && entry.body) Object.assign(entry, { body: null, overtaken: true });
    else if (stored && entry.body && differs(entry.body, stored)) {
      const count = Number(stored.revision);
      Object.assign(entry, { body: stored, overtaken: true, revision: count, arrived: count });
    }
  }

  /** @param {string} why */
  refuse(why) {
    const [entry, revision] = this.#sent();
    if (entry && entry.revision === revision) entry.refused = why;
  }

  /** @returns {[Entry|undefined, number]} what was under way, as it stands now, and the count that was sent */
  #sent() {
    const [{ kind, id, revision }] = this.sending;
    this.sending = [];
    return [this.entries.get(keyOf(kind, id)), revision];
  }

  /** Let go of what the server would not have. @param {string} key */
  drop(key) {
    this.entries.delete(key);
  }

  /** Forget what a page from the server holds by itself. @param {string} asOf the page's time */
  settle(asOf) {
    for (const [key, entry] of this.entries) {
      const held = entry.revision > entry.arrived || entry.refused;
      if (!held && Date.parse(entry.asOf) < Date.parse(asOf)) this.entries.delete(key);
    }
  }

  /** @returns {{entries: Entry[]}|null} null: nothing to be kept */
  toJSON() {
    return this.entries.size ? { entries: [...this.entries.values()] } : null;
  }
}

/**
 * Whether the server's row says something else than what was sent.
 * @param {Record<string, any>} sent @param {Record<string, any>} stored
 */
function differs(sent, stored) {
  return Object.keys(sent).some(
    (name) =>
      !name.endsWith("_at") && name !== "day" && name in stored && !same(sent[name], stored[name]),
  );
}

/** @param {any} a @param {any} b "140.0" and "140" are the same load */
function same(a, b) {
  if (a === b || (a ?? "") === (b ?? "")) return true;
  return a !== null && b !== null && a !== "" && b !== "" && Number(a) === Number(b);
}
