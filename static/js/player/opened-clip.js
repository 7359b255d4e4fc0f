// @ts-check
import { FrameTable } from "../core/frametable.js";
import { getJSON } from "../core/net.js";
import { firstPicture, pageTable, pageVideo, makeVideo } from "./video-element.js";
import { FramePosition } from "./frame-position.js";
import { FrameOverlay } from "./frame-overlay.js";
import { watchPresentedFrames } from "./presented-frames.js";
import { NO_FRAMES, NO_PICTURE, problemOf } from "./player-problems.js";
import { happens, downloadWhole } from "./full-download.js";

/** How often it is looked whether the clip stands still. */
const LOOK_MS = 100;

/**
 * One clip in a player, from the moment it is opened until another one is: its video, its frame
 * table, its decoded pictures. Whatever it began ends with `close`.
 *
 * @typedef {{src: string, frames: string, poster: string|null, label: string|null, cached: boolean}} Source
 * @typedef {{emit: (name: string, detail: object) => void, say: (problem: string) => void,
 *   playback: import("./playback.js").Playback}} Owner
 */
export class OpenedClip {
  #life = new AbortController();
  /** @type {FrameTable|null} */
  table = null;
  /** @type {FramePosition|null} as soon as there is a table */
  position = null;

  /** @param {HTMLElement} host @param {Source} source @param {Owner} owner */
  constructor(host, source, owner) {
    this.source = source;
    this.owner = owner;
    const embedded = pageVideo(host, source.src, source);
    const json = embedded && pageTable(host);
    this.video = embedded ?? makeVideo(source.src, source);
    this.overlay = new FrameOverlay((frame) => void this.position?.goTo(frame));
    this.#follow(this.video);
    this.#fill(host);
    this.ready = this.#open(json);
  }

  /** What is on the screen, to be drawn or measured. @returns {HTMLVideoElement|HTMLCanvasElement} */
  get picture() {
    return this.overlay.canvas.hidden ? this.video : this.overlay.canvas;
  }

  /** @param {number} frame @returns {Promise<number>} the frame on the screen once it is there */
  goTo(frame) {
    const { table, position } = this;
    if (!table || !position) return Promise.resolve(0);
    const wanted = table.clamp(frame);
    if (this.video.paused && this.showDecoded(wanted, wanted - position.destination))
      return Promise.resolve(wanted);
    this.uncover();
    // Wished for at once, not after a promise: ten quick steps must count from each other.
    const landed = position.goTo(wanted);
    if (!this.video.paused) this.video.pause();
    return landed;
  }

  /** @param {number} frame @param {number} by how far it lies from the last one @returns {boolean} whether its picture was here */
  showDecoded(frame, by) {
    if (!this.overlay.show(frame, by)) return false;
    this.position?.cover(frame);
    return true;
  }

  /** The video is on its way to another picture; what is drawn stays until that is seen. */
  uncover() {
    this.overlay.leave();
    if (this.position) this.position.covered = false;
  }

  close() {
    this.#life.abort();
    this.overlay.close();
    this.video.removeAttribute("src");
    this.video.load();
  }

  /** @param {any} json the frame table, where the page brought it */
  async #open(json) {
    const { signal } = this.#life;
    const { src, frames } = this.source;
    const table = await Promise.resolve(json ?? getJSON(frames)).then(FrameTable.fromJSON, () => null);
    if (signal.aborted) return;
    if (!table) return this.owner.say(NO_FRAMES);
    this.table = table;
    this.position = new FramePosition(table, this.video, (frame) => this.#shown(frame));
    const failed = () => this.owner.say(problemOf(this.video));
    this.video.addEventListener("error", failed, { once: true, signal });
    if (this.video.error) failed();
    const hasPicture = await firstPicture(this.video);
    if (signal.aborted) return;
    if (!hasPicture) return this.owner.say(NO_PICTURE);
    this.owner.say("");
    this.owner.emit("ready", { frames: table.length });
    this.position.videoShows(this.position.shown);
    void this.#fetchWhole(src, table, this.position);
  }

  /** Everything else goes, but a video that is here is not moved: that would load it anew. @param {HTMLElement} host */
  #fill(host) {
    for (const child of [...host.children]) if (child !== this.video) child.remove();
    if (this.video.parentElement !== host) host.append(this.video);
    host.append(this.overlay.canvas);
  }

  /** @param {HTMLVideoElement} video tell of what it does, as long as it is this clip's */
  #follow(video) {
    const { signal } = this.#life;
    const { playback } = this.owner;
    const ours = (/** @type {() => void} */ then) => () => video === this.video && then();
    watchPresentedFrames(video, (seconds) => video === this.video && this.#pictured(seconds), signal);
    video.addEventListener("play", ours(() => playback.played()), { signal });
    video.addEventListener("pause", ours(() => void playback.stopped()), { signal });
  }

  /** @param {number} seconds where the picture lies that the video shows */
  #pictured(seconds) {
    if (!this.table || !this.position) return;
    const frame = this.table.at(seconds);
    this.position.videoShows(frame);
    this.owner.playback.pictureShown(frame);
  }

  /** @param {number} frame is on the screen now */
  #shown(frame) {
    if (!this.table || !this.position) return;
    if (!this.position.covered) {
      this.overlay.hide();
      this.overlay.near(frame);
    }
    this.owner.emit("frame", { frame, seconds: this.table.start(frame) });
  }

  /**
   * Once the whole file is here, seeking needs no network: change over to it, out of sight, while
   * the picture stands still.
   * @param {string} src @param {FrameTable} table @param {FramePosition} position
   */
  async #fetchWhole(src, table, position) {
    const { signal } = this.#life;
    const whole = await downloadWhole(src, (url) => makeVideo(url, this.source), signal);
    if (!whole || signal.aborted) return;
    if (this.source.cached) await this.#decodeHere(whole.blob, table);
    await this.#changeOver(whole.video, position);
  }

  /** @param {Blob} blob the whole file @param {FrameTable} table */
  async #decodeHere(blob, table) {
    if (!(await this.overlay.take(blob, table.length)) || this.#life.signal.aborted) return;
    this.overlay.near(this.position?.shown ?? 0);
    this.owner.emit("cached", {});
    if (this.owner.playback.stretch) this.owner.playback.again(); // exact from here on
  }

  get #still() {
    return this.owner.playback.paused && Boolean(this.position?.settled);
  }

  /** @param {HTMLVideoElement} whole @param {FramePosition} position */
  async #changeOver(whole, position) {
    const { signal } = this.#life;
    for (let frame = -1; frame !== position.shown || !this.#still;) {
      while (!this.#still && !signal.aborted) await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
      if (signal.aborted) return;
      frame = position.shown;
      whole.currentTime = position.placeOf(frame);
      await happens(whole, ["seeked"], signal);
    }
    const old = this.video;
    if (!position.covered && this.overlay.cover(old)) position.covered = true;
    this.video = whole;
    position.change(whole, position.shown);
    this.#follow(whole);
    old.replaceWith(whole);
    old.removeAttribute("src");
    old.load();
    this.owner.emit("whole", { bytes: whole.src });
  }
}
