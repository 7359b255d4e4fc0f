// @ts-check
/** Between the controls of a `[data-field]` and the value that is saved. */

/** @typedef {HTMLInputElement|HTMLTextAreaElement|HTMLSelectElement} Control */

/** @param {Element} field @param {string} [which] @returns {Control[]} */
function controls(field, which = "input, textarea, select") {
  return /** @type {Control[]} */ ([...field.querySelectorAll(which)]);
}

/** @param {Element} field @param {string} which @returns {string} */
function checkedValue(field, which) {
  return /** @type {HTMLInputElement|null} */ (field.querySelector(`${which}:checked`))?.value ?? "";
}

/** @param {Element} field @param {string} [which] @returns {string[]} */
function checkedValues(field, which = "input[type=checkbox]") {
  return controls(field, `${which}:checked`).map((box) => box.value);
}

/** @param {Element} field @param {string} id */
function valueOf(field, id) {
  return controls(field, `[id^="${id}"]`)[0].value.trim();
}

/** @type {Record<string, (field: Element) => any>} */
const READ = {
  text: (field) => controls(field)[0].value,
  choice: (field) => checkedValue(field, "input"),
  list: (field) => checkedValues(field),
  flag: (field) => controls(field, "input:checked").length > 0,
  load: (field) => ({ value: valueOf(field, "load"), unit: checkedValue(field, "input[type=radio]") }),
  pain: (field) => checkedValue(field, "[name=hurts]") !== "yes" ? null : {
    where: valueOf(field, "pain-where"),
    score: valueOf(field, "pain-score"),
    since: valueOf(field, "pain-since"),
    signs: checkedValues(field, "[name=sign]"),
  },
};

/** @type {Record<string, (field: Element, value: any) => void>} */
const WRITE = {
  text: (field, value) => { controls(field)[0].value = value ?? ""; },
  choice: (field, value) => check(field, "input", [value ?? ""]),
  list: (field, value) => check(field, "input", value),
  flag: (field, value) => { /** @type {HTMLInputElement} */ (controls(field)[0]).checked = value; },
  load: (field, { value, unit }) => {
    controls(field)[0].value = value;
    check(field, "input[type=radio]", [unit]);
  },
  pain: (field, value) => {
    check(field, "[name=hurts]", [value ? "yes" : ""]);
    for (const part of ["where", "score", "since"]) {
      controls(field, `#pain-${part}`)[0].value = value?.[part] ?? "";
    }
    check(field, "[name=sign]", value?.signs ?? []);
  },
};

/** @param {Element} field @param {string} which @param {string[]} values */
function check(field, which, values) {
  for (const box of controls(field, which)) {
    /** @type {HTMLInputElement} */ (box).checked = values.includes(box.value);
  }
}

/** @param {HTMLElement} field */
export function read(field) {
  return READ[field.dataset.kind ?? "text"](field);
}

/** @param {HTMLElement} field @param {any} value */
export function write(field, value) {
  WRITE[field.dataset.kind ?? "text"](field, value);
}

/** @param {Element} root @returns {HTMLElement[]} */
export function fieldsOf(root) {
  return /** @type {HTMLElement[]} */ ([...root.querySelectorAll("[data-field]")]);
}

/**
 * Show the sentences beside their fields, and take away those that no longer hold.
 * @param {Element} root @param {Record<string, string>} wrong field name -> sentence
 * @param {string} [except] lines that belong to somebody else
 */
export function showErrors(root, wrong, except = "") {
  for (const line of /** @type {NodeListOf<HTMLElement>} */ (root.querySelectorAll("[data-err]"))) {
    if (except && line.matches(except)) continue;
    const name = line.dataset.err ?? "";
    const why = wrong[name] ?? "";
    line.hidden = !why;
    if (line.textContent !== why) line.replaceChildren(...(why ? [mark(), span(why)] : []));
    const field = root.querySelector(`[data-field="${name}"]`) ?? line.closest(".field");
    field?.classList.toggle("wrong", Boolean(why));
    for (const control of field ? controls(field) : []) tie(control, line, Boolean(why));
  }
}

/** @param {Control} control @param {HTMLElement} line @param {boolean} wrong */
function tie(control, line, wrong) {
  line.id ||= `${control.id || control.name}-error`;
  if (wrong) {
    control.setAttribute("aria-invalid", "true");
    control.setAttribute("aria-describedby", line.id);
  } else if (control.getAttribute("aria-describedby") === line.id) {
    control.removeAttribute("aria-invalid");
    control.removeAttribute("aria-describedby");
  }
}

/** @param {string} text */
function span(text) {
  const element = document.createElement("span");
  element.textContent = text;
  return element;
}

/** The attention shape, as the templates draw it. */
function mark() {
  return symbol("attention");
}

/** @param {string} name of a shape in icons.svg @returns {SVGElement} */
export function symbol(name) {
  const any = document.querySelector("use[href*='icons']")?.getAttribute("href") ?? "";
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  svg.setAttribute("class", "icon");
  svg.setAttribute("viewBox", "0 0 16 16");
  svg.setAttribute("aria-hidden", "true");
  const use = document.createElementNS("http://www.w3.org/2000/svg", "use");
  use.setAttribute("href", `${any.split("#")[0]}#${name}`);
  svg.append(use);
  return svg;
}
