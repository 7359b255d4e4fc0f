// @ts-check
/** A number between two thumbs: less, the number, more. The load can also be typed. */

import { h } from "../core/dom.js";
import { decimalOf } from "./labels.js";

/**
 * @typedef {{name: string, unit: string, value: string|null, step: number, least: number,
 *   most: number, first?: number, typed?: boolean, none?: string}} Facts
 *   `first`: what the first press gives where there is no number yet; `none`: shown instead
 */
export class Stepper {
  /** @param {Facts} facts @param {() => void} changed */
  constructor(facts, changed) {
    this.facts = facts;
    this.value = facts.value;
    this.changed = changed;
    const { name, unit } = facts;
    this.field = facts.typed
      ? h("input", { inputmode: "decimal", autocomplete: "off", "aria-label": `${name}, ${unit}`, oninput: () => this.#read() })
      : h("output", { "aria-label": name });
    const less = h("button", { type: "button", "aria-label": `Less ${name}`, onclick: () => this.#by(-1) }, "\u2212");
    const more = h("button", { type: "button", "aria-label": `More ${name}`, onclick: () => this.#by(1) }, "+");
    const middle = facts.typed ? h("label.typed", {}, this.field, h("span.u", { "aria-hidden": "true" }, unit)) : this.field;
    this.element = h("div.stepper", { role: "group", "aria-label": name }, less, middle, more);
    this.#draw();
  }

  /** @param {number} direction */
  #by(direction) {
    const { step, least, most, first } = this.facts;
    const from = Number(this.value ?? "");
    const start = this.value === null || this.value === "" ? (first ?? least) : from + direction * step;
    const value = Math.min(most, Math.max(least, start));
    this.set(String(Math.round(value * 1000) / 1000));
  }

  #read() {
    const text = /** @type {HTMLInputElement} */ (this.field).value;
    this.value = text.trim() === "" ? null : decimalOf(text);
    this.wrong = text.trim() !== "" && this.value === null;
    this.field.setAttribute("aria-invalid", String(this.wrong));
    this.changed();
  }

  wrong = false;

  /** @param {string|null} value */
  set(value) {
    this.value = value;
    this.wrong = false;
    this.#draw();
    this.changed();
  }

  #draw() {
    const { unit, none = "" } = this.facts;
    if (this.field instanceof HTMLInputElement) {
      this.field.value = this.value ?? "";
      this.field.setAttribute("aria-invalid", "false");
    } else if (this.value === null) this.field.replaceChildren(h("span.none", {}, none), "\u2009", h("span.u", {}, unit));
    else this.field.replaceChildren(this.value, "\u2009", h("span.u", {}, unit));
  }
}
