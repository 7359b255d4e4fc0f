// @ts-check
import { OpenedClip } from "./opened-clip.js";
import { Playback } from "./playback.js";
import { showProblem } from "./player-problems.js";

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

  #idle = this.querySelector("video") ?? document.createElement("video");
  /** @type {OpenedClip|null} */
  #clip = null;
  #playback = new Playback((name, detail) => this.#emit(name, detail));
  #address = "";
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

  /** @returns {HTMLVideoElement} */
  get video() {
    return this.#clip?.video ?? this.#idle;
  }

  get table() {
    return this.#clip?.table ?? null;
  }

  /** Settled once the first picture is there, or the reason why there is none. */
  get ready() {
    return this.#clip?.ready ?? Promise.resolve();
  }

  /** The frame on the screen. */
  get currentFrame() {
    return this.#clip?.position?.shown ?? 0;
  }

  /** Where it is, or is going. */
  get destination() {
    return this.#clip?.position?.destination ?? 0;
  }

  /** What is on the screen, to be drawn or measured. @returns {HTMLVideoElement|HTMLCanvasElement} */
  get picture() {
    return this.#clip?.picture ?? this.#idle;
  }

  get paused() {
    return this.#playback.paused;
  }

  get rate() {
    return this.#playback.rate;
  }

  set rate(rate) {
    this.#playback.rate = rate;
  }

  get stretch() {
    return this.#playback.stretch;
  }

  /** What plays from now on is exact to both ends: from pictures decoded here, or in a video that
   * is stopped before the end. */
  set stretch(stretch) {
    this.#playback.stretch = stretch;
  }

  /** @param {number} frame @returns {Promise<number>} the frame on the screen once it is there */
  goTo(frame) {
    const clip = this.#clip;
    if (!clip?.position) return this.#goToLater(frame);
    this.#playback.stopLoop();
    return clip.goTo(frame);
  }

  /** What was wished of a clip that has gone since is no wish of the one that is here. @param {number} frame */
  async #goToLater(frame) {
    const clip = this.#clip;
    await clip?.ready;
    return clip?.position && clip === this.#clip ? this.goTo(frame) : this.currentFrame;
  }

  /** @param {number} by frames, negative to go back; counts from where it is going to be */
  step(by) {
    return this.goTo(this.destination + by);
  }

  play() {
    return this.#playback.play();
  }

  pause() {
    this.#playback.pause();
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
    showProblem(this, "");
    const [poster, label] = [this.getAttribute("poster"), this.getAttribute("label")];
    const source = { src, frames, poster, label, cached: this.hasAttribute("cached") };
    const emit = (/** @type {string} */ name, /** @type {object} */ detail) => this.#emit(name, detail);
    const say = (/** @type {string} */ text) => this.#say(text);
    this.#clip = new OpenedClip(this, source, { emit, say, playback: this.#playback });
    this.#playback.change(this.#clip);
  }

  #leave() {
    this.#playback.change(null);
    this.#clip?.close();
    this.#clip = null;
  }

  /** @param {string} text shown in place of the picture; empty takes it away */
  #say(text) {
    showProblem(this, text);
    if (text) this.#emit("problem", { text });
  }

  /** @param {string} name @param {object} detail */
  #emit(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }
}

customElements.define("exact-player", ExactPlayer);
