// @ts-check
/** How long after "seeked" the picture may still be on its way on a busy machine. */
const GRACE_MS = 2000;
/** How long after a neighbour's picture the right one may still come. */
const NEIGHBOUR_GRACE_MS = 300;
/** A hidden page is told of no pictures; the place sought is then all there is to go by. */
const HIDDEN_GRACE_MS = 100;

/**
 * Which frame of a clip is wanted, which one the video is sent to, and which one is on the screen.
 *
 * One seek at a time, the latest wish wins: a browser that is given a new position while it still
 * seeks throws work away and may show neither; so the next seek starts when the picture of the one
 * before is on the screen.
 */
export class FramePosition {
  /** On the screen: the frame that a label names. */
  shown = 0;
  /** @type {number|null} the video is on its way to it */
  sought = null;
  /** @type {number|null} asked for meanwhile */
  wanted = null;
  /** Whether a decoded picture lies over the video, whose own pictures are then not what is seen. */
  covered = false;
  /** @type {number|null} the frame that the video shows, standing still since a seek */
  #rests = null;
  /** @type {((frame: number) => void)[]} */
  #waiting = [];
  /** A picture came while the video was sought. @param {number} _frame */
  #came = (_frame) => {};
  /**
   * Whether this browser shows the first picture that begins at or after the place sought: WebKit
   * on GStreamer does, where the rate varies; everybody else shows the one that holds it.
   */
  #showsNext = false;

  /**
   * @param {import("../core/frametable.js").FrameTable} table @param {HTMLVideoElement} video
   * @param {(frame: number) => void} onShown this frame is on the screen now
   */
  constructor(table, video, onShown) {
    this.table = table;
    this.video = video;
    this.onShown = onShown;
    if (video.paused && video.currentTime === 0) this.#rests = 0;
  }

  /** Where the clip is or will be, once what was asked is done: a key pressed right after a step means that. */
  get destination() {
    return this.covered ? this.shown : this.wanted ?? this.sought ?? this.shown;
  }

  get busy() {
    return this.sought !== null;
  }

  /** Whether the picture on the screen is known to be the one that is named. */
  get settled() {
    return !this.busy && (this.covered || this.#rests === this.shown);
  }

  /** Another element of the same clip is sent from now on. @param {HTMLVideoElement} video @param {number} rests the frame it was brought to */
  change(video, rests) {
    this.video = video;
    this.#rests = rests;
  }

  /** @param {number} frame @returns {Promise<number>} the frame on the screen when all is still */
  goTo(frame) {
    return new Promise((resolve) => {
      this.#waiting.push(resolve);
      this.wanted = frame;
      if (!this.busy) void this.#run();
    });
  }

  /** The video plays: where it stands from then on has to be sought. */
  moved() {
    this.#rests = null;
  }

  /** It played to its end, and stands on its last frame: WebKit never arrives where it is sought then. */
  ended() {
    this.#rests = this.table.last;
    this.videoShows(this.table.last);
  }

  /** A decoded picture lies over the video. @param {number} frame */
  cover(frame) {
    this.covered = true;
    this.#show(frame);
  }

  /** The video shows a picture. @param {number} frame */
  videoShows(frame) {
    if (!this.covered) this.#show(frame);
    this.#came(frame);
  }

  /** @param {number} frame */
  #show(frame) {
    this.shown = frame;
    this.onShown(frame);
  }

  async #run() {
    while (this.wanted !== null) {
      this.sought = this.wanted;
      this.wanted = null;
      await this.#seek(this.sought);
    }
    this.sought = null;
    for (const resolve of this.#waiting.splice(0)) resolve(this.shown);
  }

  /**
   * A clock that stopped within the frame is no proof that its picture is the one on the screen:
   * only a video that was sent to it, and has not played since, is left alone.
   * @param {number} frame
   */
  async #seek(frame) {
    const { video } = this;
    if (this.#rests === frame && video.paused && !video.seeking) {
      if (!this.covered) this.#show(frame);
      return;
    }
    let seen = await this.#send(video, frame);
    // A late picture of a clip that was playing may mislead once; the second time puts that right.
    for (let tries = 0; tries < 2 && this.wanted === null; tries += 1) {
      if (seen !== frame + (this.#showsNext ? -1 : 1)) break;
      this.#showsNext = !this.#showsNext;
      seen = await this.#send(video, frame);
    }
    if (video === this.video) this.#rests = seen;
  }

  /** @param {number} frame @returns {number} where to send the video for it, in seconds */
  placeOf(frame) {
    if (frame === 0) return this.table.start(0); // nothing lies before it
    return this.table.mid(this.#showsNext ? frame - 1 : frame);
  }

  /** @param {HTMLVideoElement} video @param {number} frame @returns {Promise<number|null>} the frame that it shows then */
  #send(video, frame) {
    return new Promise((resolve) => {
      const stop = new AbortController();
      const moving = !video.paused || this.#rests === null;
      this.#rests = null;
      /** @type {ReturnType<typeof setTimeout>|undefined} */
      let grace;
      /** @type {number|null} */
      let seen = null;
      const done = () => {
        clearTimeout(grace); // left running, it would end the wait of a later seek
        stop.abort();
        this.#came = () => {};
        resolve(seen);
      };
      const wait = (/** @type {number} */ ms) => {
        clearTimeout(grace);
        grace = setTimeout(() => {
          // A picture that was reported is the truth, also when it is not the one that was sought.
          if (seen === null) this.videoShows(frame);
          else done();
        }, ms);
      };
      this.#came = (/** @type {number} */ came) => {
        seen = came;
        if (came === frame) done();
        else if (Math.abs(came - frame) === 1 && grace) wait(NEIGHBOUR_GRACE_MS);
      };
      const late = () => {
        if (moving) seen = null; // what was reported on the way was the place it left
        wait(document.hidden ? HIDDEN_GRACE_MS : GRACE_MS);
      };
      video.addEventListener("seeked", late, { once: true, signal: stop.signal });
      video.addEventListener("error", done, { once: true, signal: stop.signal });
      video.currentTime = this.placeOf(frame);
    });
  }
}
