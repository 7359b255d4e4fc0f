// @ts-check
/** The end of a session: what is open, how long it took, and how hard it was as a whole. */

import { h } from "../core/dom.js";
import { left, minutesOf } from "./training-day.js";
import { Stepper } from "./stepper.js";
import { counted } from "./labels.js";

/** @typedef {{log: import("./training-day.js").Log|null, parts: import("./training-day.js").Part[],
 *   efforts: {value: number, word: string}[], today: string}} View */

export class SessionEnd extends HTMLElement {
  #drawn = "";

  /** @param {View} view */
  show({ log, parts, efforts, today }) {
    const done = log?.sets.length ?? 0;
    this.hidden = !log || (done === 0 && !log.finished_at);
    if (!log || this.hidden) return;
    const open = parts.reduce((sum, part) => sum + left(part), 0);
    const state = log.finished_at ? `${log.id} finished` : `${log.id} open ${done} ${open}`;
    if (state === this.#drawn) return; // its fields keep what is being filled in
    this.#drawn = state;
    this.className = "page-section";
    this.replaceChildren(...(log.finished_at ? this.#finished(log, efforts, today) : this.#open(open)));
  }

  /** @param {number} open */
  #open(open) {
    const hint = open ? `${counted(open, "set")} of the plan ${open === 1 ? "is" : "are"} open. What you skip stays visible as not done; nothing is lost.` : "Every planned set is logged.";
    return [
      h("header", {}, h("h2", {}, "Done for today?"), h("p", {}, hint)),
      h(open ? "button.btn.wide" : "button.btn.primary.wide", { type: "button", onclick: () => this.#emit("finish", { finished_at: new Date().toISOString() }) }, "Finish session"),
    ];
  }

  /** @param {import("./training-day.js").Log} log @param {{value: number, word: string}[]} efforts @param {string} today */
  #finished(log, efforts, today) {
    const between = minutesOf(log);
    const minutes = new Stepper({ name: "minutes", unit: "min", value: log.minutes === null ? null : String(log.minutes), step: 5, least: 1, most: 600, first: between ?? 60, typed: true }, () => {
      if (!minutes.wrong) this.#emit("finish", { minutes: minutes.value === null ? null : Math.round(Number(minutes.value)) });
    });
    const chosen = log.session_rpe === null ? null : Number(log.session_rpe);
    const note = /** @type {HTMLTextAreaElement} */ (h("textarea.input.short", { maxlength: "2000", rows: "2", onchange: () => this.#emit("finish", { note: note.value.trim() }) }, log.note));
    const day = /** @type {HTMLInputElement} */ (h("input.input", { type: "date", value: log.day, max: today, onchange: () => day.value && day.value <= today && this.#emit("finish", { day: day.value }) }));
    const scale = efforts.map(({ value, word }) => this.#effort(value, word, value === chosen));
    return [
      h("header", {}, h("h2", {}, "How was it as a whole?"), h("p", {}, "The whole session, not the last set. Half an hour after it is a good moment: you can leave this and come back. Unrated stays a gap in your load, not a rest.")),
      h("fieldset.efforts", {}, h("legend.label", {}, "How hard was the session?"), ...scale),
      h("p.label", {}, "How long did it take?"),
      h("p.last", {}, "Not filled in, the minutes stay unknown, and so does the session's load."),
      minutes.element,
      ...(between === null ? [] : [h("div.others", {}, h("button.btn.quiet", { type: "button", onclick: () => minutes.set(String(between)) }, `Take ${between} min, first to last set`))]),
      h("label.field.day", {}, h("span.label", {}, "Trained on"), day),
      h("label.field", {}, h("span.label", {}, "Note on the session"), note),
      h("div.others", {}, this.#quiet("Train on", "finish", { finished_at: null }), this.#quiet("Take the session out of the log", "remove", {})),
    ];
  }

  /** @param {number} value @param {string} word @param {boolean} checked */
  #effort(value, word, checked) {
    const input = h("input", { type: "radio", name: "session-rpe", value: String(value), checked, onchange: () => this.#emit("finish", { session_rpe: String(value) }) });
    return h("label", {}, input, h("b", {}, String(value)), " ", h("span", {}, word));
  }

  /** @param {string} label @param {string} action @param {Record<string, any>} detail */
  #quiet(label, action, detail) {
    return h("button.btn.quiet", { type: "button", onclick: () => this.#emit(action, detail) }, label);
  }

  /** @param {string} action @param {Record<string, any>} detail */
  #emit(action, detail) {
    this.dispatchEvent(new CustomEvent(`session-${action}`, { bubbles: true, detail }));
  }
}

customElements.define("session-end", SessionEnd);
