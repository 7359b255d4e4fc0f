// @ts-check
/**
 * The clip's only clock: when each frame of the playable is shown.
 *
 * Seconds are looked up here and never computed as frame / rate: phones record variable rates,
 * and a seek to n / rate lands on the frame before as often as not.
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

  /** @param {number} frame @returns {number} seconds */
  start(frame) {
    return this.bounds[frame] / this.timescale;
  }

  /** @param {number} frame @returns {number} seconds */
  end(frame) {
    return this.bounds[frame + 1] / this.timescale;
  }

  /**
   * Middle of the frame's own interval: the only seek target that lands on the right frame
   * whatever the rate does and however a player rounds.
   * @param {number} frame @returns {number} seconds
   */
  mid(frame) {
    return (this.bounds[frame] + this.bounds[frame + 1]) / 2 / this.timescale;
  }

  /** Seconds from the first frame's start to the last one's end. */
  get seconds() {
    return (this.bounds[this.length] - this.bounds[0]) / this.timescale;
  }

  /** Frame on screen when the clock stands at `seconds`. @param {number} seconds */
  at(seconds) {
    const tick = seconds * this.timescale;
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
   * Frame whose start is nearest: for a presentation time reported by the browser, which is
   * rounded to microseconds and may fall just short of the start it means.
   * @param {number} seconds
   */
  nearest(seconds) {
    const frame = this.at(seconds);
    if (frame === this.last) return frame;
    return seconds - this.start(frame) > this.start(frame + 1) - seconds ? frame + 1 : frame;
  }
}
