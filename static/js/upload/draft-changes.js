// @ts-check
/** Every change of a draft goes out as it is made, one field at a time, and is kept here until it arrived. */

import { DraftStorage } from "../core/draft-storage.js";
import { Problem, send } from "../core/net.js";
import { Outbox } from "../core/outbox.js";
import { Sender } from "../core/sender.js";

export class DraftChanges {
  /** @param {string} draft @param {() => void} changed called whenever `state` or `wrong` may differ */
  constructor(draft, changed) {
    const storage = new DraftStorage("draft", draft);
    this.outbox = new Outbox(storage.read(), { keepsRefused: true });
    this.sender = new Sender(this.outbox, storage, { deliver: ([change]) => deliver(change), changed });
    this.sender.wake();
  }

  /** What is typed here but not on the server, oldest first. @returns {{url: string, body?: any}[]} */
  get unsaved() {
    return [...this.outbox.refused, ...this.outbox.changes, ...this.outbox.parked];
  }

  /** Keep a field here that is not whole yet; `settle` brings it in. @param {string} url @param {string} name @param {any} value */
  hold(url, name, value) {
    this.outbox.park({ key: `${url} ${name}`, method: "PATCH", url, body: { [name]: value } });
    this.sender.save();
  }

  /**
   * Save one field, and with it those that are right or wrong together with it.
   * @param {string} url @param {string} name @param {any} value @param {Record<string, any>} [others]
   */
  put(url, name, value, others = {}) {
    this.outbox.put({ key: `${url} ${name}`, method: "PATCH", url, body: { ...others, [name]: value } }, Date.now());
    this.sender.save();
  }

  /** Nothing of this address is owed any more. @param {string} url */
  forget(url) {
    for (const { key } of this.#owedTo(url)) this.outbox.forget(key);
    this.sender.save();
  }

  /** Bring in at another address what the first one has not. @param {string} from @param {string} to */
  move(from, to) {
    const owed = this.#owedTo(from);
    this.forget(from);
    for (const { key, body } of owed) this.put(to, nameOf(key), body[nameOf(key)], body);
  }

  /** @param {string} url */
  #owedTo(url) {
    return [...this.outbox.refused, ...this.outbox.changes].filter((change) => change.url === url);
  }

  /**
   * What the server would not take: where, which field, the sentence, and the answer part by part.
   * @returns {{url: string, name: string, why: string, parts: any}[]}
   */
  get wrong() {
    return this.outbox.refused.flatMap(({ key, url, why, errors }) => {
      const fields = Object.entries(errors);
      if (!fields.length) return [{ url, name: nameOf(key), why, parts: undefined }];
      return fields.map(([name, parts]) => ({ url, name, why: Array.isArray(parts) ? parts[0] : why, parts }));
    });
  }

  /** Bring in what waits, whole or not. Resolves once all is saved, refused, or kept. */
  settle() {
    for (const change of this.outbox.parked) this.outbox.put(change, Date.now());
    this.sender.save();
    return this.sender.settle();
  }
}

/** @param {import("../core/outbox.js").Change} change */
async function deliver({ method, url, body }) {
  try {
    await send(method, url, body);
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    if (error.status === 404) return; // the clip was removed elsewhere
    throw error.kind === "conflict" ? new Problem("refused", error.message, error.status, error.errors) : error;
  }
}

/** @param {string} key @returns {string} */
function nameOf(key) {
  return key.split(" ")[1];
}
