// @ts-check
import { FrameTable } from "../core/frametable.js";
import { getJSON } from "../net.js";
import { firstPicture, givenTable, givenVideo, makeVideo } from "./element.js";
import { Front } from "./front.js";
import { watchPictures } from "./pictures.js";
import { NO_FRAMES, NO_PICTURE, problemOf } from "./problems.js";
import { Reel } from "./reel.js";
import { ending, nearsEnd } from "./rounds.js";
import { Seeker } from "./seeker.js";
import { wholeFile } from "./whole.js";

export const RATES = [0.1, 0.25, 0.5, 1, 1.5, 2];

/**
 * A clip that goes to exact frames.
 *
 * Attributes: `src` the playable, `frames` address of its frame table (JSON), `poster`, `label`;
 * `cached` steps from decoded pictures kept around the playhead, where the browser can. A <video>
 * of the same `src` inside is taken over as it is, so that the page's HTML can begin to load it; and
 * JSON in a <script> beside it is its frame table, so that it need not be asked for.
 * Properties: picture (the element that is seen), currentFrame, destination, table, paused, rate,
 * ready (a promise), stretch ({first, last} to play again and again, or null).
 * Methods: goTo(frame), step(by), play(), pause(), toggle(), and open({src, frames, poster,
 * label}) for another clip.
 * Events: "ready"; "frame" {frame, seconds}; "playstate" {paused, rate}; "whole" once the file is
 * all here; "problem" {text}. It also shows a problem itself, in words.
 */
export class ExactPlayer extends HTMLElement {
  static observedAttributes = ["src", "frames"];

  /** @type {HTMLVideoElement} */
  video = this.querySelector("video") ?? document.createElement("video");
  /** @type {FrameTable|null} */
  table = null;
  currentFrame = 0;
  /** @type {Promise<void>} */
  ready = Promise.resolve();
  #rate = 1;
  #seeker = new Seeker(this);
  #front = new Front((frame) => void this.#seeker.goTo(frame));
  /** @type {{first: number, last: number}|null} */
  #stretch = null;
  /** @type {Reel|null} what plays, where that is not the video element */
  #reel = null;
  #forget = () => {};
  #address = "";
  /** Who is still here after a wait: the same clip opened again is another one. */
  #clip = {};
  /** @type {HTMLParagraphElement|null} */
  #said = null;
  #opening = false;

  connectedCallback() {
    this.#start();
  }

  disconnectedCallback() {
    this.#leave();
    this.#address = "";
  }

  attributeChangedCallback() {
    if (this.isConnected && !this.#opening) this.#start();
  }

  /**
   * Show another clip: both addresses at once, so that none is read with the other's frames.
   * @param {{src: string, frames: string, poster?: string, label?: string}} clip
   */
  open({ src, frames, poster = "", label = "Clip" }) {
    this.#opening = true;
    for (const [name, value] of Object.entries({ poster, label, frames, src }))
      this.setAttribute(name, value);
    this.#opening = false;
    if (this.isConnected) this.#start();
    return this.ready;
  }

  get paused() {
    return this.video.paused && !this.#reel;
  }

  get stretch() {
    return this.#stretch;
  }

  /** What plays from now on is exact to both ends: from pictures decoded here, or in an element
   * that is stopped before the end. */
  set stretch(stretch) {
    this.#stretch = stretch;
    if (!this.paused) void this.play();
  }

  /** Where it is, or is going: what a key pressed right after a step means. */
  get destination() {
    return this.#front.at ?? this.#seeker.destination;
  }

  /** What is on the screen, to be drawn or measured. @returns {HTMLVideoElement|HTMLCanvasElement} */
  get picture() {
    return this.#front.canvas.hidden ? this.video : this.#front.canvas;
  }

  get rate() {
    return this.#rate;
  }

  set rate(rate) {
    this.#rate = rate;
    this.video.playbackRate = rate;
    this.#tell("playstate", { paused: this.paused, rate });
  }

  /** @param {number} frame @returns {Promise<number>} the frame on the screen once it is there */
  goTo(frame) {
    if (!this.table)
      return this.#wish(frame);
    const wished = this.table.clamp(frame);
    this.#stop();
    if (this.paused && this.#front.show(wished)) {
      this.#show(wished);
      return Promise.resolve(wished);
    }
    this.#front.leave();
    // Wished for at once, not after a promise: ten quick steps must count from each other.
    const landed = this.#seeker.goTo(wished);
    if (!this.video.paused) this.video.pause();
    return landed;
  }

  /** What was wished of a clip that has gone since is no wish of the one that is here. @param {number} frame */
  async #wish(frame) {
    const clip = this.#clip;
    await this.ready;
    return this.table && clip === this.#clip ? this.goTo(frame) : this.currentFrame;
  }

  /** @param {number} by frames, negative to go back; counts from where it is going to be */
  step(by) {
    return this.goTo(this.destination + by);
  }

  async play() {
    await this.ready;
    this.#stop();
    if (this.#stretch && this.table && this.#front.cached) return this.#roll(this.#stretch, this.table);
    if (this.#front.at !== null) await this.#seeker.goTo(this.#front.at);
    this.#front.leave();
    this.#front.hide();
    if (this.#nearsEnd(this.destination)) return this.#end();
    this.video.playbackRate = this.#rate;
    await this.video.play();
  }

  pause() {
    const rolled = this.#stop();
    this.video.pause();
    if (rolled) this.#tell("playstate", { paused: true, rate: this.#rate });
  }

  /** @param {{first: number, last: number}} stretch @param {FrameTable} table */
  #roll(stretch, table) {
    const show = (/** @type {number} */ frame) => {
      if (frame === this.#front.at) return true;
      if (!this.#front.show(frame)) return false;
      this.#show(frame);
      return true;
    };
    const rate = () => this.#rate;
    const canGoOn = () => this.#front.cached;
    // A decoder that fails in the middle leaves the rest to the element.
    this.#front.turn = stretch.first;
    this.#run(new Reel(table, stretch, rate, show, canGoOn, () => void this.play()));
  }

  /** @param {number} frame whether playing on from it in the element would leave the stretch */
  #nearsEnd(frame) {
    return Boolean(this.#stretch && this.table && nearsEnd(this.table, this.#stretch, frame, this.#rate));
  }

  /** The last pictures of the stretch, one by one. */
  #end() {
    if (this.table && this.#stretch) this.#run(ending(this, this.table, this.#stretch, this.#seeker));
  }

  /** @param {Reel} reel */
  #run(reel) {
    this.#reel = reel;
    reel.run(this.destination);
    this.video.pause();
    this.#tell("playstate", { paused: false, rate: this.#rate });
  }

  /** @returns {boolean} whether it was the reel that played */
  #stop() {
    const rolled = this.#reel !== null;
    this.#reel?.stop();
    this.#reel = null;
    this.#front.turn = null;
    return rolled;
  }

  toggle() {
    return this.paused ? this.play() : this.pause();
  }

  /** Attributes arrive one by one; a clip is begun when both are there and new. */
  #start() {
    const src = this.getAttribute("src");
    const frames = this.getAttribute("frames");
    if (!src || !frames || this.#address === `${src} ${frames}`) return;
    this.#leave();
    this.#address = `${src} ${frames}`;
    this.table = null;
    this.currentFrame = 0;
    this.#seeker = new Seeker(this);
    this.#front = new Front((frame) => void this.#seeker.goTo(frame));
    this.#say("");
    this.#clip = {};
    this.ready = this.#open(src, frames, this.#clip);
  }

  /** @param {string} src @param {string} frames @param {object} clip */
  async #open(src, frames, clip) {
    const given = givenVideo(this, src, this.#about);
    const json = given && givenTable(this);
    const video = given ?? makeVideo(src, this.#about);
    this.#take(video);
    this.#hold(video);
    const table = await Promise.resolve(json ?? getJSON(frames)).then(FrameTable.fromJSON, () => null);
    if (clip !== this.#clip) return;
    if (!table) return this.#say(NO_FRAMES);
    this.table = table;
    video.addEventListener("error", () => this.#say(problemOf(video)), { once: true });
    if (video.error) this.#say(problemOf(video));
    const shown = await firstPicture(video);
    if (clip !== this.#clip) return;
    if (!shown) return this.#say(NO_PICTURE);
    this.#say("");
    this.#tell("ready", { frames: table.length });
    this.showing(this.currentFrame);
    void this.#fetchWhole(src, clip);
  }

  get #about() {
    return { poster: this.getAttribute("poster"), label: this.getAttribute("label") };
  }

  /** Everything else goes, but a video that is here is not moved: that would load it anew. @param {HTMLVideoElement} video */
  #hold(video) {
    for (const child of [...this.children]) if (child !== video) child.remove();
    if (video.parentElement !== this) this.append(video);
    this.append(this.#front.canvas);
  }

  /** @param {HTMLVideoElement} video follow this one from now on */
  #take(video) {
    this.#forget();
    const stop = new AbortController();
    const unwatch = watchPictures(video, (seconds) => this.#picture(seconds));
    const state = () => this.#tell("playstate", { paused: this.paused, rate: this.#rate });
    video.addEventListener("play", state, { signal: stop.signal });
    video.addEventListener("pause", () => this.#paused(state), { signal: stop.signal });
    this.#forget = () => {
      stop.abort();
      unwatch();
    };
    this.video = video;
  }

  /** @param {number} seconds */
  #picture(seconds) {
    if (!this.table) return;
    const frame = this.table.at(seconds);
    this.showing(frame);
    this.#seeker.shown(frame);
    if (!this.paused && !this.#reel && this.#nearsEnd(frame)) this.#end();
  }

  /** The video shows this frame now; it is not what is seen while a picture lies over it. @param {number} frame */
  showing(frame) {
    if (this.#front.at !== null) return;
    this.#front.hide();
    this.#front.near(frame);
    this.#show(frame);
  }

  /** This frame is on the screen now. @param {number} frame */
  #show(frame) {
    if (!this.table) return;
    this.currentFrame = frame;
    this.#tell("frame", { frame, seconds: this.table.start(frame) });
  }

  /**
   * The clock stops a little after the picture that is on the screen, sometimes within the next
   * one's interval; go to the middle of the one that is seen, or the next step would skip or stick.
   * On a busy machine that one is told of only when the screen is drawn next.
   * @param {() => void} state
   */
  async #paused(state) {
    state();
    for (let drawn = 0; drawn < 2; drawn += 1) await new Promise(requestAnimationFrame);
    if (this.paused && !this.#seeker.busy && this.table) void this.#seeker.goTo(this.currentFrame);
  }

  /**
   * Once the whole file is here, seeking needs no network: change over to it, out of sight, while
   * the picture stands still.
   * @param {string} src @param {object} clip
   */
  async #fetchWhole(src, clip) {
    const whole = await wholeFile(src, (url) => makeVideo(url, this.#about));
    if (!whole) return;
    if (this.hasAttribute("cached")) await this.#decodeHere(whole.blob, clip);
    if (!(await this.#atRest(clip))) return URL.revokeObjectURL(whole.video.src);
    await this.#changeOver(whole.video, clip);
  }

  /** @param {Blob} blob the whole file @param {object} clip */
  async #decodeHere(blob, clip) {
    if (clip !== this.#clip || !this.table) return;
    if (!(await this.#front.take(blob, this.table.length)) || clip !== this.#clip) return;
    this.#front.near(this.currentFrame);
    this.#tell("cached", {});
    if (this.#stretch && !this.paused) void this.play(); // exact from here on
  }

  /** @param {object} clip @returns {Promise<boolean>} false when the clip changed meanwhile */
  async #atRest(clip) {
    while (clip === this.#clip && (!this.paused || this.#seeker.busy)) {
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
    return clip === this.#clip;
  }

  /** @param {HTMLVideoElement} whole @param {object} clip */
  async #changeOver(whole, clip) {
    for (let frame = -1; frame !== this.currentFrame || !this.paused || this.#seeker.busy;) {
      if (!(await this.#atRest(clip)) || !this.table) return URL.revokeObjectURL(whole.src);
      frame = this.currentFrame;
      whole.currentTime = this.table.mid(frame);
      await new Promise((resolve) => whole.addEventListener("seeked", resolve, { once: true }));
      if (clip !== this.#clip) return URL.revokeObjectURL(whole.src);
    }
    const old = this.video;
    this.#front.cover(old, this.currentFrame);
    this.#take(whole);
    old.replaceWith(whole);
    old.removeAttribute("src");
    old.load();
    this.#tell("whole", { bytes: whole.src });
  }

  #leave() {
    if (!this.#address) return;
    this.#stop();
    this.#front.close();
    this.#forget();
    this.#forget = () => {};
    const { src } = this.video;
    this.video.removeAttribute("src");
    this.video.load();
    if (src.startsWith("blob:")) URL.revokeObjectURL(src);
  }

  /** @param {string} text shown in place of the picture; empty takes it away */
  #say(text) {
    this.#said?.remove();
    this.#said = null;
    if (!text) return;
    this.#said = document.createElement("p");
    this.#said.className = "player-problem";
    this.#said.setAttribute("role", "alert");
    this.#said.textContent = text;
    this.append(this.#said);
    this.#tell("problem", { text });
  }

  /** @param {string} name @param {object} detail */
  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }
}

customElements.define("exact-player", ExactPlayer);
