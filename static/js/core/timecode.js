// @ts-check
/** Thin space between number and unit, as everywhere in the house. */
const THIN = "\u2009";

/** @param {number} seconds @returns {string} "9.008 s" */
export function seconds(seconds) {
  return `${seconds.toFixed(3)}${THIN}s`;
}

/**
 * @param {import("./frametable.js").FrameTable} table
 * @param {number} frame
 * @returns {string} "frame 214, 9.008 s", for a label or a screen reader
 */
export function moment(table, frame) {
  return `frame ${frame}, ${seconds(table.start(frame))}`;
}

/**
 * A note's place in words.
 * @param {{first_frame: number, last_frame: number, rep: number|null}} note
 * @returns {string} "rep 3, frame 214" or "frames 180 to 214"
 */
export function place({ first_frame, last_frame, rep }) {
  const frames =
    first_frame === last_frame ? `frame ${first_frame}` : `frames ${first_frame} to ${last_frame}`;
  return rep ? `rep ${rep}, ${frames}` : frames;
}

/**
 * Step between the marks of a time axis, so that about `wanted` of them fit.
 * @param {number} span seconds @param {number} wanted
 */
export function tickStep(span, wanted) {
  const steps = [0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600];
  return steps.find((step) => span / step <= wanted) ?? 600;
}
