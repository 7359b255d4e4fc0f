// @ts-check
/** Every change goes out as it is made, one field at a time, and is kept here until it arrived. */

import { Outbox } from "../core/outbox.js";
import { Problem, send } from "../net.js";

const TICK = 200;

export class Autosave {
  #box;
  #place;
  #changed;

  /** @param {string} draft @param {() => void} changed called whenever `state` or `wrong` may differ */
  constructor(draft, changed) {
    this.#place = `draft:${draft}`;
    this.#changed = changed;
    const kept = this.#kept();
    this.#box = new Outbox({ changes: kept });
    setInterval(() => this.#work(), TICK);
    addEventListener("online", () => this.#box.wake(Date.now()));
  }

  /** @returns {any[]} what an earlier page could not bring in, whether unsent or refused */
  #kept() {
    try {
      const { changes = [], refused = [] } = JSON.parse(localStorage.getItem(this.#place) ?? "{}");
      return [...refused, ...changes];
    } catch {
      return []; // storage is off, or holds something that is not ours
    }
  }

  /** What is typed here but not on the server: address and body of each change, oldest first. */
  get unsaved() {
    const refused = this.#box.refused.map(({ key, body }) => ({ url: urlOf(key), body }));
    return [...refused, ...this.#box.changes.map(({ url, body }) => ({ url, body }))];
  }

  /** Save one field. @param {string} url @param {string} name @param {any} value */
  put(url, name, value) {
    this.#box.put({ key: `${url} ${name}`, method: "PATCH", url, body: { [name]: value } }, Date.now());
    this.#keep();
  }

  /** What the server would not take, as sentences. @returns {{url: string, name: string, why: string}[]} */
  get wrong() {
    return this.#box.refused.map(({ key, why }) => ({ url: urlOf(key), name: key.split(" ")[1], why }));
  }

  get state() {
    return this.#box.state;
  }

  get trouble() {
    return this.#box.trouble;
  }

  /** Bring in what waits, now. Resolves once nothing is on its way: all saved, refused, or kept. */
  async settle() {
    this.#box.wake(Date.now());
    while (this.#box.state === "saving" || this.#box.sending) {
      this.#box.wake(Date.now());
      await this.#work();
      await new Promise((done) => setTimeout(done, TICK / 4));
    }
  }

  /** Forget a clip that is gone. @param {string} url */
  forget(url) {
    const rest = this.unsaved.filter((change) => change.url !== url);
    if (rest.length !== this.unsaved.length) this.#replace(rest);
  }

  /** @param {{url: string, body: any}[]} changes */
  #replace(changes) {
    const sending = this.#box.sending;
    this.#box = new Outbox({ changes: [] });
    this.#box.sending = sending;
    for (const { url, body } of changes) {
      if (sending && sending.url === url && sending.body === body) continue;
      for (const [name, value] of Object.entries(body)) this.put(url, name, value);
    }
    this.#keep();
  }

  async #work() {
    const change = this.#box.take(Date.now());
    if (!change) return;
    this.#changed();
    try {
      await send(change.method, change.url, change.body);
      this.#box.arrived();
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      if (error.kind === "refused" && error.status !== 404) this.#box.refuse(error.message);
      else if (error.kind === "refused") this.#box.arrived(); // the clip was removed elsewhere
      else this.#box.held(error.message, Date.now());
    }
    this.#keep();
  }

  #keep() {
    const state = { changes: this.#box.changes, refused: this.#box.refused.map(asChange) };
    try {
      if (this.#box.state === "saved") localStorage.removeItem(this.#place);
      else localStorage.setItem(this.#place, JSON.stringify(state));
    } catch {
      // Private windows may refuse storage; the server's copy is then the only one.
    }
    this.#changed();
  }
}

/** @param {string} key @returns {string} */
function urlOf(key) {
  return key.split(" ")[0];
}

/** @param {{key: string, body: any}} refusal */
function asChange({ key, body }) {
  return { key, method: "PATCH", url: urlOf(key), body };
}
