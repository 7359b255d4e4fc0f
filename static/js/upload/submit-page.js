// @ts-check
/** The submit page: a draft that saves itself, clips that go up beside it, and one button. */

import { Problem, send } from "../core/net.js";
import { DraftChanges } from "./draft-changes.js";
import { WakeLock } from "./wake-lock.js";
import { DraftClips } from "./draft-clips.js";
import { showErrors, fieldsOf, read, write } from "./draft-fields.js";
import { UploadQueue } from "./upload-queue.js";
import { LOAD_CONFIRMED, drawAnswer, leaveAnswer, saveLoad } from "./load-question.js";
import { SingleTab } from "./single-tab.js";
import { Pain } from "./pain-block.js";
import { drawSaved, whyNot } from "./save-notice.js";
import { summary, viewShows } from "./clip-summary.js";

class SubmitPage extends HTMLElement {
  /** @type {DraftClips|null} */
  #list = null;
  #queue = new UploadQueue();
  #wakeLock = new WakeLock();
  /** @type {DraftChanges|null} */
  #changes = null;
  #sent = false;
  /** A coach asked for another angle: the page stays open, so that the clip can be told about. */
  #angleRequested = false;
  /** What sending found missing: field name -> sentence. @type {Record<string, string>} */
  #missing = {};

  connectedCallback() {
    if (document.readyState === "loading") {
      // The cards and the upload client stand further down; a module may run before they are read.
      addEventListener("DOMContentLoaded", () => this.connectedCallback(), { once: true });
      return;
    }
    this.#sent = this.dataset.state !== "draft";
    this.#angleRequested = this.dataset.state === "waiting-on-athlete";
    this.#changes = new DraftChanges(this.dataset.draft ?? "", () => this.#draw());
    this.#list = this.#makeList(this.#changes);
    const cards = JSON.parse(document.getElementById("cards")?.textContent ?? "[]");
    for (const card of cards) this.#list.show(card);
    this.#restore();
    this.addEventListener("input", (event) => this.#edited(event));
    this.querySelector("[data-add]")?.addEventListener("change", (event) => this.#list?.add(event));
    this.querySelector("[data-go]")?.addEventListener("click", () => this.#go());
    addEventListener("beforeunload", (event) => { if (this.#queue.active) event.preventDefault(); });
    this.#draw();
    this.#keepOneTab();
  }

  get #clips() {
    return this.#list?.all ?? [];
  }

  /** @param {DraftChanges} changes */
  #makeList(changes) {
    return new DraftClips({
      data: this.dataset,
      isDraft: () => !this.#sent,
      list: this.#part("clips-list"),
      addField: this.#part("add"),
      queue: this.#queue,
      changes,
      stop: (text) => this.#stop(text),
      refuse: (text) => this.#refuse(text),
      draw: () => this.#draw(),
      clipChanged: () => this.#clipChanged(),
      confirmLoad: (clip) => this.#confirmLoad(clip),
      restore: () => this.#restore(),
    });
  }

  /** @param {string} text why a file is not taken */
  #refuse(text) {
    if (text) this.#missing.clips = text;
    else delete this.#missing.clips;
    this.#draw();
  }

  #keepOneTab() {
    const tab = new SingleTab(this.dataset.draft ?? "", () => {
      this.#changes?.sender.stop();
      for (const clip of this.#clips) clip.pause();
      const elsewhere = /** @type {HTMLElement} */ (this.#part("elsewhere"));
      for (const part of this.children) /** @type {HTMLElement} */ (part).inert = part !== elsewhere;
      elsewhere.hidden = false;
      elsewhere.scrollIntoView({ block: "nearest" });
    });
    this.#part("take-over")?.addEventListener("click", () => tab.take());
  }

  /** @param {string} which @returns {HTMLElement|null} */
  #part(which) {
    return this.querySelector(`[data-${which}]`);
  }

  // ---- the words ----

  /** Lay what never reached the server over what it knows. */
  #restore() {
    for (const { url, body } of this.#changes?.unsaved ?? []) {
      const root = this.#rootOf(url);
      for (const field of root ? fieldsOf(root) : []) {
        const name = field.dataset.field ?? "";
        const mine = root !== this || !field.closest("[data-url]:not(submit-page)");
        if (mine && name in body) write(field, body[name]);
      }
    }
    for (const pain of this.querySelectorAll("[data-kind=pain]")) Pain.draw(pain);
  }

  /** @param {string} url @returns {HTMLElement|null} the page itself, or one clip */
  #rootOf(url) {
    return url === this.dataset.url ? this : (this.#list?.elementOf(url) ?? null);
  }

  /** @param {Event} event */
  #edited(event) {
    const field = /** @type {HTMLElement|null} */ (/** @type {Element} */ (event.target).closest("[data-field]"));
    if (!field) return;
    const root = /** @type {HTMLElement} */ (field.closest("[data-url]"));
    const [url, name, value] = [root.dataset.url ?? "", field.dataset.field ?? "", read(field)];
    delete this.#missing[name];
    if (field.dataset.kind === "pain") Pain.draw(field);
    if (name === "pain" && value && !(value.where && value.score)) this.#changes?.hold(url, name, value);
    else if (name === "movement" || name === "load") saveLoad(this.#changes, root);
    else this.#changes?.put(url, name, value);
    if ((name === "rpe" || name === "reps_in_reserve") && value) this.#oneEffort(root, name);
    this.#draw();
  }

  /** @param {HTMLElement} clip */
  #confirmLoad(clip) {
    leaveAnswer(clip);
    saveLoad(this.#changes, clip, true);
    this.#draw();
  }

  /** Effort is said one way: RPE, or the reps that were left. @param {HTMLElement} root @param {string} used */
  #oneEffort(root, used) {
    const other = used === "rpe" ? "reps_in_reserve" : "rpe";
    const field = /** @type {HTMLElement} */ (root.querySelector(`[data-field="${other}"]`));
    if (read(field) === "") return;
    write(field, "");
    this.#changes?.put(root.dataset.url ?? "", other, "");
  }

  #clipChanged() {
    this.#queue.next();
    this.#wakeLock.set(this.#queue.active);
    if (this.#sent && !this.#angleRequested && this.#clips.length && this.#clips.every((clip) => clip.isIn)) this.#leave();
    this.#draw();
  }

  // ---- sending ----

  async #go() {
    const button = /** @type {HTMLButtonElement} */ (this.#part("go"));
    if (button.classList.contains("busy")) return;
    button.classList.add("busy");
    try {
      this.#stop("");
      await this.#changes?.settle();
      this.#findEmpty();
      const open = this.#wrong.length + Object.keys(this.#missing).length;
      if (open) this.#first(open === 1 ? "One answer needs another look before this can go." : `${open} answers need another look before this can go.`);
      else if (this.#changes?.sender.state === "kept") this.#stop(whyNot(this.#changes.sender.trouble?.kind ?? "server"));
      else await this.#send();
    } finally {
      button.classList.remove("busy");
    }
  }

  /** What is asked for and empty, so that all of it is marked at once; the server looks again. */
  #findEmpty() {
    this.#missing = {};
    for (const field of fieldsOf(this)) {
      if (field.dataset.needed && !String(read(field)).trim()) this.#missing[field.dataset.field ?? ""] = field.dataset.needed;
    }
    this.#draw();
  }

  async #send() {
    if (!(await this.#list?.clearRemoved())) return;
    try {
      await send("POST", this.dataset.send ?? "");
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      if (error.status === 400) {
        this.#missing = Object.fromEntries(Object.entries(error.errors).map(([name, [why]]) => [name, why]));
        this.#draw();
        this.#first("");
      } else {
        this.#stop(error.kind === "refused" || error.kind === "conflict" ? error.message : whyNot(error.kind));
      }
      return;
    }
    this.#sent = true;
    if (this.#clips.some((clip) => clip.isComing)) this.#waitForClips();
    else this.#leave();
  }

  /** Sent; the page stays for the clips, since only it holds their files. */
  #waitForClips() {
    for (const part of this.querySelectorAll(".page-section:not(:has([data-clips-list])), .actions, .submit-intro, .clip-details, .add-clip, .limits, [data-tool=remove]")) {
      /** @type {HTMLElement} */ (part).hidden = true;
    }
    const notice = /** @type {HTMLElement} */ (this.#part("sent"));
    notice.hidden = false;
    notice.focus();
    this.#clipChanged();
  }

  #leave() {
    location.assign(this.dataset.after ?? "/");
  }

  // ---- what is seen ----

  #draw() {
    drawSaved(this.#part("saved"), this.#changes);
    this.#drawWrong();
    const none = this.#part("no-clips");
    if (none) none.hidden = (this.#list?.shown.length ?? 0) > 0;
    this.#clips.forEach((clip) => {
      const title = /** @type {HTMLElement} */ (clip.element.querySelector("[data-title]"));
      title.textContent = `Clip ${clip.card.position}`;
      const several = /** @type {HTMLElement|null} */ (clip.element.querySelector("[data-only-several]"));
      if (several) several.hidden = (this.#list?.shown.length ?? 0) < 2;
      summary(clip.element);
      viewShows(clip.element);
    });
    this.#drawFoot();
  }

  /** What the server refused, but of a clip that was removed. */
  get #wrong() {
    const gone = new Set(this.#clips.filter(({ removed }) => removed).map(({ card }) => card.url));
    return this.#changes?.wrong.filter(({ url }) => !gone.has(url)) ?? [];
  }

  #drawWrong() {
    for (const root of [this, ...this.#clips.map((clip) => clip.element)]) {
      /** @type {Record<string, string>} */
      const wrong = root === this ? { ...this.#missing } : {};
      for (const { name, why, parts } of this.#wrong.filter((error) => error.url === root.dataset.url)) {
        // A group is refused part by part; the part's own line says it.
        if (parts && !Array.isArray(parts)) for (const [part, [text]] of Object.entries(parts)) wrong[root.querySelector(`[data-err="${part}"]`) ? part : name] = text;
        else wrong[name] = why;
      }
      if (root !== this) drawAnswer(root, LOAD_CONFIRMED in wrong);
      if (wrong[LOAD_CONFIRMED]) wrong.load = wrong[LOAD_CONFIRMED];
      showErrors(root, wrong, root === this ? ".clip [data-err]" : "");
    }
  }

  #drawFoot() {
    const foot = this.#part("foot");
    if (!foot) return;
    const open = this.#clips.filter((clip) => clip.isComing).map(({ card }) => card.position);
    const gone = this.#clips.some((clip) => clip.stage === "gone");
    const which = open.length === 1 ? `Clip ${open[0]} follows` : `Clips ${open.join(" and ")} follow`;
    const text = this.#angleRequested ? this.#angleHint(open.length > 0) : open.length ? `You can send now. ${which}${gone ? " when the network is back" : " while this page stays open"}.` : "Your coach sees it at once.";
    if (foot.textContent !== text) foot.textContent = text;
  }

  /** @param {boolean} coming */
  #angleHint(coming) {
    if (coming) return "Keep this page open until the clip is in.";
    const isIn = this.#clips.some((clip) => !clip.card.locked && clip.isIn);
    return isIn ? "It is in. Your question goes back to your coach by itself when the clip plays. Say what was on the bar, if it was another set." : "";
  }

  /** @param {string} text beside the button: why it did not go */
  #stop(text) {
    const line = this.#part("stop");
    if (!line) return;
    line.textContent = text;
    line.hidden = !text;
  }

  /** Take the eye and the keyboard to the first answer that needs another look. @param {string} text */
  #first(text) {
    this.#stop(text);
    const line = [...this.querySelectorAll("[data-err]")].find((error) => !(/** @type {HTMLElement} */ (error).hidden));
    if (!line) return;
    line.closest("details")?.setAttribute("open", "");
    const control = this.querySelector(`[aria-describedby="${line.id}"]`) ?? this.querySelector("[data-add]");
    /** @type {HTMLElement|null} */ (control)?.focus();
  }
}

customElements.define("submit-page", SubmitPage);
