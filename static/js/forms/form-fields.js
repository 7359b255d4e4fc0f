// @ts-check
/** Between the controls of a plain form and the names and values that are kept of it. */

/** Never kept: what is secret, what is a file, and what the server wrote into the form. */
const LEFT_OUT = "[type=hidden], [type=password], [type=file], [type=submit], [type=button], button, fieldset, output";

/** @param {HTMLFormElement} form */
function controls(form) {
  return /** @type {(HTMLInputElement|HTMLTextAreaElement|HTMLSelectElement)[]} */ ([...form.elements]).filter((control) => control.name && !control.matches(LEFT_OUT));
}

/** @param {Element} control @returns {control is HTMLInputElement} */
function isTicked(control) {
  return control.matches("[type=checkbox], [type=radio]");
}

/** @param {HTMLFormElement} form @returns {[string, string][]} */
export function readFields(form) {
  return controls(form).flatMap((control) => valuesOf(control).map((value) => /** @type {[string, string]} */ ([control.name, value])));
}

/** @param {HTMLInputElement|HTMLTextAreaElement|HTMLSelectElement} control @returns {string[]} */
function valuesOf(control) {
  if (isTicked(control)) return control.checked ? [control.value] : [];
  if (control instanceof HTMLSelectElement) return [...control.selectedOptions].map(({ value }) => value);
  return [control.value];
}

/** @param {HTMLFormElement} form @param {[string, string][]} fields */
export function writeFields(form, fields) {
  const values = new Map();
  for (const [name, value] of fields) values.set(name, [...(values.get(name) ?? []), value]);
  for (const control of controls(form)) {
    const found = values.get(control.name) ?? [];
    if (isTicked(control)) control.checked = found.includes(control.value);
    else if (control instanceof HTMLSelectElement) for (const option of control.options) option.selected = found.includes(option.value);
    else if (found.length) control.value = found.shift();
  }
}
