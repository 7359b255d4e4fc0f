// @ts-check
import { History } from "../core/history.js";
import { replaced, withRanks } from "../core/review.js";
import { isReadOnly } from "./read-only.js";

const SENT = "This reply is sent. Press “Change the reply” to write on.";

/**
 * Writing on a review: each step changes the store first, so the page answers at once, is handed on
 * to be saved, and can be undone.
 * @typedef {import("../core/types.js").Note} Note
 * @typedef {import("../core/types.js").RepCall} RepCall
 * @typedef {import("../core/history.js").Step} Step
 */
export class ReviewEdits {
  history = new History();

  /** @param {import("./workbench-part.js").WorkbenchStore} store @param {import("./review-changes.js").ReviewChanges} changes */
  constructor(store, changes) {
    this.store = store;
    this.changes = changes;
  }

  get state() {
    return this.store.state;
  }

  /** Whether nothing can be written now; a sent reply says so beside its button. */
  get isLocked() {
    if (this.state.reply.published) this.store.set({ message: SENT });
    return isReadOnly(this.state);
  }

  /** Do it, remember it. @param {Step[]} steps that belong together */
  apply(...steps) {
    if (this.isLocked) return;
    for (const { what, after } of steps) this.#put(what, after);
    this.history.record(steps, Date.now());
    this.#showHistory();
  }

  undo() {
    if (this.isLocked) return;
    for (const { what, value } of this.history.undo()) this.#put(what, value);
    this.#showHistory();
  }

  redo() {
    if (this.isLocked) return;
    for (const { what, value } of this.history.redo()) this.#put(what, value);
    this.#showHistory();
  }

  #showHistory() {
    const { canUndo, canRedo } = this.history;
    this.store.set({ canUndo, canRedo, removed: false });
  }

  /** Set a thing to a value, here and on the server. @param {string} what @param {any} value */
  #put(what, value) {
    const [kind, id] = what.split(":");
    if (kind === "note") this.#putNote(id, value);
    else if (kind === "rep") this.#putCall(value);
    else if (kind === "outcome") this.setOutcome(id, value);
    else if (kind === "ranks") this.#putRanks(value);
    else this.#putReply(value);
  }

  /** @param {string} id @param {Note|null} note */
  #putNote(id, note) {
    const is = (/** @type {Note} */ other) => other.id === id;
    const old = this.state.notes.find((note) => note.id === id);
    if (note) {
      this.store.set({ notes: replaced(this.state.notes, is, note) });
      this.changes.note(note);
    } else if (old) {
      const notes = this.state.notes.filter((other) => !is(other));
      this.store.set({ notes, note: this.state.note === id ? null : this.state.note });
      this.changes.removeNote(old);
    }
  }

  /** @param {RepCall} call */
  #putCall(call) {
    const is = (/** @type {RepCall} */ other) => other.clip === call.clip && other.rep === call.rep;
    this.store.set({ rep_calls: replaced(this.state.rep_calls, is, call) });
    this.changes.call(call);
  }

  /** @param {string} note @param {string} result */
  setOutcome(note, result) {
    this.store.set({ outcomes: { ...this.state.outcomes, [note]: result } });
    this.changes.outcome(note, result);
  }

  /** @param {string[]} ids */
  #putRanks(ids) {
    this.store.set({ notes: withRanks(this.state.notes, ids) });
    this.changes.reply({ ranks: ids });
  }

  /** @param {Partial<import("../core/types.js").Reply>} part */
  #putReply(part) {
    this.store.set({ reply: { ...this.state.reply, ...part } });
    this.changes.reply(part);
  }
}
