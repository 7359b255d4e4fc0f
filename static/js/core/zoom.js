// @ts-check
/**
 * What part of the clip is seen. `scale` is 1 to MOST; x and y are the middle of what is seen, as
 * shares of the clip's width and height. Pure; every change gives a new view that stays inside.
 * @typedef {{scale: number, x: number, y: number}} View
 */

export const MOST = 6;
/** The sizes that a key or a button goes through. */
export const SIZES = [1, 1.5, 2, 3, 4, MOST];
/** @type {View} */
export const WHOLE = { scale: 1, x: 0.5, y: 0.5 };

/** @param {View} view the nearest one that shows nothing beyond the clip @returns {View} */
export function inside({ scale, x, y }) {
  const size = Math.min(MOST, Math.max(1, scale));
  const edge = 0.5 / size;
  const held = (/** @type {number} */ at) => Math.min(1 - edge, Math.max(edge, at));
  return { scale: size, x: held(x), y: held(y) };
}

/**
 * Another size, with one point of the clip staying where it is on the screen.
 * @param {View} view @param {number} scale @param {{x: number, y: number}} [point] shares of the
 *   clip; the middle of what is seen when left out
 */
export function sized(view, scale, point = view) {
  const next = Math.min(MOST, Math.max(1, scale));
  const share = view.scale / next;
  return inside({
    scale: next,
    x: point.x + (view.x - point.x) * share,
    y: point.y + (view.y - point.y) * share,
  });
}

/** The next size up or down. @param {View} view @param {1|-1} by */
export function stepped(view, by) {
  const sizes = by > 0 ? SIZES : SIZES.toReversed();
  const next = sizes.find((size) => (by > 0 ? size > view.scale + 1e-9 : size < view.scale - 1e-9));
  return next === undefined ? view : sized(view, next);
}

/** Move by shares of what is seen. @param {View} view @param {number} right @param {number} down */
export function moved(view, right, down) {
  const { scale, x, y } = view;
  return inside({ scale, x: x + right / scale, y: y + down / scale });
}

/** For CSS, with the origin in the middle. @param {View} view */
export function transformOf({ scale, x, y }) {
  const shift = (/** @type {number} */ at) => `${(0.5 - at) * 100}%`;
  return `scale(${scale}) translate(${shift(x)}, ${shift(y)})`;
}
