// @ts-check
import { backoff } from "../core/outbox.js";
import { Problem, send } from "../core/net.js";
import { Pending } from "./pending-cells.js";

const SETTLE_MS = 150;

/**
 * Sends typed cells as they come and keeps them on this machine until they arrived.
 * @typedef {{revision: number, cells: Record<string, {text: string, html: string}>, sets: Record<string, string>, refused: Record<string, string>}} Answer
 */
export class Saver {
  /** @type {ReturnType<typeof setTimeout>|undefined} */
  #timer;
  #tries = 0;
  /** The page to come may have been written before what arrives from now on: it finds it here. */
  #leaving = false;
  /** What an earlier page left and nobody decided on yet. @type {Map<string, string>} */
  #earlier = new Map();

  /**
   * @param {string} url @param {number} revision
   * @param {(answer: Answer) => void} answered @param {(words: string, stuck: boolean) => void} say
   */
  constructor(url, revision, answered, say) {
    this.url = url;
    this.revision = revision;
    this.answered = answered;
    this.say = say;
    const reader = document.querySelector('meta[name="reader"]')?.getAttribute("content") ?? "";
    this.shelf = `cells:${reader}:${url}`; // the next coach at this browser does not meet them
    this.pending = new Pending();
    /** Notes go with their cell. @type {Map<string, string>} */
    this.notes = new Map();
    addEventListener("online", () => this.#soon(0));
    addEventListener("beforeunload", () => (this.#leaving = true));
  }

  /**
   * What an earlier page left unsaved and this one does not show.
   * @param {(key: string) => {text?: string, note?: string}|undefined} shown undefined: no such cell
   * @returns {{key: string, text: string, note?: string}[]}
   */
  recover(shown) {
    for (const [key, text, note] of kept(this.shelf)) {
      const { text: now, note: said = "" } = shown(key) ?? {};
      if (now === undefined || (plain(now) === plain(text) && (note ?? said) === said)) continue;
      this.#earlier.set(key, text);
      if (note !== undefined) this.notes.set(key, note);
    }
    this.#keep();
    return [...this.#earlier].map(([key, text]) => ({ key, text, note: this.notes.get(key) }));
  }

  /** Let go of what was typed into a cell and did not get in. @param {string} key */
  drop(key) {
    this.pending.drop(key);
    this.notes.delete(key);
  }

  /** @param {string} key "session:row" @param {string} text @param {string} [note] */
  put(key, text, note) {
    this.#leaving = false; // it was only a file that was fetched
    this.#earlier.delete(key);
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
    const notes = new Map(this.notes);
    const cells = batch.map(([key, text]) => {
      const [session, row] = key.split(":");
      const note = notes.get(key);
      return note === undefined ? { session, row, text } : { session, row, text, note };
    });
    try {
      const answer = await send("PATCH", this.url, { seen: this.revision, cells });
      this.#tries = 0;
      this.revision = answer.revision;
      for (const [key] of batch) if (this.notes.get(key) === notes.get(key)) this.notes.delete(key);
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
    if (this.#leaving) return;
    const owed = [...new Map([...this.#earlier, ...this.pending.all])];
    const cells = owed.map(([key, text]) => [key, text, this.notes.get(key)]);
    try {
      if (cells.length) localStorage.setItem(this.shelf, JSON.stringify(cells));
      else localStorage.removeItem(this.shelf);
    } catch {
      // Private windows may refuse storage; the page itself still holds what was typed.
    }
  }
}

/** The server writes "2x2 130kg" as "2x2 130 kg". @param {string} text */
function plain(text) {
  return text.replace(/\s/g, "").toLowerCase();
}

/** @param {string} shelf @returns {[string, string, string|undefined][]} cell, text, note */
function kept(shelf) {
  try {
    /** @type {[string, string, string|null|undefined][]} */
    const cells = JSON.parse(localStorage.getItem(shelf) ?? "[]");
    return cells.map(([key, text, note]) => [key, text, note ?? undefined]);
  } catch {
    return []; // storage is off or holds something that is not ours
  }
}
