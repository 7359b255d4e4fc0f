// @ts-check
import { DraftStorage, keysOf, readKey } from "../core/draft-storage.js";
import { getJSON, Problem, send } from "../core/net.js";
import { Sender } from "../core/sender.js";
import { Journal } from "./journal.js";

const KIND = "training";
const NIL = "00000000-0000-0000-0000-000000000000";

/** What is logged on this phone: kept in the journal, which all tabs share, and brought to the server. */
export class LogChanges {
  #urls;
  #storage = new DraftStorage(KIND, "log");

  /**
   * @param {{as_of: string, urls: Record<string, string>}} data of the page
   * @param {() => void} changed called whenever the journal or the trouble is another
   */
  constructor(data, changed) {
    this.#urls = data.urls;
    this.journal = new Journal(this.#storage.read());
    this.journal.settle(data.as_of);
    this.#storage.write(this.journal);
    // What another tab wrote since is not written over.
    const storage = { write: (/** @type {Journal} */ journal) => this.#write(journal) };
    this.sender = new Sender(this.journal, storage, { deliver: ([entry]) => this.#deliver(entry), changed });
    addEventListener("storage", ({ key }) => {
      if (key !== this.#storage.key) return;
      this.journal.merge(this.#storage.read());
      changed();
    });
    this.sender.wake();
  }

  /** @param {Journal} journal */
  #write(journal) {
    journal.merge(this.#storage.read());
    return this.#storage.write(journal);
  }

  /** @param {import("./journal.js").Kind} kind @param {string} id @param {Record<string, any>|null} body
   *  @param {{session?: string, known?: number}} [facts] */
  put(kind, id, body, facts) {
    this.journal.put(kind, id, body, facts);
    this.sender.save();
  }

  /** Let go of a refused change. @param {string} key */
  drop(key) {
    this.journal.drop(key);
    this.#storage.write(this.journal);
  }

  /** What the server holds by now. @returns {Promise<any>} */
  fresh() {
    return getJSON(this.#urls.state);
  }

  /** @param {import("./journal.js").Entry} entry */
  async #deliver({ kind, id, session, body, revision }) {
    const method = body === null && kind !== "weight" ? "DELETE" : "PUT";
    try {
      const answer = await send(method, this.#url(kind, id, session), { ...body, revision });
      return { ...answer, stored: answer.set ?? answer.session };
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      if (error.status === 404 && body === null) return { as_of: new Date().toISOString() };
      if (error.status === 404) throw new Problem("refused", "Its session was taken out of the log on another phone.");
      throw error.kind === "conflict" ? new Problem("refused", error.message) : error;
    }
  }

  /** @param {string} kind @param {string} id @param {string} session */
  #url(kind, id, session) {
    if (kind === "weight") return this.#urls.weight.replace("0001-01-01", id);
    if (kind === "session") return this.#urls.session.replace(NIL, id);
    return `${this.#urls.session.replace(NIL, session)}sets/${id}/`;
  }
}

/** How many changes on this phone have not arrived, whoever trained here. */
export function unsentChanges() {
  return keysOf(`${KIND}:`).reduce((sum, key) => sum + new Journal(readKey(key)).waiting.length, 0);
}
