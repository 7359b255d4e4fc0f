// @ts-check
import { h } from "../core/dom.js";
import { dayWords, decimalOf, state, withUnit } from "./labels.js";

/** The day's body weight: one number, kept like a set. */
export class BodyWeightForm extends HTMLElement {
  #drawn = "";

  /** @param {{today: string, unit: string, weights: {day: string, weight: string, waits?: boolean, refused?: string}[]}} view */
  show({ today, unit, weights }) {
    const now = weights.find(({ day }) => day === today);
    const before = weights.find(({ day }) => day < today);
    const view = JSON.stringify([today, unit, now, before]);
    if (view === this.#drawn) return;
    this.#drawn = view;
    this.className = "page-section";
    const field = /** @type {HTMLInputElement} */ (h("input.input", { inputmode: "decimal", autocomplete: "off", value: now?.weight ?? "", "aria-label": `Body weight today, ${unit}`, placeholder: before?.weight ?? "" }));
    const error = h("p.err", { role: "alert" }, now?.refused ?? "");
    const save = (/** @type {Event} */ event) => {
      event.preventDefault();
      const weight = field.value.trim() === "" ? null : decimalOf(field.value);
      error.textContent = field.value.trim() && weight === null ? "Write the weight as a number, like 82.4." : "";
      if (!error.textContent) this.dispatchEvent(new CustomEvent("weighed", { bubbles: true, detail: { weight } }));
    };
    const last = before ? h("p", {}, `${dayWords(before.day)}: `, withUnit(before.weight, unit)) : h("p", {}, "Optional. It stands beside your lifts over the weeks.");
    const where = now && (now.waits ? state("attention", "paused", "kept here") : state("good", "done", "logged"));
    this.replaceChildren(
      h("header", {}, h("h2", {}, "Body weight"), last),
      h("form.weigh", { novalidate: true, onsubmit: save }, h("span.withunit", {}, field, h("span.u", { "aria-hidden": "true" }, unit)), h("button.btn", { type: "submit" }, "Save"), where),
      error,
    );
  }
}

customElements.define("body-weight", BodyWeightForm);
