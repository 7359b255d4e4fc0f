// @ts-check
import { DraftStorage } from "../core/draft-storage.js";
import { getJSON, Problem, send } from "../core/net.js";
import { Outbox } from "../core/outbox.js";
import { overlaid } from "../core/review.js";
import { Sender } from "../core/sender.js";

/** What may still be taken by working on it; an answered one is taken up again on purpose. */
const FREE = ["waiting", "waiting-on-athlete"];

/** What a coach changes in a review, by the object it changes; working on it claims the submission. */
export class ReviewChanges {
  outbox = new Outbox(null);

  /** @param {import("./workbench-part.js").WorkbenchStore} store */
  constructor(store) {
    this.store = store;
    this.urls = store.state.urls; // with __id__, __clip__ and __rep__ to be filled in
    this.storage = new DraftStorage("review", store.state.submission.id, { ownTab: true });
    this.sender = new Sender(this.outbox, this.storage, {
      deliver: ([change]) => this.#deliver(change),
      changed: () => this.#changed(),
    });
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

  /** @param {string} key @param {string} method @param {string} url @param {any} [body] */
  #put(key, method, url, body) {
    this.outbox.put({ key, method, url, body }, Date.now());
    this.sender.save();
  }

  /** Go on from what closed pages left unsent; what was changed here since is newer. */
  async recover() {
    await this.storage.takeOver((stored) => {
      const own = new Set(this.outbox.changes.map(({ key }) => key));
      for (const change of stored?.changes ?? []) if (!own.has(change.key)) this.outbox.put(change, Date.now());
      const { notes, rep_calls, reply, outcomes } = overlaid(this.store.state, this.outbox.changes);
      this.store.set({ notes, rep_calls, reply, outcomes });
      this.sender.save();
    });
    this.sender.wake();
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

  /** @param {import("../core/outbox.js").Change} change */
  async #deliver({ method, url, body }) {
    try {
      if (this.#isFree) await this.claim();
      const answer = await send(method, url, body);
      if (answer?.may_publish) this.store.set({ may_publish: answer.may_publish });
      this.store.set({ savedAt: new Date() });
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      // Somebody else holds it by now: say who, and read along from here.
      if (error.kind === "conflict") this.#readClaim().catch((failed) => console.warn(failed));
      if (error.status !== 404 || method !== "DELETE") throw error;
    }
  }

  #changed() {
    const { state, trouble, keeps } = this.sender;
    const why = this.outbox.refused[0]?.why ?? (trouble ? reason(trouble) : "");
    this.store.set({
      save: { state, why: keeps ? why : `${why} This browser keeps no copy: stay on the page.` },
    });
  }
}

/** @param {Problem} problem */
function reason({ kind, message }) {
  if (kind === "network" && !navigator.onLine) return "the network is gone";
  return kind === "network" || kind === "server" ? "the server does not answer for now" : message;
}

/** @param {string} url @param {Record<string, string|number>} values */
function filled(url, values) {
  return url.replace(/__(id|clip|rep)__/g, (_, name) => encodeURIComponent(values[name]));
}
