// @ts-check
/** A page that was out of sight for long goes on where it stood. */
const LONGEST_STEP_S = 0.1;

/**
 * A stretch of frames played again and again from decoded pictures, by a clock of our own: a video
 * element is told of a picture once it is on the screen, and by the time it turns back it has shown
 * one or two beyond the end. There is no sound: rounds of a second make noise, not words.
 */
export class DecodedPlayback {
  /** @type {number|null} */
  #request = null;
  #then = 0;
  /** Where the clock stands, in ticks; whole at each end of the stretch. */
  #tick = 0;
  /** Whether the picture of this moment is still on its way. */
  #waits = false;

  /**
   * @param {import("../core/frametable.js").FrameTable} table
   * @param {{first: number, last: number}} stretch
   * @param {() => number} rate
   * @param {(frame: number) => boolean} show whether that picture was here and is shown
   * @param {() => boolean} canGoOn false once no picture will come any more
   * @param {() => void} onEnd called then
   */
  constructor(table, { first, last }, rate, show, canGoOn, onEnd) {
    this.table = table;
    this.first = first;
    this.last = last;
    this.rate = rate;
    this.show = show;
    this.canGoOn = canGoOn;
    this.onEnd = onEnd;
  }

  /** @param {number} from a frame; the first one where it lies outside */
  run(from) {
    const inside = from >= this.first && from <= this.last;
    this.#tick = this.table.startTick(inside ? from : this.first);
    this.#waits = true;
    this.#then = performance.now();
    this.#request = requestAnimationFrame((now) => this.#turn(now));
  }

  stop() {
    if (this.#request !== null) cancelAnimationFrame(this.#request);
    this.#request = null;
  }

  /** However late it is: no round goes by without its last picture. @param {number} passed seconds */
  #after(passed) {
    const { table, first, last } = this;
    const tick = this.#tick + passed * table.timescale;
    if (tick < table.endTick(last)) return tick;
    const lastWasSeen = table.frameAt(this.#tick) === last;
    return table.startTick(lastWasSeen ? first : last);
  }

  /** @param {number} now */
  #turn(now) {
    const passed = Math.min(Math.max(now - this.#then, 0) / 1000, LONGEST_STEP_S);
    this.#then = now;
    // While a picture is on its way the clock stands: none is left out for it, none shown twice.
    if (!this.#waits) this.#tick = this.#after(passed * this.rate());
    this.#waits = !this.show(this.table.frameAt(this.#tick));
    if (this.#waits && !this.canGoOn()) return this.onEnd();
    this.#request = requestAnimationFrame((next) => this.#turn(next));
  }
}
