// @ts-check
/** One movement of the session: what is asked, the cue, the last time, the sets, the coming one. */

import { follow, h } from "../core/dom.js";
import { left, nextSet } from "./training-day.js";
import "./rest-timer.js";
import "./set-form.js";
import { counted, dayWords, repMarks, rpeWords, state, withUnit } from "./labels.js";

/**
 * @typedef {import("./training-day.js").Part} Part
 * @typedef {{part: Part, name: string, unit: string, plates: import("./plate-loading.js").Plates,
 *   last: {day: string, words: string, load: string|null, reps: number}|undefined,
 *   isCurrent: boolean, isFinished: boolean, editing: string, cue: string,
 *   question: (load: string|null, unit: string, edited: Done|undefined) => string}} View
 * @typedef {import("./training-day.js").Done} Done
 */
export class SessionPart extends HTMLElement {
  /** @type {View|undefined} */
  view;
  #form = "";

  #build() {
    this.className = "page-section";
    this.setAttribute("role", "group");
    this.heading = h("h2");
    this.prescription = h("p");
    this.how = h("p.how");
    this.why = h("div.why");
    this.cueLine = h("div.cue");
    this.last = h("p.last");
    this.sets = h("ol.sets");
    this.rest = /** @type {import("./rest-timer.js").RestTimer} */ (h("rest-timer", { hidden: true }));
    this.next = h("div.next");
    this.replaceChildren(h("header", {}, this.heading, this.prescription, this.how, this.why), this.cueLine, this.last, this.sets, this.rest, this.next);
    this.addEventListener("click", (event) => {
      const row = /** @type {Element} */ (event.target).closest("[data-edit]");
      if (row instanceof HTMLElement) this.#emit("edit", { id: row.dataset.edit });
    });
  }

  /** @param {View} view */
  show(view) {
    if (!this.heading) this.#build();
    this.view = view;
    const { part, name, last, isFinished } = view;
    this.setAttribute("aria-label", name);
    this.heading?.replaceChildren(name);
    this.#drawPrescription();
    if (this.last) this.last.textContent = last && !isFinished ? `Last time, ${dayWords(last.day).slice(4)}: ${last.words}` : "";
    if (this.sets) follow(this.sets, part.done, ({ id }) => id, () => h("li"), (row, set, at) => this.#row(row, set, at));
    this.#rest();
    this.#next();
    this.#cue();
  }

  #drawPrescription() {
    const { part: { line }, isFinished } = /** @type {View} */ (this.view);
    if (!line) {
      this.prescription?.replaceChildren("Beside the plan.");
      return;
    }
    const more = [line.tempo && `tempo ${line.tempo}`, line.rest && `rest ${clock(line.rest)}`].filter(Boolean);
    const dose = h("span.nowrap", {}, `${line.sets} × ${line.reps}`);
    const target = line.target === "by feel" || line.target.startsWith("leave") ? `, ${line.target}` : ` at ${line.target}`;
    this.prescription?.replaceChildren(dose, target, more.length ? `, ${more.join(", ")}` : "", ".", line.note ? ` ${line.note}` : "");
    if (line.held) this.prescription?.append(" Held for now by your coach.");
    this.why?.replaceChildren(...line.changes.map(changeWords));
    const plain = line.how.endsWith("as written") || line.how === "by feel";
    if (this.how) this.how.textContent = plain || isFinished ? "" : `${line.how[0].toUpperCase()}${line.how.slice(1)}.`;
  }

  /** @param {HTMLElement} row @param {import("./training-day.js").Done} set @param {number} at */
  #row(row, set, at) {
    const { part, editing } = /** @type {View} */ (this.view);
    const load = set.load === null ? [] : [withUnit(set.load, set.unit), " × "];
    const did = h("span.did", {}, ...load, `${set.reps}${rpeWords(set.rpe)} `, repMarks(set, part.line?.reps ?? 0));
    const where = set.refused ? state("attention", "attention", "not taken") : set.waits ? state("attention", "paused", "kept here") : state("good", "done", "logged");
    row.classList.toggle("now", editing === set.id);
    // The button stays the same one: a tap whose button is taken away meanwhile comes to nothing.
    const button = /** @type {HTMLElement} */ (row.firstElementChild ?? h("button.line", { type: "button", "data-edit": set.id }));
    button.setAttribute("aria-label", `Change set ${at + 1}`);
    button.replaceChildren(h("span.n", {}, String(at + 1)), did, where);
    if (button.parentElement !== row) row.append(button);
    while (button.nextSibling) button.nextSibling.remove();
    if (set.refused) row.append(h("span.last", {}, `${set.refused} Change it, or take it out.`));
    else if (set.overtaken) row.append(h("span.last", {}, "Changed on another phone: these are its numbers."));
    if (set.note) row.append(h("span.last", {}, set.note));
  }

  #rest() {
    const { part, isCurrent, isFinished, editing } = /** @type {View} */ (this.view);
    const set = part.done.at(-1);
    const rests = isCurrent && !isFinished && !editing && set && part.line?.rest;
    if (rests && this.rest) this.rest.count(set.done_at, part.line?.rest ?? 0);
    this.rest?.classList.toggle("off", !rests);
  }

  #next() {
    const { part, isCurrent, isFinished, editing } = /** @type {View} */ (this.view);
    const edited = part.done.find(({ id }) => id === editing);
    const open = edited ? `edit ${edited.id} ${edited.revision}` : isCurrent && !isFinished ? `next ${part.key} ${part.done.length}` : "";
    if (open && open === this.#form) return; // a form that is being filled in stays as it is
    this.#form = open;
    if (open) this.next?.replaceChildren(this.#setForm(edited));
    else this.next?.replaceChildren(...this.#closed());
  }

  /** @param {import("./training-day.js").Done|undefined} edited */
  #setForm(edited) {
    const { part, last, unit, plates } = /** @type {View} */ (this.view);
    const { line, done } = part;
    const number = edited ? done.indexOf(edited) + 1 : done.length + 1;
    const of = line && number <= line.sets ? ` of ${line.sets}` : "";
    const form = /** @type {import("./set-form.js").SetForm} */ (h("set-form"));
    const typedIn = edited?.unit ?? unit;
    const questionOf = (/** @type {string|null} */ load) => /** @type {View} */ (this.view).question(load, typedIn, edited);
    const as = { unit: typedIn, plates, prescribedReps: line?.reps ?? 0, effort: line?.rpe ?? null, questionOf };
    const side = line && line.load === (edited ?? nextSet(part, last)).load ? line.side : null;
    if (edited) form.show({ ...as, side, title: `Change set ${number}${of}`, button: "Save the change", start: edited, removes: true });
    else form.show({ ...as, side, title: `Set ${number}${of}`, button: `Log set ${number}`, start: nextSet(part, last), removes: false });
    return form;
  }

  /** What stands where no form is open. @returns {HTMLElement[]} */
  #closed() {
    const { part, isFinished, name } = /** @type {View} */ (this.view);
    const open = left(part);
    if (isFinished) return open ? [h("p.undone", {}, state("quiet", "not-done", `${counted(open, "set")} not done`))] : [];
    if (part.line?.held) return [];
    const label = part.done.length === 0 ? "Start here" : open ? "Go on here" : "One more set";
    return [h(`button.btn.wide`, { type: "button", "aria-label": `${label}: ${name}`, onclick: () => this.#emit("start", { key: part.key }) }, label)];
  }

  #cue() {
    const { cue, isFinished } = /** @type {View} */ (this.view);
    if (!this.cueLine || !cue || isFinished || this.cueLine.getAttribute("hx-get") === cue) return;
    this.cueLine.setAttribute("hx-get", cue);
    this.cueLine.setAttribute("hx-trigger", "load");
    /** @type {any} */ (window).htmx?.process(this.cueLine);
  }

  /** @param {string} action @param {Record<string, any>} detail */
  #emit(action, detail) {
    this.dispatchEvent(new CustomEvent(`part-${action}`, { bubbles: true, detail }));
  }
}

/** @param {{said: string, by: string, was: string|null}} change of a coach's correction */
function changeWords({ said: description, by, was }) {
  const action = was === null ? "Added" : "Changed";
  return h("p", {}, `${action}${by ? ` by ${by}` : ""}: ${description[0].toLowerCase()}${description.slice(1)}.${was ? ` It was ${was}.` : ""}`);
}

/** "3:00". @param {number} seconds */
function clock(seconds) {
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

customElements.define("session-part", SessionPart);
