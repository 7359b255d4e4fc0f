// @ts-check
/**
 * A stretch of frames to play again and again, first and last inclusive.
 * @typedef {{first: number, last: number}} Loop
 */

/**
 * One end of a loop set to a frame; the other end is kept, or is the clip's own.
 * @param {Loop|null} loop @param {"first"|"last"} end @param {number} frame @param {number} last of the clip
 * @returns {Loop}
 */
export function withEnd(loop, end, frame, last) {
  const now = loop ?? { first: 0, last };
  return end === "first"
    ? { first: frame, last: Math.max(frame, now.last) }
    : { first: Math.min(frame, now.first), last: frame };
}

/**
 * The marked rep after or before a frame, or null.
 * @param {{first_frame: number|null, rep: number}[]} calls of one clip @param {number} frame @param {1|-1} by
 */
export function repBeside(calls, frame, by) {
  const starts = calls
    .filter((call) => call.first_frame !== null)
    .sort((a, b) => Number(a.first_frame) - Number(b.first_frame));
  return by > 0
    ? (starts.find((call) => Number(call.first_frame) > frame) ?? null)
    : (starts.findLast((call) => Number(call.first_frame) < frame) ?? null);
}
