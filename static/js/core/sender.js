// @ts-check
import { Problem } from "./net.js";

const FIRST_RETRY_MS = 1000;
const LAST_RETRY_MS = 30000;

/** @param {number} tries @returns {number} ms; doubles from 1 s up to 30 s */
export function backoff(tries) {
  return Math.min(LAST_RETRY_MS, FIRST_RETRY_MS * 2 ** (tries - 1));
}

/**
 * What waits: an Outbox, or what behaves like one.
 * @template C @typedef {{take: (all?: boolean) => C[], sending: C[], due: number|null, refused: any[],
 *   arrived: (answer?: any) => void, held: () => void, refuse: (why: string, errors?: any) => void}} Queue
 */

/**
 * Brings what an outbox holds to the server for as long as it takes, and keeps it in this browser
 * until it is there, so that neither a reload nor a dead network loses a word.
 * @template C
 */
export class Sender {
  /** Why things are kept here, when they are. @type {Problem|null} */
  trouble = null;
  /** Whether this browser lets us keep anything. */
  keeps = true;
  /** @type {ReturnType<typeof setTimeout>|undefined} */
  #timer;
  #tries = 0;
  #retryAt = 0;
  /** The page to come may have been written before what arrives from now on: it is to find it here. */
  #leaving = false;
  #life = new AbortController();

  /**
   * @param {Queue<C>} outbox @param {{write: (value: any) => boolean}} storage
   * @param {{deliver: (changes: C[]) => Promise<any>, changed: () => void, batch?: boolean}} page
   *   `deliver` throws Problem: one of kind "refused" is not tried again; `changed` is called when
   *   anything here may differ; `batch`: all that waits goes out together
   */
  constructor(outbox, storage, page) {
    this.outbox = outbox;
    this.storage = storage;
    this.page = page;
    const { signal } = this.#life;
    addEventListener("beforeunload", () => (this.#leaving = true), { signal });
    addEventListener("online", () => this.wake(), { signal });
    // Not when it is hidden: what a closing tab sends may arrive after its next page was written.
    document.addEventListener("visibilitychange", () => !document.hidden && this.wake(), { signal });
  }

  /** Something was written: keep it, and send it after a pause. */
  save() {
    this.#leaving = false; // it was only a file that was fetched
    this.#keep();
    this.#later();
  }

  /** Try again now: the network or the reader is back. */
  wake() {
    this.#tries = this.#retryAt = 0;
    void this.#send();
  }

  /** Another page has the work: it goes on from what is kept, which this one writes no more. */
  stop() {
    this.#life.abort();
    clearTimeout(this.#timer);
  }

  /** Bring in what waits, now. Resolves once nothing is on its way: all saved, refused, or kept. */
  async settle() {
    do {
      this.wake();
      await new Promise((done) => setTimeout(done, 50));
    } while (this.state === "saving" || this.outbox.sending.length);
  }

  /** @returns {"saved"|"saving"|"kept"|"refused"} */
  get state() {
    const { outbox, trouble } = this;
    if (outbox.refused.length) return "refused";
    if (!outbox.sending.length && outbox.due === null) return "saved";
    return trouble ? "kept" : "saving";
  }

  #later() {
    clearTimeout(this.#timer);
    const { due } = this.outbox;
    if (due === null || this.outbox.sending.length || this.#life.signal.aborted) return;
    const wait = Math.max(due, this.#retryAt) - Date.now();
    this.#timer = setTimeout(() => void this.#send(), Math.max(0, wait));
  }

  async #send() {
    if (this.#life.signal.aborted) return;
    const changes = this.outbox.take(this.page.batch);
    if (!changes.length) return;
    clearTimeout(this.#timer);
    this.#keep();
    try {
      this.outbox.arrived(await this.page.deliver(changes));
      this.trouble = null;
      this.#tries = 0;
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      this.#failed(error);
    }
    this.#keep(changes.some((change) => /** @type {any} */ (change).once));
    this.#later();
  }

  /** @param {Problem} problem */
  #failed(problem) {
    if (problem.kind === "refused") {
      this.trouble = null;
      return this.outbox.refuse(problem.message, problem.errors);
    }
    this.trouble = problem;
    this.outbox.held();
    this.#tries += 1;
    this.#retryAt = Date.now() + backoff(this.#tries);
  }

  /** @param {boolean} [now] also while the page is left */
  #keep(now = false) {
    const isOthers = this.#leaving || this.#life.signal.aborted;
    if (now || !isOthers) this.keeps = this.storage.write(this.outbox);
    this.page.changed();
  }
}
