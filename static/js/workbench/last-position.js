// @ts-check
/**
 * Where a coach was in a review: kept by this tab while it is open, so that the page comes back to
 * the same frame after the correction page, the desk or a reload.
 * @typedef {{clip: string, frame: number, rep: number|null, note: string|null}} Position
 */

/**
 * @param {string} key of the review and the reader
 * @param {import("../core/types.js").Review} review
 * @returns {Position|null} null when this tab has none, or its clip is gone
 */
export function lastPosition(key, review) {
  const position = read(key);
  return position && review.clips.some(({ id }) => id === position.clip) ? position : null;
}

/**
 * Keep the position when the page is left.
 * @param {string} key @param {import("./workbench-part.js").WorkbenchStore} store
 * @param {import("../player/exact-player.js").ExactPlayer} player
 */
export function keepPosition(key, store, player) {
  addEventListener("pagehide", () => {
    const { clip, rep, note } = store.state;
    const position = { clip, rep, note, frame: player.destination };
    try {
      sessionStorage.setItem(key, JSON.stringify(position));
    } catch (error) {
      console.warn(error); // storage is switched off: the page opens at the beginning
    }
  });
}

/** @param {string} key @returns {Position|null} */
function read(key) {
  try {
    return JSON.parse(sessionStorage.getItem(key) ?? "null");
  } catch (error) {
    console.warn(error);
    return null;
  }
}
