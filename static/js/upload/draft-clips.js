// @ts-check
/** The clips of a draft: added, taken up again, replaced, removed and brought back. */

import { Problem, send } from "../core/net.js";
import { ClipCard } from "./clip-card.js";
import { size } from "./clip-status.js";
import { RemovedClips } from "./removed-clips.js";

const RETRY_MS = 3000;

/**
 * @typedef {{data: DOMStringMap, isDraft: () => boolean, list: HTMLElement|null, addField: HTMLElement|null,
 *   queue: import("./upload-queue.js").UploadQueue, changes: import("./draft-changes.js").DraftChanges,
 *   stop: (text: string) => void, refuse: (text: string) => void, draw: () => void,
 *   clipChanged: () => void, confirmLoad: (clip: HTMLElement) => void, restore: () => void}} Page
 *   `stop` says why nothing goes on, `refuse` why a file is not taken, "" that none is refused
 */
export class DraftClips {
  /** Those that were removed and may come back included. @type {ClipCard[]} */
  all = [];
  #removed;

  /** @param {Page} page */
  constructor(page) {
    this.page = page;
    this.#removed = new RemovedClips(page.data.draft ?? "");
  }

  /** @param {string} url @returns {HTMLElement|null} */
  elementOf(url) {
    return this.all.find(({ card }) => card.url === url)?.element ?? null;
  }

  /** @param {any} card @param {Element|null} [before] */
  show(card, before = null) {
    const clip = new ClipCard(card, {
      draft: this.page.isDraft(),
      uploads: this.page.data.uploads ?? "",
      seconds: Number(this.page.data.seconds),
      most: Number(this.page.data.most),
      token: /** @type {HTMLMetaElement} */ (document.querySelector('meta[name="csrf-token"]')).content,
      line: this.page.queue,
      changed: () => this.page.clipChanged(),
      replace: (file) => this.#replace(clip, file),
      owner: (file) => this.#ownerOf(file),
    });
    clip.element.querySelector('[data-tool="remove"]')?.addEventListener("click", () => this.#remove(clip));
    clip.element.querySelector('[data-tool="undo"]')?.addEventListener("click", () => this.#setRemoved(clip, false));
    clip.element.querySelector('[data-tool="confirm-load"]')?.addEventListener("click", () => this.page.confirmLoad(clip.element));
    if (this.#removed.has(card.id)) clip.remove(true);
    this.page.list?.insertBefore(clip.element, before);
    this.all.push(clip);
    this.all.sort((a, b) => a.card.position - b.card.position);
    return clip;
  }

  /** @param {Event} event */
  async add(event) {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const files = [...(input.files ?? [])];
    input.value = "";
    for (const file of files) {
      const owner = this.#ownerOf(file);
      if (owner) {
        owner.take(file);
        continue;
      }
      const refusal = this.#refusal(file);
      if (refusal) {
        this.page.refuse(refusal);
        continue;
      }
      this.page.refuse("");
      const card = await this.#newCard();
      if (!card) return;
      for (const clip of this.all) clip.fold();
      this.show(card).take(file);
      this.page.draw();
    }
  }

  /** The clip that began with this file and waits for the rest of it. @param {File} file */
  #ownerOf(file) {
    return this.all.find((clip) => !clip.removed && clip.began(file));
  }

  async #newCard() {
    const ask = () => this.#untilThere(() => send("POST", this.page.data.clips ?? ""));
    const card = await ask();
    if (card || this.shown.length === this.all.length) return card;
    // What was removed holds its place until now.
    this.page.stop("");
    return (await this.clearRemoved()) ? ask() : null;
  }

  /** The limits that can be told before a byte goes out. @param {File} file */
  #refusal(file) {
    const [most, left] = [Number(this.page.data.most), Number(this.page.data.left)];
    if (file.size > most) return `${file.name} is ${size(file.size)}; a clip can be ${size(most)} at most. Cut it to the set itself.`;
    if (file.size > left) return `${file.name} is ${size(file.size)} and you have ${size(left)} left. Ask your coach to clear old clips.`;
    return file.size ? "" : `${file.name} is empty. Pick the clip again.`;
  }

  /** @param {ClipCard} clip */
  async #remove(clip) {
    if (!clip.hasVideo) await this.#removeForGood(clip);
    else if (this.page.data.state !== "waiting-on-athlete") this.#setRemoved(clip, true);
    // A clip a coach asked for goes by itself, so no later moment is sure to come.
    else if (confirm(`Remove clip ${clip.card.position}? Its video is in and would have to go up again.`)) await this.#removeForGood(clip);
  }

  /** @param {ClipCard} clip @param {boolean} removed */
  #setRemoved(clip, removed) {
    clip.remove(removed);
    this.#removed.set(clip.card.id, removed);
    /** @type {HTMLElement|null} */ (clip.element.querySelector(`[data-tool="${removed ? "undo" : "remove"}"]`))?.focus();
    this.page.clipChanged();
  }

  get shown() {
    return this.all.filter((clip) => !clip.removed);
  }

  /** @returns {Promise<boolean>} whether all that was removed is gone from the server */
  async clearRemoved() {
    for (const clip of this.all.filter(({ removed }) => removed)) {
      if (!(await this.#removeForGood(clip))) return false;
    }
    return true;
  }

  /** @param {ClipCard} clip @returns {Promise<boolean>} */
  async #removeForGood(clip) {
    const gone = await this.#untilThere(() => send("DELETE", clip.card.url).then(() => true));
    if (!gone) return false;
    this.#removed.set(clip.card.id, false);
    this.page.changes.forget(clip.card.url);
    const place = this.all.indexOf(clip);
    clip.drop();
    this.all = this.all.filter((other) => other !== clip);
    (this.all[place]?.element ?? this.page.addField?.closest("label"))?.focus();
    this.page.draw();
    return true;
  }

  /** A clip that failed gets a fresh one in its place. @param {ClipCard} clip @param {File} file */
  async #replace(clip, file) {
    const card = await this.#untilThere(() => send("POST", `${clip.card.url}replace/`));
    if (!card) return;
    const after = clip.element.nextElementSibling;
    clip.drop();
    this.all = this.all.filter((other) => other !== clip);
    const fresh = this.show(card, after);
    this.page.changes.move(clip.card.url, card.url);
    this.page.restore();
    fresh.take(file);
  }

  /** Ask until the network carries it. A refusal is shown and gives null. @param {() => Promise<any>} ask */
  async #untilThere(ask) {
    for (;;) {
      try {
        return await ask();
      } catch (error) {
        if (!(error instanceof Problem)) throw error;
        const passing = error.kind === "network" || error.kind === "server";
        this.page.stop(passing ? "The network is gone. Nothing is lost: this goes on by itself when it is back." : error.message);
        if (!passing) return null;
      }
      await new Promise((done) => setTimeout(done, RETRY_MS));
      this.page.stop("");
    }
  }
}
