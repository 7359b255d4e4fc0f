// @ts-check
import { DraftStorage } from "../core/draft-storage.js";
import { Problem, send } from "../core/net.js";
import { Outbox } from "../core/outbox.js";
import { Sender } from "../core/sender.js";

/**
 * @typedef {{revision: number, cells: Record<string, {html: string}>, sets: Record<number, string>,
 *   refused: Record<string, string>}} Answer
 * @typedef {{text: string, note?: string}} Cell
 */

/** What was typed into the cells of a programme: all that waits goes out as one request. */
export class CellChanges {
  outbox = new Outbox(null);

  /**
   * @param {string} url @param {number} revision
   * @param {(answer: Answer) => void} answered @param {(text: string, stuck: boolean) => void} say
   */
  constructor(url, revision, answered, say) {
    this.url = url;
    this.revision = revision;
    this.answered = answered;
    this.say = say;
    this.storage = new DraftStorage("cells", url, { ownTab: true });
    this.sender = new Sender(this.outbox, this.storage, {
      deliver: (changes) => this.#deliver(changes),
      changed: () => this.#changed(),
      batch: true,
    });
  }

  /**
   * What closed pages left unsaved and this one does not show: parked until somebody decides on it.
   * @param {(key: string) => {text?: string, note?: string}|undefined} shown undefined: no such cell
   * @returns {Promise<{key: string, text: string, note?: string}[]>}
   */
  async recover(shown) {
    await this.storage.takeOver((stored) => {
      for (const change of [...(stored?.parked ?? []), ...(stored?.changes ?? [])]) {
        const { text: now, note = "" } = shown(change.key) ?? {};
        const { body } = change;
        const isHere = now !== undefined && plain(now) === plain(body.text) && (body.note ?? note) === note;
        if (now !== undefined && !isHere) this.outbox.park(change);
      }
      this.sender.save();
    });
    return this.outbox.parked.map(({ key, body }) => ({ key, ...body }));
  }

  /** Let go of what was typed into a cell and did not get in. @param {string} key */
  drop(key) {
    this.outbox.forget(key);
  }

  /** @param {string} key "session:row" @param {string} text @param {string} [note] */
  put(key, text, note) {
    const body = note === undefined ? { text } : { text, note };
    this.outbox.put({ key, method: "PATCH", url: this.url, body }, Date.now());
    this.say("Saving", false);
    this.sender.save();
  }

  /** @param {import("../core/outbox.js").Change[]} changes @returns {Promise<void>} */
  async #deliver(changes) {
    const cells = changes.map(({ key, body }) => {
      const [session, row] = key.split(":");
      return { session, row, ...body };
    });
    try {
      /** @type {Answer} */
      const answer = await send("PATCH", this.url, { seen: this.revision, cells });
      this.revision = answer.revision;
      this.answered(answer);
      const saved = this.outbox.due === null ? "Saved" : "Saving"; // more was typed since
      this.say(Object.keys(answer.refused).length ? "Not everything could be saved" : saved, false);
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      // Nothing of a request that was refused as a whole is wrong by itself: it waits.
      throw error.kind === "refused" ? new Problem("conflict", error.message, error.status) : error;
    }
  }

  #changed() {
    const { trouble, state } = this.sender;
    if (!trouble || state !== "kept" || this.outbox.sending.length) return;
    if (trouble.kind === "network" || trouble.kind === "server") this.say("The network is gone. What you typed is kept here and goes on by itself.", false);
    else this.say(`${trouble.message} What you typed is kept.`, true);
  }
}

/** The server writes "2x2 130kg" as "2x2 130 kg". @param {string} text */
function plain(text) {
  return text.replace(/\s/g, "").toLowerCase();
}
