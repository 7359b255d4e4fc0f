// @ts-check
import { written } from "../core/keymap.js";

/** The grid's keys, as a grid has them everywhere (ARIA Authoring Practices, grid pattern). @type {Record<string, string>} */
export const KEYS = {
  ArrowUp: "up",
  ArrowDown: "down",
  ArrowLeft: "left",
  ArrowRight: "right",
  "Shift+ArrowUp": "growUp",
  "Shift+ArrowDown": "growDown",
  "Shift+ArrowLeft": "growLeft",
  "Shift+ArrowRight": "growRight",
  Home: "first",
  End: "last",
  Enter: "edit",
  F2: "edit",
  Delete: "clear",
  Backspace: "clear",
  Escape: "drop",
  "Ctrl+Z": "undo",
  "Ctrl+Shift+Z": "redo",
  "Ctrl+Y": "redo",
};

/**
 * @param {KeyboardEvent} event
 * @returns {string|null} what is meant; "type" where a character begins to replace the cell
 */
export function meant(event) {
  if (event.altKey) return null;
  const key = written(event);
  if (Object.hasOwn(KEYS, key)) return KEYS[key];
  const types = event.key.length === 1 && event.key !== " " && !event.ctrlKey && !event.metaKey;
  return types ? "type" : null;
}
