// @ts-check
/**
 * Where the clip stops, without a page.
 * @typedef {{number: number, note: string, clip: string, frame: number, title: string, cue: string}} Stop
 */

/** @param {Stop[]} stops @param {{id: string}[]} clips @returns {Stop[]} as they come by when played */
export function inPlayingOrder(stops, clips) {
  const place = new Map(clips.map((clip, at) => [clip.id, at]));
  const of = (/** @type {Stop} */ stop) => place.get(stop.clip) ?? clips.length;
  return [...stops].sort((a, b) => of(a) - of(b) || a.frame - b.frame || a.number - b.number);
}

/**
 * The first stop that playing has just come to: later than the frame shown before, and not later
 * than the one shown now. Players skip pictures, so a stop's own frame may never have been told.
 * @param {Stop[]} stops of the clip that plays, in playing order @param {number} before -1 at the
 *   start @param {number} now
 */
export function reached(stops, before, now) {
  return stops.find((stop) => before < stop.frame && stop.frame <= now);
}

/**
 * Push marks on a track apart so that each can be hit, keeping their order and the track's ends.
 * @param {number[]} at wished places, rising, 0 to `width` @param {number} width @param {number} gap
 * @returns {number[]}
 */
export function apart(at, width, gap) {
  const room = at.length > 1 ? Math.min(gap, width / (at.length - 1)) : gap;
  /** @type {number[]} */
  const placed = [];
  for (const place of at) placed.push(Math.max(place, placed.length ? placed[placed.length - 1] + room : 0));
  for (let i = placed.length - 1, end = width; i >= 0; i -= 1, end -= room) placed[i] = Math.min(placed[i], end);
  return placed;
}
