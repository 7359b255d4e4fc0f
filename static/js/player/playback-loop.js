// @ts-check
import { DecodedPlayback } from "./decoded-playback.js";

/**
 * How far before its end a stretch is taken from the element: it is told of a picture once that is
 * on the screen, and by the time it stands still it has shown one or two more.
 */
const AHEAD_S = 0.1;

/**
 * Whether an element that shows this frame and plays on must be stopped to stay in the stretch.
 * @param {import("../core/frametable.js").FrameTable} table
 * @param {{first: number, last: number}} stretch @param {number} frame @param {number} rate
 */
export function nearsEnd(table, { first, last }, frame, rate) {
  const ahead = AHEAD_S * rate * table.timescale;
  return frame < first || table.endTick(frame) + ahead > table.startTick(last);
}

/**
 * The end of a stretch where no pictures are decoded here: each is gone to by the same clock, so
 * that the last one is seen and none beyond it; at the first one the element plays on.
 * @param {import("./frame-position.js").FramePosition} position
 * @param {import("../core/frametable.js").FrameTable} table
 * @param {{first: number, last: number}} stretch
 * @param {() => number} rate @param {() => void} play
 */
export function playToEnd(position, table, stretch, rate, play) {
  /** @type {number|null} what the video was last sent to */
  let target = null;
  let isBackAtStart = false;
  const show = (/** @type {number} */ frame) => {
    if (position.busy) return false;
    if (target !== null) {
      target = null;
      isBackAtStart = frame === stretch.first;
      return !isBackAtStart;
    }
    // What the element showed before it stood still is not gone back to.
    if (frame === position.shown || (frame < position.shown && frame > stretch.first)) return true;
    target = frame;
    void position.goTo(frame);
    return false;
  };
  return new DecodedPlayback(table, stretch, rate, show, () => !isBackAtStart, play);
}
