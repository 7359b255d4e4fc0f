// @ts-check
import { sessionOf, showSelection } from "./selection-panel.js";

/** What is picked in a programme's grid: a cell, and the block that reaches from it to another. */
export class GridSelection {
  /** @type {HTMLElement|null} */
  cell = null;
  /** The other corner of the block. @type {HTMLElement|null} */
  #corner = null;

  /** @param {HTMLElement} page that holds the grid */
  constructor(page) {
    this.page = page;
  }

  /** Rows of cells as they stand. @returns {HTMLElement[][]} */
  get rows() {
    const lines = [...this.page.querySelectorAll("tr[data-row]")];
    return lines.map((line) => /** @type {HTMLElement[]} */ ([...line.querySelectorAll("td.cell")]));
  }

  /** @param {HTMLElement|null} cell @returns {[number, number]} row and column */
  #place(cell) {
    const { rows } = this;
    const row = rows.findIndex((cells) => cell !== null && cells.includes(cell));
    return [row, row < 0 ? -1 : rows[row].indexOf(/** @type {HTMLElement} */ (cell))];
  }

  /** @returns {{top: number, left: number, bottom: number, right: number}} */
  get bounds() {
    const [r1, c1] = this.#place(this.cell);
    const [r2, c2] = this.#corner ? this.#place(this.#corner) : [r1, c1];
    return { top: Math.min(r1, r2), left: Math.min(c1, c2), bottom: Math.max(r1, r2), right: Math.max(c1, c2) };
  }

  /** The block, row by row; the cell alone where it reaches nowhere. @returns {HTMLElement[][]} */
  get block() {
    const { top, left, bottom, right } = this.bounds;
    return this.rows.slice(top, bottom + 1).map((cells) => cells.slice(left, right + 1));
  }

  /** @param {HTMLElement} cell */
  pick(cell, focus = true) {
    const old = this.cell;
    if (old && old !== cell) {
      old.tabIndex = -1;
      old.classList.remove("on");
    }
    this.cell = cell;
    this.reach(null);
    cell.tabIndex = 0;
    cell.classList.add("on");
    if (focus) cell.focus();
    showSelection(this.page, cell);
    for (const field of this.page.querySelectorAll("[data-pick]")) {
      if (field instanceof HTMLInputElement) field.value = cell.id;
    }
  }

  /** Let the block reach to another cell. @param {HTMLElement|null} corner */
  reach(corner) {
    this.#corner = corner;
    for (const cell of this.page.querySelectorAll("td.in")) cell.classList.remove("in");
    for (const cell of corner ? this.block.flat() : []) cell.classList.add("in");
  }

  /** To the next cell that is seen that way. @param {number} down @param {number} across @param {boolean} [grow] the block */
  step(down, across, grow = false) {
    let [row, column] = this.#place(grow && this.#corner ? this.#corner : this.cell);
    const { rows } = this;
    do {
      row += down;
      column += across;
    } while (rows[row]?.[column] && !isSeen(rows[row][column]));
    const next = rows[row]?.[column];
    if (!next) return;
    if (grow) this.reach(next);
    else this.pick(next);
    next.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  /** To the row's first or last cell. @param {"first"|"last"} end */
  end(end) {
    const cells = (this.rows[this.#place(this.cell)[0]] ?? []).filter(isSeen);
    const cell = end === "first" ? cells[0] : cells.at(-1);
    if (cell) this.pick(cell);
  }

  /** A fresh cell takes another's place in the page, and here. @param {HTMLElement} old @param {HTMLElement} fresh */
  replace(old, fresh) {
    const had = document.activeElement === old;
    fresh.className += old.classList.contains("in") ? " in" : "";
    old.replaceWith(fresh);
    if (this.#corner === old) this.#corner = fresh;
    if (this.cell !== old) return;
    this.cell = fresh;
    fresh.tabIndex = 0;
    fresh.classList.add("on");
    if (had) fresh.focus();
    showSelection(this.page, fresh);
  }
}

/** @param {HTMLElement} cell whether it is shown and can be picked */
export function isSeen(cell) {
  return Boolean(cell.dataset.key) && cell.offsetParent !== null && sessionOf(cell) !== null;
}
