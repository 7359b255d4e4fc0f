// @ts-check
/** One set: as prescribed with one tap, or changed first. The same form corrects a logged one. */

import { h } from "../core/dom.js";
import { oneSide, sideLabel, stepOf } from "./plate-loading.js";
import { Stepper } from "./stepper.js";
import { repMarks } from "./labels.js";

/**
 * @typedef {{load: string|null, reps: number, missed_reps: number, rpe: string|null, note: string,
 *   load_confirmed?: boolean}} SetValues
 * @typedef {{title: string, button: string, start: SetValues, prescribedReps: number, unit: string,
 *   plates: import("./plate-loading.js").Plates, side: string[]|null, effort: string|null,
 *   removes: boolean, questionOf: (load: string|null) => string}} Ask
 *   `questionOf`: what to ask about a load before it is logged, "" for nothing
 */
export class SetForm extends HTMLElement {
  /** @param {Ask} ask */
  show(ask) {
    this.ask = ask;
    const { start, unit, plates, effort } = ask;
    const again = () => this.#follow();
    const usual = { step: 1, least: 0, most: 200 };
    this.load = new Stepper({ name: "load", unit, value: start.load || null, step: stepOf(plates, unit), least: 0, most: 9999, typed: true }, again);
    this.reps = new Stepper({ ...usual, name: "reps", unit: "reps", value: String(start.reps) }, again);
    this.rpe = new Stepper({ name: "RPE", unit: "RPE", value: start.rpe, step: 0.5, least: 1, most: 10, first: Number(effort ?? 8), none: "–" }, again);
    this.missed = new Stepper({ ...usual, name: "missed reps", unit: "missed", value: String(start.missed_reps) }, () => this.#missed());
    this.#tried = start.reps + start.missed_reps;
    this.side = h("p.last.side");
    this.marks = h("div.marks-row");
    this.note = /** @type {HTMLInputElement} */ (h("input.input", { maxlength: "500", value: start.note, autocomplete: "off" }));
    this.error = h("p.err", { role: "alert" });
    this.question = h("div.question", { role: "alert" });
    this.replaceChildren(this.#form());
    this.#follow();
  }

  #tried = 0;

  #form() {
    const { title, button, removes, start } = /** @type {Ask} */ (this.ask);
    const { load, reps, rpe, missed } = /** @type {Record<string, Stepper>} */ (/** @type {unknown} */ (this));
    missed.element.classList.add("slim");
    return h(
      "form.setform",
      { novalidate: true, onsubmit: (/** @type {Event} */ event) => this.#log(event) },
      h("h3", {}, title),
      load.element,
      this.side,
      h("div.pairs", {}, reps.element, rpe.element),
      h("div.missed", {}, this.marks, missed.element),
      h("details.noted", { open: start.note !== "" }, h("summary", {}, "Note"), h("label", {}, h("span.vh", {}, "Note on this set"), this.note)),
      this.error,
      this.question,
      h("button.btn.primary.wide", { type: "submit", onclick: once, "data-log": "" }, button),
      removes && h("div.others", {}, this.#quiet("Take it out", "removed"), this.#quiet("Leave it as it was", "left")),
    );
  }

  /** @param {string} label @param {string} action */
  #quiet(label, action) {
    return h("button.btn.quiet", { type: "button", onclick: () => this.#emit(action) }, label);
  }

  /** A rep that was missed is one that was not done: the tries stay the same. */
  #missed() {
    const missed = Number(this.missed?.value ?? 0);
    this.reps?.set(String(Math.max(0, this.#tried - missed)));
  }

  #follow() {
    const { plates, unit, start, side, prescribedReps } = /** @type {Ask} */ (this.ask);
    const values = this.values;
    this.#tried = values.reps + values.missed_reps;
    this.marks?.replaceChildren(repMarks(values, prescribedReps));
    const on = values.load === start.load && side ? side : plates.unit === unit && values.load ? oneSide(values.load, plates) : null;
    const bare = values.load && plates.unit === unit && Number(values.load) >= Number(plates.bar);
    const label = on ? sideLabel(on, plates) : bare ? "Your plates do not make this load." : "";
    if (this.side) this.side.textContent = label;
    this.#askAbout("");
  }

  /** Put a question in the place of the button that logs; "" takes it away. @param {string} question */
  #askAbout(question) {
    const button = /** @type {HTMLElement|null} */ (this.querySelector("[data-log]"));
    if (!this.question || !button) return;
    button.hidden = question !== "";
    this.question.replaceChildren(
      ...(question
        ? [
            h("p.err", {}, question),
            h("button.btn.wide", { type: "button", onclick: () => this.#change() }, "Change the load"),
            h("button.btn.wide", { type: "button", onclick: () => this.#emit("logged", { load_confirmed: true }) }, "The load is right"),
          ]
        : []),
    );
    if (question) /** @type {HTMLElement} */ (this.question.querySelector("button")).focus();
  }

  #change() {
    this.#askAbout("");
    const field = /** @type {HTMLInputElement|undefined} */ (this.load?.field);
    field?.focus();
    field?.select();
  }

  /** @returns {SetValues} */
  get values() {
    const { load, reps, rpe, missed, note } = this;
    return {
      load: load?.value ?? null,
      reps: Number(reps?.value ?? 0),
      missed_reps: Number(missed?.value ?? 0),
      rpe: rpe?.value ?? null,
      note: note?.value.trim() ?? "",
    };
  }

  /** @param {Event} event */
  #log(event) {
    event.preventDefault();
    const wrong = this.load?.wrong ? "Write the load as a number, like 62.5." : this.#tried === 0 ? "A set has at least one rep, done or missed." : "";
    if (this.error) this.error.textContent = wrong;
    if (wrong) return;
    const { start, questionOf } = /** @type {Ask} */ (this.ask);
    const { load } = this.values;
    const confirmed = start.load_confirmed === true && Number(start.load) === Number(load);
    const question = confirmed ? "" : questionOf(load);
    if (question) this.#askAbout(question);
    else this.#emit("logged", confirmed ? { load_confirmed: true } : {});
  }

  /** @param {string} action @param {{load_confirmed?: boolean}} [more] */
  #emit(action, more = {}) {
    this.dispatchEvent(new CustomEvent(`set-${action}`, { bubbles: true, detail: { ...this.values, ...more } }));
  }
}

/** A thumb that bounces must not log the next set as well. @param {MouseEvent} event */
function once(event) {
  if (event.detail > 1) event.preventDefault();
}

customElements.define("set-form", SetForm);
