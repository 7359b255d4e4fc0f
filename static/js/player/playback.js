// @ts-check
import { DecodedPlayback } from "./decoded-playback.js";
import { playToEnd, nearsEnd } from "./playback-loop.js";

/**
 * Playing the clip that is open: by its video, or a stretch of it again and again, from decoded
 * pictures where there are any.
 * @typedef {import("./opened-clip.js").OpenedClip} OpenedClip
 */
export class Playback {
  #rate = 1;
  /** @type {{first: number, last: number}|null} */
  #stretch = null;
  /** @type {OpenedClip|null} */
  #clip = null;
  /** @type {DecodedPlayback|null} what plays, where that is not the video */
  #decoded = null;
  /** Who is still asked to play after a wait: a pause that came meanwhile is the newer word. */
  #request = {};

  /** @param {(name: string, detail: object) => void} emit */
  constructor(emit) {
    this.emit = emit;
  }

  /** Play this one from now on. @param {OpenedClip|null} clip */
  change(clip) {
    this.#stop();
    this.#clip = clip;
    this.#emitState();
  }

  get paused() {
    return !this.#decoded && (this.#clip?.video.paused ?? true);
  }

  get rate() {
    return this.#rate;
  }

  set rate(rate) {
    this.#rate = rate;
    if (this.#clip) this.#clip.video.playbackRate = rate;
    this.#emitState();
  }

  get stretch() {
    return this.#stretch;
  }

  set stretch(stretch) {
    this.#stretch = stretch;
    this.again();
  }

  /** Play on by what there is now: a stretch was set, or pictures are decoded from here on. */
  again() {
    if (!this.paused) void this.play();
  }

  async play() {
    const clip = this.#clip;
    this.#stop();
    const request = this.#request;
    await clip?.ready;
    if (!clip || clip !== this.#clip || request !== this.#request) return;
    const { position, table, overlay } = clip;
    if (position && table) {
      if (this.#stretch && overlay.cached) return this.#playDecoded(clip, position, table, this.#stretch);
      const fromStart = !this.#stretch && position.destination === table.last;
      if (position.covered && !fromStart) await position.goTo(position.shown);
      if (clip !== this.#clip || request !== this.#request) return;
      clip.uncover();
      overlay.hide();
      if (fromStart) clip.video.currentTime = table.start(0);
      if (this.#nearsEnd(position.destination)) return this.#end();
    }
    const { video } = clip; // not earlier: another one may have taken its place
    video.playbackRate = this.#rate;
    await video.play().catch(refused);
  }

  pause() {
    this.stopLoop();
    this.#clip?.video.pause();
  }

  /** What plays by itself stands still; a video that plays goes on. */
  stopLoop() {
    if (this.#stop()) this.#emitState();
  }

  /** The video shows this frame. @param {number} frame */
  pictureShown(frame) {
    if (!this.paused && !this.#decoded && this.#nearsEnd(frame)) this.#end();
  }

  played() {
    this.#clip?.position?.moved();
    this.#emitState();
  }

  /**
   * The clock stops a little after the picture that is on the screen, sometimes within the next
   * one's interval, and some browsers have painted one or two more than they reported: go to the middle of
   * the one that the label names. On a busy machine that one is reported only when the screen is
   * drawn next.
   */
  async stopped() {
    const clip = this.#clip;
    this.#emitState();
    if (!clip?.position || !clip.table) return;
    if (clip.video.ended) {
      clip.position.ended();
      if (this.#stretch) return this.#end();
    }
    for (let drawn = 0; drawn < 2; drawn += 1) await new Promise(requestAnimationFrame);
    if (clip === this.#clip && this.paused && !clip.position.busy) void clip.position.goTo(clip.position.shown);
  }

  /**
   * @param {OpenedClip} clip @param {import("./frame-position.js").FramePosition} position
   * @param {import("../core/frametable.js").FrameTable} table @param {{first: number, last: number}} stretch
   */
  #playDecoded(clip, position, table, stretch) {
    const show = (/** @type {number} */ frame) =>
      (position.covered && frame === position.shown) || clip.showDecoded(frame, 1);
    // A decoder that fails in the middle leaves the rest to the video.
    clip.overlay.turn = stretch.first;
    this.#run(new DecodedPlayback(table, stretch, () => this.#rate, show, () => clip.overlay.cached, () => void this.play()));
  }

  /** @param {number} frame whether playing on from it in the video would leave the stretch */
  #nearsEnd(frame) {
    const table = this.#clip?.table;
    return Boolean(this.#stretch && table && nearsEnd(table, this.#stretch, frame, this.#rate));
  }

  /** The last pictures of the stretch, one by one. */
  #end() {
    const { position, table } = this.#clip ?? {};
    if (!position || !table || !this.#stretch) return;
    this.#run(playToEnd(position, table, this.#stretch, () => this.#rate, () => void this.play()));
  }

  /** @param {DecodedPlayback} decoded */
  #run(decoded) {
    const clip = /** @type {OpenedClip} */ (this.#clip);
    this.#decoded = decoded;
    decoded.run(clip.position?.destination ?? 0);
    clip.video.pause();
    this.#emitState();
  }

  /** @returns {boolean} whether decoded pictures were playing */
  #stop() {
    this.#request = {};
    const rolled = this.#decoded !== null;
    this.#decoded?.stop();
    this.#decoded = null;
    if (this.#clip) this.#clip.overlay.turn = null;
    return rolled;
  }

  #emitState() {
    this.emit("playstate", { paused: this.paused, rate: this.#rate });
  }
}

/**
 * A video that was paused before it had begun, whose end came at once, or that may not play by
 * itself: it stands still, which is what the page is told. @param {unknown} error
 */
function refused(error) {
  if (!(error instanceof DOMException)) throw error;
}
