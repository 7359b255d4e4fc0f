// @ts-check
import { DecodedFrames } from "./decoded-frames.js";

/** The video element follows the picture drawn over it once the stepping rests this long. */
const REST_MS = 250;

/**
 * A canvas over the video that shows decoded pictures while the coach steps, where the browser
 * can decode them for us. The video follows underneath, so that playing goes on from there.
 */
export class FrameOverlay {
  /** @type {number|null} a frame that is soon gone back to */
  turn = null;
  /** @type {DecodedFrames|null} */
  #frames = null;
  /** @type {ReturnType<typeof setTimeout>|undefined} */
  #rest;
  #closed = false;
  /** @type {CanvasRenderingContext2D|null} made with the first picture: making one takes a while */
  #pen = null;

  /** @param {(frame: number) => void} follow called at rest, to bring the video along */
  constructor(follow) {
    this.follow = follow;
    this.canvas = document.createElement("canvas");
    this.canvas.className = "frame-overlay";
    this.canvas.hidden = true;
    this.canvas.setAttribute("aria-hidden", "true");
  }

  /** Make steps from this file from now on, if that can be done. @param {Blob} file @param {number} frames */
  async take(file, frames) {
    const decoded = await DecodedFrames.of(file, frames);
    if (this.#closed) decoded?.close();
    else this.#frames = decoded;
    return this.#frames !== null;
  }

  /** Whether pictures are decoded here. */
  get cached() {
    return this.#frames !== null && !this.#frames.closed;
  }

  /**
   * @param {number} frame @param {number} by how far it lies from the last one
   * @returns {boolean} whether the picture was here and is shown
   */
  show(frame, by) {
    this.near(frame, by); // first: a decoder that fails here takes its pictures with it
    const picture = this.#frames?.picture(frame);
    if (!picture || !this.#draw(picture, picture.width, picture.height)) return false;
    this.#rest = setTimeout(() => this.follow(frame), REST_MS);
    return true;
  }

  /**
   * Keep what a video shows on the screen while another takes its place, which for a moment may
   * still show what it was at before.
   * @param {HTMLVideoElement} video @returns {boolean} whether it could be drawn
   */
  cover(video) {
    return this.#draw(video, video.videoWidth, video.videoHeight);
  }

  /** @param {CanvasImageSource} picture @param {number} width @param {number} height */
  #draw(picture, width, height) {
    this.#pen ??= this.canvas.getContext("2d", { alpha: false });
    if (!this.#pen) return false;
    if (this.canvas.width !== width || this.canvas.height !== height) {
      this.canvas.width = width;
      this.canvas.height = height;
    }
    this.#pen.drawImage(picture, 0, 0);
    this.canvas.hidden = false;
    clearTimeout(this.#rest);
    return true;
  }

  /** Have the pictures around this frame ready. @param {number} frame @param {number} [by] how the playhead came there */
  near(frame, by = 1) {
    this.#frames?.around(frame, by, this.turn);
  }

  /** The video need not follow: it is on its way to another picture. */
  leave() {
    clearTimeout(this.#rest);
  }

  /** The video shows its picture: nothing needs to lie over it. */
  hide() {
    if (!this.canvas.hidden) this.canvas.hidden = true;
  }

  close() {
    this.#closed = true;
    this.leave();
    this.hide();
    this.#frames?.close();
    this.#frames = null;
  }
}
