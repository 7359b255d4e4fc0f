// @ts-check
/** One clip on the page: its video's way, its picture, and what was on the bar. */

import { getJSON, Problem } from "../core/net.js";
import { fieldsOf, symbol, write } from "./draft-fields.js";
import { preview } from "./file-preview.js";
import { ClipUpload } from "./clip-upload.js";
import { SHORT, percent, sentence } from "./clip-status.js";

const POLL = 1500;

/** @typedef {import("./clip-status.js").Stage} Stage */
/** @typedef {{draft: boolean, uploads: string, seconds: number, most: number, token: string, line: import("./upload-queue.js").UploadQueue, changed: () => void, replace: (file: File) => void, owner: (file: File) => ClipCard|undefined}} Page */

export class ClipCard {
  /** @type {ClipUpload|null} */
  #sending = null;
  /** @type {ReturnType<typeof setTimeout>|undefined} */
  #timer;
  #wrongFile = "";
  #seconds = 0;
  /** Taken out by the reader, who may still take that back. */
  removed = false;

  /** @param {any} card as the API tells it @param {Page} page */
  constructor(card, page) {
    this.card = card;
    this.page = page;
    const template = /** @type {HTMLTemplateElement} */ (document.getElementById("clip-template"));
    const copy = /** @type {DocumentFragment} */ (template.content.cloneNode(true));
    this.element = /** @type {HTMLLIElement} */ (copy.querySelector("li"));
    this.element.dataset.url = card.url;
    // What went out with the question stays as it was told.
    if (card.locked) for (const part of this.element.querySelectorAll(".clip-details, [data-tool=remove]")) part.remove();
    this.#ownNames();
    for (const field of fieldsOf(this.element)) write(field, card[field.dataset.field ?? ""]);
    this.#tool("pause")?.addEventListener("click", () => this.#sending?.pause());
    this.#tool("resume")?.addEventListener("click", () => this.#sending?.start());
    this.element.querySelector("[data-pick]")?.addEventListener("change", (event) => this.#picked(event));
    if (card.poster) this.#picture(card.poster);
    this.draw();
    if (card.state === "processing") this.#poll();
  }

  /** Ids and radio names must differ between clips, or one clip's camera would move the other's. */
  #ownNames() {
    const ending = `-${this.card.id.slice(0, 8)}`;
    for (const element of this.element.querySelectorAll("[id], [for], [name]")) {
      for (const name of ["id", "for", "name"]) {
        if (element.hasAttribute(name)) element.setAttribute(name, element.getAttribute(name) + ending);
      }
    }
  }

  /** @param {string} name @returns {HTMLElement|null} */
  #tool(name) {
    return this.element.querySelector(`[data-tool="${name}"]`);
  }

  /** @returns {Stage} */
  get stage() {
    const { state, upload } = this.card;
    if (state !== "receiving") return state;
    const sending = this.#sending?.state;
    if (sending === "arrived") return "processing";
    if (sending) return sending;
    return upload && upload.offset ? "pick" : "empty";
  }

  get share() {
    if (this.#sending) return this.#sending.share;
    const { upload } = this.card;
    return upload?.length ? upload.offset / upload.length : 0;
  }

  /** Nothing more has to go out for this clip. */
  get isIn() {
    return this.stage === "processing" || this.stage === "playable";
  }

  /** Its video still has to come, and this page has what it takes. */
  get isComing() {
    return this.#sending !== null && !this.removed && !this.isIn && this.stage !== "failed";
  }

  /** @param {Event} event */
  #picked(event) {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const file = input.files?.[0];
    input.value = "";
    if (file) this.take(file);
  }

  /** Whether this is the file that was begun here and is not all in. @param {File} file */
  began(file) {
    const { state, filename, size, upload } = this.card;
    return state === "receiving" && !this.isIn && filename === file.name && (upload?.length ?? size) === file.size;
  }

  /** The part of a file that is in, from this page or an earlier one. @returns {{url: string, offset: number, length: number}|null} */
  get #part() {
    const { upload } = this.card;
    if (this.#sending?.url) return { url: this.#sending.url, offset: this.#sending.sent, length: this.#sending.total };
    return upload?.offset ? upload : null;
  }

  /** Send this file as the clip's video, from where an earlier part of it stands. @param {File} file */
  async take(file) {
    const { filename } = this.card;
    const part = this.#part;
    const owner = this.page.owner(file);
    this.#wrongFile = "";
    if (owner && owner !== this) {
      this.#wrongFile = `${file.name} belongs to clip ${owner.card.position}: it goes on there.`;
      owner.take(file);
      this.draw();
      return;
    }
    if (owner && this.#sending?.active) return; // it is on its way
    if (this.card.state === "failed") {
      this.page.replace(file);
      return;
    }
    if (part && (part.length !== file.size || (filename && filename !== file.name))) {
      this.#wrongFile = `That is another file. This clip began with ${filename}: pick that one, or remove the clip and add a new one.`;
      this.draw();
      return;
    }
    this.#stop();
    this.card.filename = file.name;
    this.card.size = file.size;
    this.#sending = new ClipUpload({
      file, clip: this.card.id, endpoint: this.page.uploads, url: part?.url ?? null,
      token: this.page.token, changed: () => this.#moved(),
    });
    this.#sending.sent = part?.offset ?? 0;
    this.page.line.join(this.#sending);
    const { picture, seconds } = await preview(file);
    this.#seconds = seconds;
    if (picture) this.#picture(picture);
    this.draw();
  }

  #moved() {
    if (this.#sending?.state === "failed") {
      this.card.reason = this.#sending.reason;
    }
    if (this.#sending?.state === "arrived") this.#poll();
    this.draw();
    this.page.changed();
  }

  #poll() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#ask(), POLL);
  }

  async #ask() {
    try {
      const card = await getJSON(this.card.url);
      const fresh = { state: card.state, reason: card.reason, progress: card.progress, poster: card.poster };
      Object.assign(this.card, fresh);
      if (card.poster) this.#picture(card.poster);
    } catch (error) {
      if (!(error instanceof Problem) || error.kind === "refused") throw error;
    }
    this.draw();
    this.page.changed();
    if (this.stage === "processing") this.#poll();
  }

  /** Close the fields once they were told, so that the next clip is in sight. */
  fold() {
    this.element.querySelector("details")?.removeAttribute("open");
  }

  drop() {
    clearTimeout(this.#timer);
    this.#stop();
    this.element.remove();
  }

  #stop() {
    if (this.#sending) this.page.line.leave(this.#sending);
  }

  pause() {
    if (this.#sending?.active) this.#sending.pause();
  }

  /** Take it out of sight, or back into it; what is on its way waits meanwhile. @param {boolean} removed */
  remove(removed) {
    this.removed = removed;
    if (removed) this.pause();
    else if (!removed && this.#sending?.state === "paused") this.#sending.start();
    this.draw();
  }

  /** Some of its video is in: to lose that takes more than one tap. */
  get hasVideo() {
    return this.isIn || this.share > 0;
  }

  /** @param {string} url */
  #picture(url) {
    const thumb = /** @type {HTMLElement} */ (this.element.querySelector("[data-thumb]"));
    const image = document.createElement("img");
    image.alt = "";
    image.src = url;
    thumb.replaceChildren(image);
  }

  draw() {
    const { element, stage } = this;
    const facts = { share: this.share, filename: this.card.filename, bytes: this.card.size, reason: this.card.reason, progress: this.card.progress };
    const thumb = /** @type {HTMLElement} */ (element.querySelector("[data-thumb]"));
    thumb.classList.toggle("none", !thumb.firstChild);
    this.#drawRemoved();
    this.#drawState(stage);
    this.#drawMeter(stage);
    const line = /** @type {HTMLElement} */ (element.querySelector("[data-sentence]"));
    line.textContent = this.#wrongFile || [sentence(stage, facts), this.#tooLong(stage)].filter(Boolean).join(" ");
    this.#show("pause", ["receiving", "gone", "server"].includes(stage));
    this.#show("resume", stage === "paused");
    this.#show("pick", ["empty", "pick", "failed"].includes(stage));
    const word = element.querySelector("[data-pick-word]");
    if (word) word.textContent = stage === "pick" ? "Pick the same file" : stage === "failed" ? "Send another file" : "Pick the video";
  }

  #drawRemoved() {
    const { element, removed } = this;
    for (const part of element.querySelectorAll(".upload, .clip-details")) /** @type {HTMLElement} */ (part).hidden = removed;
    const line = /** @type {HTMLElement} */ (element.querySelector("[data-removed]"));
    line.hidden = !removed;
    /** @type {HTMLElement} */ (line.querySelector("[data-removed-words]")).textContent = `Clip ${this.card.position} is removed${this.card.filename ? `: ${this.card.filename}` : ""}.`;
  }

  /** Said early; only the server, which sees the real file, decides. @param {Stage} stage */
  #tooLong(stage) {
    const early = ["waiting", "receiving", "paused"].includes(stage);
    if (!early || this.#seconds <= this.page.seconds + 1) return "";
    return `It is longer than ${this.page.seconds / 60} minutes, so it will be refused: cut it to the set itself.`;
  }

  /** @param {Stage} stage */
  #drawState(stage) {
    const state = /** @type {HTMLElement} */ (this.element.querySelector("[data-state]"));
    const [word, shape] = SHORT[stage];
    const text = stage === "receiving" ? `${word} ${percent(this.share)}%` : word;
    if (state.textContent !== text) {
      state.replaceChildren(...(shape ? [symbol(shape)] : []), text);
    }
    state.classList.toggle("attention", shape === "paused" || shape === "attention");
    state.classList.toggle("good", shape === "done");
  }

  /** @param {Stage} stage */
  #drawMeter(stage) {
    const meter = /** @type {HTMLElement} */ (this.element.querySelector("[data-meter]"));
    const making = stage === "processing" && this.card.progress > 0;
    const value = percent(making ? this.card.progress : this.share);
    meter.hidden = !(making || ["receiving", "finishing", "paused", "gone", "server", "pick"].includes(stage));
    meter.classList.toggle("paused", ["paused", "gone", "server", "pick"].includes(stage));
    meter.style.setProperty("--p", `${value}%`);
    meter.setAttribute("aria-valuenow", String(value));
    meter.setAttribute("aria-label", `Clip ${this.card.position}`);
  }

  /** @param {string} name @param {boolean} shown */
  #show(name, shown) {
    const tool = this.#tool(name);
    if (tool) tool.hidden = !shown;
  }
}
