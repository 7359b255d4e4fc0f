// @ts-check
/** Brings what the journal holds to the server, one thing at a time, for as long as it takes. */

import { backoff } from "../core/outbox.js";
import { getJSON, Problem, send } from "../core/net.js";
import { Journal, keyOf } from "./journal.js";
import { keep, kept, shelfOf } from "./log-storage.js";

const NIL = "00000000-0000-0000-0000-000000000000";

export class Sender {
  /** Why things are kept here, when they are. @type {Problem["kind"]|""} */
  trouble = "";
  /** Whether this browser lets us keep anything. */
  keeps = true;
  /** @type {ReturnType<typeof setTimeout>|undefined} */
  #timer;
  #tries = 0;
  #sending = false;
  #shelf;
  #urls;
  #changed;

  /**
   * @param {{athlete: number, as_of: string, urls: Record<string, string>}} data of the page
   * @param {() => void} changed called whenever the journal or the trouble is another
   */
  constructor(data, changed) {
    this.#shelf = shelfOf(String(data.athlete));
    this.#urls = data.urls;
    this.#changed = changed;
    this.journal = new Journal(kept(this.#shelf));
    this.journal.settle(data.as_of);
    this.keeps = keep(this.#shelf, this.journal, { forgets: true });
    addEventListener("online", () => this.wake());
    addEventListener("storage", (event) => event.key === this.#shelf && this.#merge());
    document.addEventListener("visibilitychange", () => !document.hidden && this.wake());
    this.wake();
  }

  /** @param {import("./journal.js").Kind} kind @param {string} id @param {Record<string, any>|null} body
   *  @param {{session?: string, known?: number}} [facts] */
  put(kind, id, body, facts) {
    this.journal.put(kind, id, body, facts);
    this.keeps = keep(this.#shelf, this.journal);
    this.#changed();
    void this.#pump();
  }

  /** Let go of a refused change. @param {string} key */
  drop(key) {
    this.journal.drop(key);
    keep(this.#shelf, this.journal, { forgets: true });
    this.#changed();
  }

  /** Try again now: the network or the reader is back. */
  wake() {
    this.#tries = 0;
    void this.#pump();
  }

  /** What the server holds by now. @returns {Promise<any>} */
  fresh() {
    return getJSON(this.#urls.state);
  }

  #merge() {
    this.journal.merge(kept(this.#shelf));
    this.#changed();
  }

  async #pump() {
    clearTimeout(this.#timer);
    if (this.#sending) return;
    this.#sending = true;
    for (let [entry] = this.journal.waiting; entry; [entry] = this.journal.waiting) {
      if (!(await this.#bring(entry))) break;
    }
    this.#sending = false;
    if (this.journal.waiting.length) this.#later();
  }

  #later() {
    this.#tries += 1;
    this.#timer = setTimeout(() => void this.#pump(), backoff(this.#tries));
  }

  /** @param {import("./journal.js").Entry} entry @returns {Promise<boolean>} whether to go on */
  async #bring({ kind, id, session, body, revision }) {
    const key = keyOf(kind, id);
    try {
      const method = body === null && kind !== "weight" ? "DELETE" : "PUT";
      const answer = await send(method, this.#url(kind, id, session), { ...body, revision });
      this.journal.arrived(key, revision, { ...answer, stored: answer.set ?? answer.session });
      this.trouble = "";
      this.#tries = 0;
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      if (error.kind === "refused" || error.kind === "conflict") this.#refused(key, revision, body, error);
      else this.trouble = error.kind;
    }
    this.keeps = keep(this.#shelf, this.journal);
    this.#changed();
    return this.trouble === "";
  }

  /** @param {string} key @param {number} revision @param {any} body @param {Problem} error */
  #refused(key, revision, body, { status, message }) {
    this.trouble = "";
    if (status !== 404) this.journal.refuse(key, revision, message);
    else if (body === null) this.journal.arrived(key, revision, { as_of: new Date().toISOString() });
    else this.journal.refuse(key, revision, "Its session was taken out of the log on another phone.");
  }

  /** @param {string} kind @param {string} id @param {string} session */
  #url(kind, id, session) {
    if (kind === "weight") return this.#urls.weight.replace("0001-01-01", id);
    if (kind === "session") return this.#urls.session.replace(NIL, id);
    return `${this.#urls.session.replace(NIL, session)}sets/${id}/`;
  }
}
