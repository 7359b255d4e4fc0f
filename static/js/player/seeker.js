// @ts-check
/** How long after "seeked" the picture may still be on its way on a busy machine. */
const GRACE_MS = 2000;
/** A hidden page is told of no pictures; the place sought is then all there is to go by. */
const HIDDEN_GRACE_MS = 100;

/**
 * One seek at a time, the latest wish wins.
 *
 * A browser that is given a new position while it still seeks throws work away and may show
 * neither; so the next seek starts when the picture of the one before is on the screen.
 */
export class Seeker {
  /** @type {number|null} frame under way */
  #target = null;
  /** @type {number|null} frame wished for meanwhile */
  #wish = null;
  /** @type {((frame: number) => void)[]} */
  #waiting = [];
  #landed = () => {};
  /** Whether any picture was told of since the video arrived where it was sent. */
  #told = false;

  /**
   * @param {{video: HTMLVideoElement, currentFrame: number, showing: (frame: number) => void,
   *   table: import("../core/frametable.js").FrameTable|null}} player
   */
  constructor(player) {
    this.player = player;
  }

  /** Where the player is or will be, once it has done what was asked. */
  get destination() {
    return this.#wish ?? this.#target ?? this.player.currentFrame;
  }

  get busy() {
    return this.#target !== null;
  }

  /** @param {number} frame @returns {Promise<number>} the frame on the screen when all is still */
  goTo(frame) {
    return new Promise((resolve) => {
      this.#waiting.push(resolve);
      this.#wish = frame;
      if (!this.busy) this.#run();
    });
  }

  /** A picture reached the screen. @param {number} frame */
  shown(frame) {
    this.#told = true;
    if (frame === this.#target) this.#landed();
  }

  async #run() {
    while (this.#wish !== null) {
      this.#target = this.#wish;
      this.#wish = null;
      await this.#seek(this.#target);
    }
    this.#target = null;
    for (const resolve of this.#waiting.splice(0)) resolve(this.player.currentFrame);
  }

  /** @param {number} frame */
  #seek(frame) {
    const { video, table } = this.player;
    if (!table) return Promise.resolve();
    // One that plays shows the next picture before it stands still.
    const still = video.paused && !video.seeking && table.at(video.currentTime) === frame;
    if (still && this.player.currentFrame === frame) return Promise.resolve();
    return new Promise((resolve) => {
      const stop = new AbortController();
      /** @type {ReturnType<typeof setTimeout>|undefined} */
      let grace;
      const done = () => {
        clearTimeout(grace); // left running, it would end the wait of a later seek
        stop.abort();
        this.#landed = () => {};
        resolve(undefined);
      };
      this.#landed = done;
      const untold = () => {
        // A picture that was told of is the truth, also when it is not the one that was sought.
        if (!this.#told) this.player.showing(table.at(video.currentTime));
        done();
      };
      const late = () => {
        this.#told = false; // what was told of on the way was the place it left
        grace = setTimeout(untold, document.hidden ? HIDDEN_GRACE_MS : GRACE_MS);
      };
      video.addEventListener("seeked", late, { once: true, signal: stop.signal });
      video.addEventListener("error", done, { once: true, signal: stop.signal });
      video.currentTime = table.mid(frame);
    });
  }
}
