// @ts-check
import { Outbox } from "../core/outbox.js";
import { overlaid } from "../core/review.js";
import { getJSON, Problem, send } from "../core/net.js";
import { Shelf } from "./draft-storage.js";

/** What may still be taken by working on it; an answered one is taken up again on purpose. */
const FREE = ["waiting", "waiting-on-athlete"];

/**
 * Sends what changed and keeps it on this machine until it has arrived, so that neither a reload
 * nor a dead network loses a word.
 */
export class Saver {
  /** @type {ReturnType<typeof setTimeout>|undefined} */
  #timer;

  /**
   * @param {import("./workbench-part.js").WorkbenchStore} store
   * @param {Record<string, string>} urls with __id__, __clip__ and __rep__ to be filled in
   * @param {string} shelf name under which unsent changes are kept
   */
  constructor(store, urls, shelf) {
    this.store = store;
    this.urls = urls;
    this.shelf = new Shelf(shelf);
    this.outbox = new Outbox();
    addEventListener("online", () => this.wake());
    document.addEventListener("visibilitychange", () => this.wake());
  }

  /** @param {import("../core/types.js").Note} note */
  note(note) {
    this.#put(`note:${note.id}`, "PUT", filled(this.urls.note, { id: note.id }), note);
  }

  /** @param {import("../core/types.js").Note} note */
  removeNote(note) {
    this.#put(`note:${note.id}`, "DELETE", filled(this.urls.note, { id: note.id }));
  }

  /** @param {import("../core/types.js").RepCall} call */
  call(call) {
    const { clip, rep, ...body } = call;
    this.#put(`rep:${clip}:${rep}`, "PUT", filled(this.urls.rep, { clip, rep }), body);
  }

  /** @param {string} note of the earlier reply @param {string} result what became of it */
  outcome(note, result) {
    this.#put(`outcome:${note}`, "PUT", filled(this.urls.outcome, { id: note }), { result });
  }

  /** @param {object} part of the reply, or {ranks: note ids in order} */
  reply(part) {
    this.#put("reply", "PATCH", this.urls.reply, part);
  }

  /** Go on from what closed pages left unsent; what was changed here since is newer. */
  async recover() {
    await this.shelf.takeOver((changes) => {
      // Of one thing it may have left two states, the one under way first: the later one counts.
      const own = new Set(this.outbox.changes.map(({ key }) => key));
      for (const change of changes) if (!own.has(change.key)) this.outbox.put(change, Date.now());
      const { notes, rep_calls, reply, outcomes } = overlaid(
        this.store.state,
        this.outbox.changes,
      );
      this.store.set({ notes, rep_calls, reply, outcomes });
      this.#tell();
    });
    this.wake();
  }

  /** Try again now: the network or the reader is back. */
  wake() {
    this.outbox.wake(Date.now());
    void this.#pump();
  }

  get #isFree() {
    const { claim, submission } = this.store.state;
    return claim === null && FREE.includes(submission.status);
  }

  /** Take the submission: opening it takes nothing, working on it does. Throws Problem. */
  async claim() {
    await send("POST", this.urls.claim);
    await this.#readClaim();
  }

  async #readClaim() {
    const { submission, claim, may_publish, reply } = await getJSON(this.urls.state);
    const { published } = reply; // its words are this page's own: some may not have arrived
    const mine = { ...this.store.state.reply, published };
    this.store.set({ submission, claim, may_publish, reply: mine });
  }

  /** @param {string} key @param {string} method @param {string} url @param {any} [body] */
  #put(key, method, url, body) {
    this.shelf.leaving = false; // it is still here
    this.outbox.put({ key, method, url, body }, Date.now());
    this.#tell();
    this.#later();
  }

  #later() {
    clearTimeout(this.#timer);
    const { due } = this.outbox;
    if (due === null || this.outbox.sending) return;
    this.#timer = setTimeout(() => void this.#pump(), Math.max(0, due - Date.now()));
  }

  async #pump() {
    const change = this.outbox.take(Date.now());
    if (!change) return this.#later();
    this.#tell();
    try {
      if (this.#isFree) await this.claim();
      const answer = await send(change.method, change.url, change.body);
      this.outbox.arrived();
      if (answer?.may_publish) this.store.set({ may_publish: answer.may_publish });
      this.store.set({ savedAt: new Date() });
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      this.#failed(error, change.method);
    }
    this.#tell();
    this.#later();
  }

  /** @param {Problem} problem @param {string} method */
  #failed(problem, method) {
    if (problem.status === 404 && method === "DELETE") this.outbox.arrived();
    else if (problem.kind === "refused") this.outbox.refuse(problem.message);
    else this.outbox.held(said(problem), Date.now());
    // Somebody else holds it by now: say who, and read along from here.
    if (problem.kind === "conflict") this.#readClaim().catch((error) => console.warn(error));
  }

  #tell() {
    const { state, trouble, refused } = this.outbox;
    const safe = this.shelf.keep(this.outbox);
    const why = refused[0]?.why ?? trouble;
    this.store.set({
      save: { state, why: safe ? why : `${why} This browser keeps no copy: stay on the page.` },
    });
  }
}

/** @param {Problem} problem */
function said({ kind, message }) {
  if (kind === "network" && !navigator.onLine) return "the network is gone";
  return kind === "network" || kind === "server" ? "the server does not answer for now" : message;
}

/** @param {string} url @param {Record<string, string|number>} values */
function filled(url, values) {
  return url.replace(/__(id|clip|rep)__/g, (_, name) => encodeURIComponent(values[name]));
}
