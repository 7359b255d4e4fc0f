// @ts-check
/** A block of cells as text: tabs between cells, lines between rows, as every spreadsheet pastes. */

/** @param {string[][]} rows @returns {string} */
export function asText(rows) {
  return rows.map((row) => row.join("\t")).join("\n");
}

/** @param {string} text @returns {string[][]} */
export function asRows(text) {
  const lines = text.replace(/\r\n?/g, "\n").replace(/\n$/, "").split("\n");
  return lines.map((line) => line.split("\t").map((cell) => cell.trim()));
}

/**
 * Where pasted texts go: from the picked corner, or over and over through a larger picked block.
 * @param {string[][]} rows
 * @param {{top: number, left: number, bottom: number, right: number}} picked
 * @returns {{row: number, column: number, text: string}[]}
 */
export function spread(rows, { top, left, bottom, right }) {
  const width = Math.max(...rows.map((row) => row.length));
  const [tall, wide] = [bottom - top + 1, right - left + 1];
  const repeats = tall % rows.length === 0 && wide % width === 0;
  const [down, across] = repeats ? [tall, wide] : [rows.length, width];
  const cells = [];
  for (let y = 0; y < down; y += 1)
    for (let x = 0; x < across; x += 1) {
      const text = rows[y % rows.length][x % width];
      if (text !== undefined) cells.push({ row: top + y, column: left + x, text });
    }
  return cells;
}
