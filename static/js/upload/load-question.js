// @ts-check
/** The question about a load far above what is known, which the server asks, and its answer. */

import { read } from "./draft-fields.js";

/** The field of the API that answers it, under which the server asks. */
export const LOAD_CONFIRMED = "load_confirmed";

/** @param {Element} clip @param {string} name */
function field(clip, name) {
  return /** @type {HTMLElement} */ (clip.querySelector(`[data-field="${name}"]`));
}

/**
 * A load is right or wrong for its movement, so the two are saved together. All three are always
 * named: a later change is laid over an earlier one, and a yes to 250 kg is none to 300.
 * @param {import("./draft-changes.js").DraftChanges|null} changes @param {HTMLElement} clip @param {boolean} [confirmed]
 */
export function saveLoad(changes, clip, confirmed = false) {
  const others = { movement: read(field(clip, "movement")), [LOAD_CONFIRMED]: confirmed };
  changes?.put(clip.dataset.url ?? "", "load", read(field(clip, "load")), others);
}

/** @param {Element} clip @param {boolean} isAsked */
export function drawAnswer(clip, isAsked) {
  const button = /** @type {HTMLElement|null} */ (clip.querySelector('[data-tool="confirm-load"]'));
  if (!button) return;
  button.hidden = !isAsked;
  const { value, unit } = read(field(clip, "load"));
  const text = `Yes, ${value}\u2009${unit}`;
  if (isAsked && button.textContent !== text) button.textContent = text;
}

/** The keyboard's place while the button goes; a radio, so that no phone opens its keys. @param {Element} clip */
export function leaveAnswer(clip) {
  /** @type {HTMLElement|null} */ (field(clip, "load").querySelector("[type=radio]:checked"))?.focus();
}
