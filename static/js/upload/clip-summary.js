// @ts-check
/** What a clip's own fields say back: one line for when they are folded, and what its view can show. */

const NO_LIFT = "Other"; // the guide's words for a movement that is not named yet

/** "High-bar squat, 100 kg × 3". @param {Element} clip */
export function summary(clip) {
  const line = clip.querySelector("[data-summary]");
  if (!line) return;
  const text = setLabel(clip) || "Nothing said yet";
  if (line.textContent !== text) line.textContent = text;
}

/** @param {Element} clip */
export function viewShows(clip) {
  const view = /** @type {HTMLInputElement|null} */ (clip.querySelector('[data-field="view"] :checked'))?.value;
  const picked = /** @type {HTMLSelectElement|null} */ (clip.querySelector('[data-field="movement"] select'));
  const group = picked?.value ? picked.selectedOptions[0].closest("optgroup") : null;
  const lift = group?.label ?? NO_LIFT;
  for (const hint of /** @type {NodeListOf<HTMLElement>} */ (clip.querySelectorAll("[data-shows]"))) {
    hint.hidden = hint.dataset.shows !== view || hint.dataset.lift !== lift;
  }
}

/** @param {Element} clip */
function setLabel(clip) {
  const picked = /** @type {HTMLSelectElement} */ (clip.querySelector('[data-field="movement"] select'));
  const movement = picked.value ? picked.selectedOptions[0].text : "";
  const load = value(clip, "load");
  const unit = /** @type {HTMLInputElement|null} */ (clip.querySelector('[data-field="load"] :checked'))?.value ?? "";
  const reps = value(clip, "reps");
  const set = [load && `${load}\u2009${unit}`, reps && `×\u00a0${reps}`].filter(Boolean).join("\u00a0");
  return [movement, set].filter(Boolean).join(", ");
}

/** @param {Element} clip @param {string} name */
function value(clip, name) {
  return /** @type {HTMLInputElement} */ (clip.querySelector(`[data-field="${name}"] input`)).value.trim();
}
