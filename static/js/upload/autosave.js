// @ts-check
/** Every change goes out as it is made, one field at a time, and is kept here until it arrived. */

import { Outbox } from "../core/outbox.js";
import { Problem, send } from "../core/net.js";

const TICK = 200;

export class Autosave {
  /** Why changes are kept here, when they are. @type {Problem["kind"]} */
  kind = "network";
  #box;
  #place;
  #changed;
  /** What the server said of each refused change, field by field. @type {Map<string, Record<string, any>>} */
  #errors = new Map();
  #leaving = false;
  /** @type {ReturnType<typeof setInterval>} */
  #ticks;
  /** Typed, but not whole enough to be sent. @type {Map<string, {url: string, body: any}>} */
  #held = new Map();

  /** @param {string} draft @param {() => void} changed called whenever `state` or `wrong` may differ */
  constructor(draft, changed) {
    this.#place = `draft:${draft}`;
    this.#changed = changed;
    const { changes = [], refused = [], held = [] } = this.#kept();
    this.#box = new Outbox({ changes: [...refused, ...changes] });
    for (const [key, change] of held) this.#held.set(key, change);
    this.#ticks = setInterval(() => this.#work(), TICK);
    // The page to come may have been written before what arrives now: it is to find it here.
    addEventListener("beforeunload", () => (this.#leaving = true));
    addEventListener("online", () => this.#box.wake(Date.now()));
  }

  /** Another tab has the draft: it goes on from what is kept here. */
  stop() {
    clearInterval(this.#ticks);
    this.#leaving = true;
  }

  /** @returns {any} what an earlier page could not bring in, whether unsent, refused or not whole */
  #kept() {
    try {
      return JSON.parse(localStorage.getItem(this.#place) ?? "{}");
    } catch {
      return {}; // storage is off, or holds something that is not ours
    }
  }

  /** What is typed here but not on the server: address and body of each change, oldest first. */
  get unsaved() {
    const refused = this.#box.refused.map(({ key, body }) => ({ url: urlOf(key), body }));
    const waiting = this.#box.changes.map(({ url, body }) => ({ url, body }));
    return [...refused, ...waiting, ...this.#held.values()];
  }

  /** Keep a field here that is not whole yet; `settle` brings it in. @param {string} url @param {string} name @param {any} value */
  hold(url, name, value) {
    this.#leaving = false;
    this.#held.set(`${url} ${name}`, { url, body: { [name]: value } });
    this.#keep();
  }

  /**
   * Save one field, and with it those that are right or wrong together with it.
   * @param {string} url @param {string} name @param {any} value @param {Record<string, any>} [others]
   */
  put(url, name, value, others = {}) {
    this.#leaving = false; // it was only a file that was fetched
    this.#held.delete(`${url} ${name}`);
    this.#box.put({ key: `${url} ${name}`, method: "PATCH", url, body: { ...others, [name]: value } }, Date.now());
    this.#keep();
  }

  /** Nothing of this address is owed any more. @param {string} url */
  forget(url) {
    for (const { key } of this.#owedTo(url)) this.#box.forget(key);
    this.#keep();
  }

  /** Bring in at another address what the first one has not. @param {string} from @param {string} to */
  move(from, to) {
    const owed = this.#owedTo(from);
    this.forget(from);
    for (const { key, body } of owed) this.put(to, nameOf(key), body[nameOf(key)], body);
  }

  /** @param {string} url */
  #owedTo(url) {
    return [...this.#box.refused, ...this.#box.changes].filter(({ key }) => urlOf(key) === url);
  }

  /**
   * What the server would not take: where, which field, the sentence, and the answer part by part.
   * @returns {{url: string, name: string, why: string, parts: any}[]}
   */
  get wrong() {
    return this.#box.refused.flatMap(({ key, why }) => {
      const url = urlOf(key);
      const errors = Object.entries(this.#errors.get(key) ?? {});
      if (!errors.length) return [{ url, name: nameOf(key), why, parts: undefined }];
      return errors.map(([name, parts]) => ({ url, name, why: Array.isArray(parts) ? parts[0] : why, parts }));
    });
  }

  get state() {
    return this.#box.state;
  }

  /** Bring in what waits, now. Resolves once nothing is on its way: all saved, refused, or kept. */
  async settle() {
    for (const { url, body } of [...this.#held.values()]) {
      for (const [name, value] of Object.entries(body)) this.put(url, name, value);
    }
    this.#box.wake(Date.now());
    do {
      this.#box.wake(Date.now());
      await this.#work();
      await new Promise((done) => setTimeout(done, TICK / 4));
    } while (this.#box.state === "saving" || this.#box.sending);
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
      if (error.status === 404) this.#box.arrived(); // the clip was removed elsewhere
      else if (error.kind === "refused" || error.kind === "conflict") this.#refuse(change, error);
      else {
        this.kind = error.kind;
        this.#box.held(error.message, Date.now());
      }
    }
    this.#keep();
  }

  /** @param {{key: string}} change @param {Problem} error */
  #refuse({ key }, error) {
    this.#errors.set(key, error.errors);
    this.#box.refuse(error.message);
  }

  #keep() {
    if (this.#leaving) return this.#changed();
    const state = { changes: this.#box.changes, refused: this.#box.refused.map(asChange), held: [...this.#held] };
    try {
      if (this.#box.state === "saved" && !this.#held.size) localStorage.removeItem(this.#place);
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

/** @param {string} key @returns {string} */
function nameOf(key) {
  return key.split(" ")[1];
}

/** @param {{key: string, body: any}} refusal */
function asChange({ key, body }) {
  return { key, method: "PATCH", url: urlOf(key), body };
}
