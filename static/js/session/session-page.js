// @ts-check
/** The page an athlete trains from. Every tap is noted on the phone first and sent after. */

import { follow, h } from "../core/dom.js";
import "./body-weight.js";
import { dayIn, logsOf, partsOf } from "./training-day.js";
import { chooseSession, otherSessions } from "./session-choice.js";
import { newId } from "../core/ids.js";
import { drawUnsavedNotice } from "./unsaved-notice.js";
import { opensOffline } from "./offline-page.js";
import { LogChanges } from "./log-changes.js";
import "./session-end.js";
import "./session-part.js";
import { asksAboutLoad, questionOf } from "./unusual-load.js";
import { dayWords } from "./labels.js";

/** @typedef {import("./training-day.js").Log} Log */

class SessionPage extends HTMLElement {
  /** What the server said: the plan and the log. @type {any} */
  data;
  /** @type {LogChanges|undefined} */
  changes;
  /** The line that is being trained, where the athlete picked one. */
  #started = "";
  #editing = "";
  /** @type {number[]} movements added beside the plan */
  #added = [];
  /** @type {{planned: string|null, log: string}|null} */
  #picked = null;

  connectedCallback() {
    this.data = JSON.parse(document.getElementById("training-data")?.textContent ?? "{}");
    /** @param {string} name @returns {HTMLElement} */
    const part = (name) => /** @type {HTMLElement} */ (this.querySelector(`[data-${name}]`));
    this.places = { when: part("when"), title: part("title"), kept: part("kept"), note: part("note"), parts: part("parts"), add: part("add"), end: /** @type {any} */ (part("end")), weight: /** @type {any} */ (part("weight")), others: part("others"), opens: part("opens") };
    this.changes = new LogChanges(this.data, () => this.draw());
    this.#listen();
    this.draw();
    void this.#offline();
    addEventListener("online", () => void this.#refresh());
    document.addEventListener("visibilitychange", () => !document.hidden && void this.#refresh());
  }

  #listen() {
    /** @param {string} name @param {(detail: any, target: any) => void} act */
    const on = (name, act) => this.addEventListener(name, (event) => act(/** @type {CustomEvent} */ (event).detail, event.target));
    on("set-logged", (values, form) => this.#logged(values, form));
    on("set-removed", () => this.#removed());
    on("set-left", () => this.#edit(""));
    on("part-edit", ({ id }) => this.#edit(id));
    on("part-start", ({ key }) => this.#start(key));
    on("session-finish", (facts) => this.#session(facts));
    on("session-remove", () => this.#takeOut());
    on("weighed", ({ weight }) => this.changes?.put("weight", this.today, { weight, unit: this.data.unit }));
    this.querySelector("[data-add-form]")?.addEventListener("submit", (event) => this.#add(event));
  }

  get today() {
    return dayIn(this.data.zone, new Date());
  }

  get logs() {
    return logsOf(this.data.logs, [...(this.changes?.journal.entries.values() ?? [])], this.data.zone);
  }

  draw() {
    const { places, data, changes } = this;
    if (!places || !changes) return;
    const { logs, today } = this;
    const { planned, log, id } = chooseSession({ planned: data.planned, logs, today, picked: this.#picked });
    this.chosen = { planned, log, id };
    const parts = partsOf(planned, log, this.#added);
    const isFinished = Boolean(log?.finished_at);
    places.when.textContent = [dayWords(log?.day ?? today), planned?.programme].filter(Boolean).join(", ");
    places.title.textContent = planned?.name ?? (log || this.#picked ? "Beside the plan" : "Nothing is planned today");
    places.note.textContent = planned?.note ?? "";
    drawUnsavedNotice(places.kept, changes, this.dataset.login ?? "");
    const current = this.#current(parts);
    follow(places.parts, parts, ({ key }) => key, () => h("session-part"), (element, part) =>
      /** @type {import("./session-part.js").SessionPart} */ (element).show({
        part,
        name: this.#nameOf(part.movement),
        unit: data.unit,
        plates: data.plates,
        last: data.last[part.movement],
        isCurrent: part.key === current,
        isFinished,
        editing: this.#editing,
        question: (load, unit, edited) => this.#question({ load, unit }, part.movement, edited),
        cue: this.dataset.cue ? `${this.dataset.cue}?movement=${part.movement}` : "",
      }),
    );
    places.end.show({ log, parts, efforts: data.efforts, today });
    places.weight.show({ today, unit: data.unit, weights: this.#weights() });
    const begun = parts.length > 0 || Boolean(this.#picked);
    places.add.hidden = isFinished || !begun;
    this.#others(otherSessions({ planned: data.planned, logs, today, chosen: planned }), begun && !isFinished);
  }

  /** @param {import("./training-day.js").Part[]} parts */
  #current(parts) {
    const picked = parts.find(({ key }) => key === this.#started);
    if (picked) return picked.key;
    return parts.find(({ line, done }) => !line?.held && done.length < (line?.sets ?? 1))?.key ?? "";
  }

  /**
   * A load that stands in the log already was meant, unless the server asked about it.
   * @param {{load: string|null, unit: string}} wanted @param {number} movement
   * @param {import("./training-day.js").Done|undefined} edited the set that is being changed
   */
  #question(wanted, movement, edited) {
    const isSame = edited && Number(edited.load) === Number(wanted.load);
    if (isSame) return asksAboutLoad(edited.refused ?? "", this.data.unusual) ? (edited.refused ?? "") : "";
    const others = (this.chosen?.log?.sets ?? []).filter(({ id, refused }) => id !== edited?.id && !refused);
    return questionOf(wanted, movement, this.data.unusual, others);
  }

  /** @param {number} movement */
  #nameOf(movement) {
    return this.data.movements.find((/** @type {{id: number}} */ item) => item.id === movement)?.name ?? "Movement";
  }

  #weights() {
    const entries = [...(this.changes?.journal.entries.values() ?? [])].filter(({ kind }) => kind === "weight");
    const ours = entries.map(({ id, body, revision, arrived, refused }) => ({ day: id, weight: body?.weight, waits: revision > arrived, refused }));
    const days = new Set(ours.map(({ day }) => day));
    const theirs = this.data.weights.filter((/** @type {{day: string}} */ weight) => !days.has(weight.day));
    return [...ours, ...theirs].filter(({ weight }) => weight).sort((a, b) => (a.day < b.day ? 1 : -1));
  }

  /** @param {{planned: any, mark: string, label: string}[]} others @param {boolean} busy */
  #others(others, busy) {
    const rows = others.map(({ planned, label }) =>
      h("li", {}, h("p", {}, h("b", {}, planned.name), h("span.small.muted", {}, label)), h("button.btn", { type: "button", "aria-label": `Train ${planned.name} of ${dayWords(planned.day)} today`, onclick: () => this.#pick({ planned: planned.id, log: planned.log }) }, "Train it")),
    );
    const nothing = !this.chosen?.planned && !this.chosen?.log;
    const free = h(`button.btn.wide${nothing ? ".primary" : ""}`, { type: "button", onclick: () => this.#pick({ planned: null, log: newId() }) }, nothing ? "Begin a session" : "Train something else");
    const title = /** @type {HTMLElement} */ (this.querySelector("[data-others-title]"));
    title.textContent = nothing ? "Train beside the plan" : "Other sessions";
    const place = /** @type {HTMLElement} */ (this.places?.others);
    place.replaceChildren(...(rows.length ? [h("ul.rows", {}, ...rows)] : []), busy ? "" : free);
    /** @type {HTMLElement} */ (place.closest("section")).hidden = busy && !rows.length;
  }

  /** @param {{planned: string|null, log: string}} picked */
  #pick(picked) {
    this.#picked = picked;
    this.#started = this.#editing = "";
    this.#added = [];
    this.draw();
    scrollTo({ top: 0 });
    this.places?.title.focus();
  }

  /** @param {Event} event */
  #add(event) {
    event.preventDefault();
    const pick = /** @type {HTMLSelectElement} */ (this.querySelector("[data-add-form] select"));
    const movement = Number(pick.value);
    if (!movement) return;
    this.#added = [...new Set([...this.#added, movement])];
    this.#start(`movement-${movement}`);
    pick.value = "";
  }

  /** @param {string} key */
  #start(key) {
    this.#started = key;
    this.#editing = "";
    this.draw();
    this.#focusForm(key);
  }

  /** @param {string} id */
  #edit(id) {
    this.#editing = this.#editing === id ? "" : id;
    this.draw();
    /** @type {HTMLElement|null} */ (this.querySelector(id ? "set-form h3" : ".sets button"))?.scrollIntoView({ block: "nearest" });
  }

  /** @param {string} key */
  #focusForm(key) {
    const part = [...(this.places?.parts.children ?? [])].find((child) => /** @type {HTMLElement} */ (child).dataset.key === key);
    /** @type {HTMLElement|null|undefined} */ (part?.querySelector("set-form button[type=submit]"))?.focus();
  }

  /** @param {Record<string, any>} facts what changes of the session, which begins with its first change */
  #session(facts) {
    const { log, planned, id } = /** @type {NonNullable<SessionPage["chosen"]>} */ (this.chosen);
    const { started_at, session_rpe = null, minutes = null, note = "", finished_at = null } = log ?? {};
    const first = { planned: planned?.id ?? log?.planned ?? null, started_at: started_at ?? new Date().toISOString() };
    const day = log ? { day: log.day } : {};
    const known = Math.max(log?.revision ?? 0, log ? 0 : (planned?.first_revision ?? 1) - 1);
    this.changes?.put("session", id, { ...first, ...day, session_rpe, minutes, note, finished_at, ...facts }, { known });
  }

  /** @param {import("./set-form.js").SetValues} values @param {HTMLElement} form */
  #logged(values, form) {
    const { log, planned, id: session } = /** @type {NonNullable<SessionPage["chosen"]>} */ (this.chosen);
    const { part } = /** @type {any} */ (form.closest("session-part")).view;
    const older = log?.sets.find(({ id }) => id === this.#editing);
    if (!log) this.#session({});
    const { movement, line } = part;
    const place = older
      ? { movement: older.movement, prescription: older.prescription, position: older.position, unit: older.unit, done_at: older.done_at }
      : { movement, prescription: line?.id ?? null, position: 1 + Math.max(0, ...(log?.sets ?? []).map(({ position }) => position)), unit: this.data.unit, done_at: new Date().toISOString() };
    this.#picked = { planned: planned?.id ?? null, log: session };
    this.#editing = "";
    const isLast = !older && part.line && part.done.length + 1 >= part.line.sets;
    if (!older) this.#started = isLast ? "" : part.key;
    this.changes?.put("set", older?.id ?? newId(), { ...place, ...values }, { session, known: older?.revision });
    if (!older) this.#focusForm(this.#current(partsOf(planned, this.logs.get(session) ?? null, this.#added)));
  }

  #removed() {
    const { log, id: session } = /** @type {NonNullable<SessionPage["chosen"]>} */ (this.chosen);
    const set = log?.sets.find(({ id }) => id === this.#editing);
    this.#editing = "";
    if (set) this.changes?.put("set", set.id, null, { session, known: set.revision });
  }

  #takeOut() {
    const { log, id } = /** @type {NonNullable<SessionPage["chosen"]>} */ (this.chosen);
    if (!log || !confirm("Take this session and its sets out of your log?")) return;
    for (const set of log.sets) this.changes?.drop(`set:${set.id}`);
    this.#picked = null;
    this.changes?.put("session", id, null, { known: log.revision });
  }

  async #refresh() {
    const busy = this.changes?.journal.waiting.length;
    if (busy || !this.changes) return;
    /** @type {any} */
    const data = await this.changes.fresh().catch(() => null); // what stands on the page is still true
    if (data) this.data = data;
    this.draw();
  }

  async #offline() {
    const opens = await opensOffline(this.dataset.worker ?? "");
    if (!this.places) return;
    this.places.opens.textContent = opens ? "This page opens without a network, too." : "This page cannot be opened without a network here: that needs HTTPS. Leave it open while you train; what you log is kept either way.";
  }
}

customElements.define("session-page", SessionPage);
