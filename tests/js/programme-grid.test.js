import assert from "node:assert/strict";
import { test } from "node:test";

import { asRows, asText, spread } from "../../static/js/programme/cell-block.js";
import { meant } from "../../static/js/programme/grid-keys.js";

const key = (key, held = {}) => ({ key, shiftKey: false, ctrlKey: false, altKey: false, metaKey: false, ...held });

test("a block of cells goes through the clipboard unchanged", () => {
  const rows = [["3x5 @ 80%", ""], ["", "4x6 2rir"]];
  assert.deepEqual(asRows(asText(rows)), rows);
  assert.deepEqual(asRows("3x5\t3x3\r\n2x2\t\r\n"), [["3x5", "3x3"], ["2x2", ""]]);
});

test("a paste goes from the corner, and over and over through a block it fits", () => {
  const at = { top: 2, left: 1, bottom: 2, right: 1 };
  assert.deepEqual(spread([["a", "b"]], at), [
    { row: 2, column: 1, text: "a" },
    { row: 2, column: 2, text: "b" },
  ]);
  const whole = { top: 0, left: 0, bottom: 1, right: 2 };
  assert.equal(spread([["a"]], whole).length, 6);
  assert.equal(spread([["a", "b"]], whole).length, 2); // three columns do not hold pairs
});

test("keys mean what a grid's keys mean, and a character begins to type", () => {
  assert.equal(meant(key("ArrowDown", { shiftKey: true })), "growDown");
  assert.equal(meant(key("z", { ctrlKey: true })), "undo");
  assert.equal(meant(key("z", { metaKey: true, shiftKey: true })), "redo");
  assert.equal(meant(key("3")), "type");
  assert.equal(meant(key("Tab")), null); // leaves the grid
  assert.equal(meant(key("c", { ctrlKey: true })), null); // the clipboard's own event
});
