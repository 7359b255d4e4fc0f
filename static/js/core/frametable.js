// @ts-check
/** Browsers tell times in whole microseconds, and seconds x ticks per second falls a little short. */
const ROUNDING_S = 1.5e-6;

/**
 * The clip's only clock: when each frame of the playable is shown.
 *
 * Seconds are looked up here and never computed as frame / rate: phones record variable rates,
 * and a seek to n / rate lands on the frame before as often as not. Inside the player time is
 * counted in ticks, which are whole; a browser's seconds become ticks once, here.
 */
export class FrameTable {
  /**
   * @param {number[]} pts start of each frame in ticks, strictly rising
   * @param {number} timescale ticks per second
   * @param {number} duration end of the last frame, in ticks on the same clock
   */
  constructor(pts, timescale, duration) {
    if (!pts.length) throw new RangeError("A frame table holds at least one frame.");
    this.pts = pts;
    this.timescale = timescale;
    this.last = pts.length - 1;
    const end = duration > pts[this.last] ? duration : pts[this.last] + this.#usual();
    this.bounds = [...pts, end];
  }

  /** @param {{version: number, timescale: number, pts: number[], duration: number}} json */
  static fromJSON(json) {
    if (json.version !== 1) throw new RangeError(`Frame table version ${json.version} is unknown.`);
    return new FrameTable(json.pts, json.timescale, json.duration);
  }

  get length() {
    return this.pts.length;
  }

  /** Where the last frame has no stated end, it lasts as long as the one before it. */
  #usual() {
    return this.last ? this.pts[this.last] - this.pts[this.last - 1] : 1;
  }

  /** @param {number} frame the nearest frame there is */
  clamp(frame) {
    return Math.max(0, Math.min(this.last, Math.round(frame)));
  }

  /** @param {number} frame @returns {number} the tick at which it is first shown */
  startTick(frame) {
    return this.bounds[frame];
  }

  /** @param {number} frame @returns {number} the tick at which it is no longer shown */
  endTick(frame) {
    return this.bounds[frame + 1];
  }

  /** @param {number} frame @returns {number} seconds, for the page; they are never counted back */
  start(frame) {
    return this.startTick(frame) / this.timescale;
  }

  /** @param {number} frame @returns {number} seconds */
  end(frame) {
    return this.endTick(frame) / this.timescale;
  }

  /**
   * Middle of the frame's own interval: the only seek target that lands on the right frame
   * whatever the rate does and however a player rounds.
   * @param {number} frame @returns {number} seconds
   */
  mid(frame) {
    return (this.startTick(frame) + this.endTick(frame)) / 2 / this.timescale;
  }

  /** Seconds from the first frame's start to the last one's end. */
  get seconds() {
    return (this.bounds[this.length] - this.bounds[0]) / this.timescale;
  }

  /** The frame that holds this tick. @param {number} tick */
  frameAt(tick) {
    let low = 0;
    let high = this.last;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.pts[middle] <= tick) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  /**
   * Frame on screen when a browser's clock stands at `seconds`, which it may have rounded down.
   * Every browser's report can be asked so: some tell of the picture's own start, some of the place
   * that was sought, and both lie within the frame. The nearest start would name the next one.
   * @param {number} seconds
   */
  at(seconds) {
    return this.frameAt(Math.floor((seconds + ROUNDING_S) * this.timescale));
  }
}
