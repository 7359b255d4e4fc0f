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

/** What a focused control does with a key by itself; taking it away would break the control. */
const OWN = {
  free: /^$/,
  button: /^(Space|Enter)$/,
  control: /^(Space|Enter|Home|End|(Shift\+)?Arrow.*)$/,
  typing: /^(?!Escape$)/,
};

/**
 * @param {Record<string, string>} table key as written -> command name
 * @param {Stroke} stroke
 * @param {keyof typeof OWN} where what has the focus: a text field, a set of radios, a button or
 *   link, or none of these
 * @returns {string|null} the command meant, if any
 */
export function meant(table, stroke, where) {
  if (stroke.ctrlKey || stroke.altKey || stroke.metaKey) return null;
  const key = written(stroke);
  if (OWN[where].test(key)) return null;
  return Object.hasOwn(table, key) ? table[key] : null;
}
