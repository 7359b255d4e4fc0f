// @ts-check
/**
 * @typedef {{key: string, shiftKey: boolean, ctrlKey: boolean, altKey: boolean, metaKey: boolean}} Stroke
 */

/**
 * A key as written in the key table: "n", "Shift+ArrowLeft", "Space", "Ctrl+Shift+Z". The command
 * key of a Mac counts as Ctrl.
 * @param {Stroke} stroke
 */
export function written({ key, shiftKey, ctrlKey, metaKey }) {
  if (key === " ") return "Space";
  const named = key.length > 1;
  if (ctrlKey || metaKey) return `Ctrl+${shiftKey ? "Shift+" : ""}${named ? key : key.toUpperCase()}`;
  return shiftKey && named ? `Shift+${key}` : named ? key : key.toLowerCase();
}

/** What a focused control does with a key by itself; taking it away would break the control. */
const OWN = {
  free: /^$/,
  button: /^(Space|Enter)$/,
  control: /^(Space|Enter|Home|End|(Shift\+)?Arrow.*)$/,
  typing: /^(?!(Escape|Ctrl\+Enter)$)/,
};

/**
 * @param {Record<string, string>} table key as written -> command name
 * @param {Stroke} stroke
 * @param {keyof typeof OWN} where what has the focus: a text field, a set of radios, a button or
 *   link, or none of these
 * @param {boolean} [letters] false when keys of one character are switched off (WCAG 2.1.4)
 * @returns {string|null} the command meant, if any
 */
export function meant(table, stroke, where, letters = true) {
  if (stroke.altKey) return null;
  const key = written(stroke);
  if (OWN[where].test(key) || (!letters && key.length === 1)) return null;
  return Object.hasOwn(table, key) ? table[key] : null;
}
