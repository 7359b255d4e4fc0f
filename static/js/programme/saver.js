// @ts-check
import { backoff } from "../core/outbox.js";
import { Problem, send } from "../net.js";
import { Pending } from "./pending.js";

const SETTLE_MS = 150;

/**
 * Sends typed cells as they come and keeps them on this machine until they arrived.
 * @typedef {{revision: number, cells: Record<string, {text: string, html: string}>, sets: Record<string, string>, refused: Record<string, string>}} Answer
 */
export class Saver {
  /** @type {ReturnType<typeof setTimeout>|undefined} */
  #timer;
  #tries = 0;

  /**
   * @param {string} url @param {number} revision
   * @param {(answer: Answer) => void} answered @param {(words: string, stuck: boolean) => void} say
   */
  constructor(url, revision, answered, say) {
    this.url = url;
    this.revision = revision;
    this.answered = answered;
    this.say = say;
    this.shelf = `cells:${url}`;
    this.pending = new Pending();
    /** Notes go with their cell. @type {Map<string, string>} */
    this.notes = new Map();
    addEventListener("online", () => this.#soon(0));
  }

  /** What an earlier page left unsaved. @returns {[string, string][]} */
  kept() {
    try {
      return JSON.parse(localStorage.getItem(this.shelf) ?? "[]");
    } catch {
      return []; // storage is off or holds something that is not ours
    }
  }

  /** @param {string} key "session:row" @param {string} text @param {string} [note] */
  put(key, text, note) {
    this.pending.put(key, text);
    if (note !== undefined) this.notes.set(key, note);
    this.#keep();
    this.say("Saving", false);
    this.#soon(SETTLE_MS);
  }

  /** Resolves when nothing is on its way or waits. */
  async settle() {
    clearTimeout(this.#timer);
    while (this.pending.size && this.#tries === 0) {
      if (this.pending.away) await new Promise((done) => setTimeout(done, 50));
      else await this.#pump();
    }
  }

  /** @param {number} ms */
  #soon(ms) {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.#pump(), ms);
  }

  async #pump() {
    const batch = this.pending.take();
    if (!batch.length) return;
    const cells = batch.map(([key, text]) => {
      const [session, row] = key.split(":");
      const note = this.notes.get(key);
      return note === undefined ? { session, row, text } : { session, row, text, note };
    });
    try {
      const answer = await send("PATCH", this.url, { seen: this.revision, cells });
      this.#tries = 0;
      this.revision = answer.revision;
      for (const [key] of batch) this.notes.delete(key);
      this.pending.arrived();
      this.answered(answer);
      this.say(Object.keys(answer.refused).length ? "Not everything could be saved" : "Saved", false);
      if (this.pending.size) this.#soon(0);
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      this.#failed(error);
    }
    this.#keep();
  }

  /** @param {Problem} problem */
  #failed({ kind, message }) {
    this.pending.held();
    if (kind === "network" || kind === "server") {
      this.#tries += 1;
      this.say("The network is gone. What you typed is kept here and goes on by itself.", false);
      this.#soon(backoff(this.#tries));
    } else {
      this.#tries = 1;
      this.say(`${message} What you typed is kept.`, true);
    }
  }

  #keep() {
    try {
      if (this.pending.size) localStorage.setItem(this.shelf, JSON.stringify(this.pending.all));
      else localStorage.removeItem(this.shelf);
    } catch {
      // Private windows may refuse storage; the page itself still holds what was typed.
    }
  }
}
