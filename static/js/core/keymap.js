// @ts-check
/**
 * @typedef {{key: string, shiftKey: boolean, ctrlKey: boolean, altKey: boolean, metaKey: boolean}} Stroke
 */

/** A key as written in the key table: "n", "Shift+ArrowLeft", "Space". @param {Stroke} stroke */
export function written({ key, shiftKey }) {
  if (key === " ") return "Space";
  const named = key.length > 1;
  return shiftKey && named ? `Shift+${key}` : named ? key : key.toLowerCase();
}

/**
 * @param {Record<string, string>} table key as written -> command name
 * @param {Stroke} stroke
 * @param {"free"|"typing"|"control"} where typing: a text field has the focus, every key is
 *   text; control: a button, list or radio has it, and the keys that work it stay its own
 * @returns {string|null} the command meant, if any
 */
export function meant(table, stroke, where) {
  if (stroke.ctrlKey || stroke.altKey || stroke.metaKey || where === "typing") return null;
  const key = written(stroke);
  if (where === "control" && (key === "Space" || key === "Enter" || key.startsWith("Arrow"))) return null;
  return Object.hasOwn(table, key) ? table[key] : null;
}
