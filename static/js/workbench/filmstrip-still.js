// @ts-check
import { h } from "../core/dom.js";

/**
 * The still of the filmstrip nearest in time to a frame, as an element `height` pixels high.
 * @param {import("../core/types.js").Filmstrip} film
 * @param {import("../core/frametable.js").FrameTable} table
 * @param {number} frame @param {number} height
 */
export function still(film, table, frame, height) {
  const { url, columns, count, frames, tile_width, tile_height } = film;
  const width = (tile_width / tile_height) * height;
  const far = (/** @type {number} */ other) =>
    Math.abs(table.start(table.clamp(other)) - table.start(frame));
  const index = frames.reduce((best, other, at) => (far(other) < far(frames[best]) ? at : best), 0);
  const tile = h("i.still", { "aria-hidden": "true" });
  tile.style.setProperty("width", `${width}px`);
  tile.style.setProperty("height", `${height}px`);
  tile.style.setProperty("background-image", `url("${url}")`);
  tile.style.setProperty(
    "background-size",
    `${columns * width}px ${Math.ceil(count / columns) * height}px`,
  );
  const [column, row] = [index % columns, Math.floor(index / columns)];
  tile.style.setProperty("background-position", `${-column * width}px ${-row * height}px`);
  return tile;
}
