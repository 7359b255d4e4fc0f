// @ts-check
import { StepCache } from "./steps.js";

/** The video element follows the picture drawn over it once the stepping rests this long. */
const REST_MS = 250;

/**
 * A canvas over the video that shows decoded pictures while the coach steps, where the browser
 * can decode them for us. The video follows underneath, so that playing goes on from there.
 */
export class Front {
  /** @type {number|null} the frame on the canvas; null while the video is what is seen */
  at = null;
  /** @type {number|null} a frame that is soon gone back to */
  turn = null;
  /** @type {StepCache|null} */
  #cache = null;
  /** @type {ReturnType<typeof setTimeout>|undefined} */
  #rest;
  #closed = false;
  /** @type {CanvasRenderingContext2D|null} made with the first picture: making one takes a while */
  #pen = null;

  /** @param {(frame: number) => void} follow called at rest, to bring the video along */
  constructor(follow) {
    this.follow = follow;
    this.canvas = document.createElement("canvas");
    this.canvas.className = "front";
    this.canvas.hidden = true;
    this.canvas.setAttribute("aria-hidden", "true");
  }

  /** Make steps from this file from now on, if that can be done. @param {Blob} file @param {number} frames */
  async take(file, frames) {
    const cache = await StepCache.of(file, frames);
    if (this.#closed) cache?.close();
    else this.#cache = cache;
    return this.#cache !== null;
  }

  /** Whether pictures are decoded here. */
  get cached() {
    return this.#cache !== null && !this.#cache.closed;
  }

  /** @param {number} frame @returns {boolean} whether the picture was here and is shown */
  show(frame) {
    this.near(frame); // first: a decoder that fails here takes its pictures with it
    const picture = this.#cache?.picture(frame);
    if (!picture || !this.#draw(picture, picture.width, picture.height, frame)) return false;
    this.#rest = setTimeout(() => this.at === frame && this.follow(frame), REST_MS);
    return true;
  }

  /**
   * Keep what a video shows on the screen while another takes its place, which for a moment may
   * still show what it was at before.
   * @param {HTMLVideoElement} video @param {number} frame that it shows
   */
  cover(video, frame) {
    if (this.at === null) this.#draw(video, video.videoWidth, video.videoHeight, frame);
  }

  /** @param {CanvasImageSource} picture @param {number} width @param {number} height @param {number} frame */
  #draw(picture, width, height, frame) {
    this.#pen ??= this.canvas.getContext("2d", { alpha: false });
    if (!this.#pen) return false;
    if (this.canvas.width !== width || this.canvas.height !== height) {
      this.canvas.width = width;
      this.canvas.height = height;
    }
    this.#pen.drawImage(picture, 0, 0);
    this.canvas.hidden = false;
    this.at = frame;
    clearTimeout(this.#rest);
    return true;
  }

  /** Have the pictures around this frame ready. @param {number} frame */
  near(frame) {
    this.#cache?.around(frame, this.turn);
  }

  /** The video is on its way to another picture; what is drawn stays until that is seen. */
  leave() {
    clearTimeout(this.#rest);
    this.at = null;
  }

  /** The video shows its picture: nothing needs to lie over it. */
  hide() {
    if (this.at === null && !this.canvas.hidden) this.canvas.hidden = true;
  }

  close() {
    this.#closed = true;
    this.leave();
    this.hide();
    this.#cache?.close();
    this.#cache = null;
  }
}
