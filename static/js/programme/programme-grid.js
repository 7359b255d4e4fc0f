// @ts-check
import { History } from "../core/history.js";
import { h } from "../core/dom.js";
import { asRows, asText, spread } from "./cell-block.js";
import { meant } from "./grid-keys.js";
import { showSelection } from "./selection-panel.js";
import { isSeen, GridSelection } from "./grid-selection.js";
import { CellChanges } from "./cell-changes.js";

/** The grid of a programme: picks, edits, copies and undoes cells, and saves what is typed. */
class ProgrammeGrid extends HTMLElement {
  #selection = new GridSelection(this);
  #history = new History();
  #listeners = new AbortController();

  connectedCallback() {
    this.#listeners = new AbortController();
    this.changes = new CellChanges(
      this.dataset.url ?? "",
      Number(this.dataset.revision),
      (answer) => this.#answered(answer),
      (text, stuck) => this.#say(text, stuck),
    );
    this.#listen();
    this.#showWeek(this.dataset.now ?? "1");
    void this.#restore();
    this.#begin();
  }

  disconnectedCallback() {
    this.#listeners.abort();
  }

  #listen() {
    const { signal } = this.#listeners;
    const on = (/** @type {string} */ type, /** @type {(event: any) => void} */ listener, query = "") => {
      const target = query ? this.querySelector(query) : this;
      target?.addEventListener(type, listener, { signal });
    };
    on("keydown", (event) => this.#key(event), ".grid");
    on("mousedown", (event) => this.#click(event), ".grid");
    on("dblclick", () => this.#edit(), ".grid");
    on("focusin", (event) => this.#focused(event), ".grid");
    on("change", (event) => this.#showWeek(event.target.value), "[data-one-week]");
    on("change", (event) => this.#write(event.target.value), "input[data-text]");
    on("change", (event) => this.#writeNote(event.target.value), "input[data-note]");
    on("click", () => this.#clear(), "[data-clear]");
    on("click", () => this.#write(this.#selection.cell?.dataset.typed ?? ""), "[data-keep]");
    on("click", () => this.#drop(), "[data-drop]");
    on("submit", (event) => void this.#submit(event));
    // What is being typed while the page is left is kept as if it had been left by hand.
    addEventListener("pagehide", () => /** @type {HTMLElement|null} */ (document.activeElement)?.blur(), { signal });
    for (const type of ["copy", "cut", "paste"]) {
      document.addEventListener(type, (event) => this.#clipboard(/** @type {ClipboardEvent} */ (event)), { signal });
    }
  }

  #begin() {
    const wanted = new URLSearchParams(location.search).get("pick");
    const target = wanted ? document.getElementById(wanted) : null;
    if (target?.dataset.week) this.#showWeek(target.dataset.week);
    const cells = this.#selection.rows.flat().filter(isSeen);
    const open = cells.filter((cell) => !cell.dataset.closed);
    const cell = target ?? open.find((cell) => cell.dataset.week === this.dataset.now) ?? open[0] ?? cells[0];
    if (cell) this.#selection.pick(cell, false);
    const head = this.querySelector(`th.wk[data-week="${this.dataset.now}"]`);
    const scroll = this.querySelector("[data-scroll]");
    if (head instanceof HTMLElement && scroll) scroll.scrollLeft = Math.max(0, head.offsetLeft - 440);
  }

  /** @param {string} key "session:row" @returns {HTMLElement|null} */
  #cellOf(key) {
    return this.querySelector(`[data-key="${key}"]`);
  }

  /** What an earlier page could not save is shown as typed, to be kept or dropped by hand. */
  async #restore() {
    const parked = (await this.changes?.recover((key) => this.#cellOf(key)?.dataset)) ?? [];
    for (const { key, text, note } of parked) {
      const what = note ? `You typed this earlier, with the note “${note}”,` : "You typed this earlier";
      this.#wrong(/** @type {HTMLElement} */ (this.#cellOf(key)), text, `${what} and it is not saved. Enter keeps it, Escape drops it.`);
    }
  }

  /** @param {FocusEvent} event */
  #focused({ target }) {
    if (target instanceof HTMLElement && target.matches("td.cell[data-key]") && target !== this.#selection.cell) {
      this.#selection.pick(target, false);
    }
  }

  /** @param {MouseEvent} event */
  #click(event) {
    const cell = event.target instanceof Element ? event.target.closest("td.cell[data-key]") : null;
    if (!(cell instanceof HTMLElement) || event.target instanceof HTMLInputElement) return;
    event.preventDefault();
    if (event.shiftKey && this.#selection.cell) this.#selection.reach(cell);
    else this.#selection.pick(cell);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.target instanceof HTMLInputElement) return this.#editKey(event);
    const command = meant(event);
    if (!command || !this.#selection.cell) return;
    if (command === "type") {
      event.preventDefault();
      return this.#edit(event.key);
    }
    event.preventDefault();
    const steps = { up: [-1, 0], down: [1, 0], left: [0, -1], right: [0, 1] };
    const word = command.replace("grow", "").toLowerCase();
    if (word in steps) {
      const [down, across] = steps[/** @type {keyof typeof steps} */ (word)];
      this.#selection.step(down, across, command.startsWith("grow"));
    } else if (command === "first" || command === "last") this.#selection.end(command);
    else if (command === "edit") this.#edit();
    else if (command === "clear") this.#clear();
    else if (command === "drop") this.#drop();
    else this.#again(command === "undo" ? this.#history.undo() : this.#history.redo());
  }

  /** @param {string} [first] the character that begins to replace the cell */
  #edit(first) {
    const { cell } = this.#selection;
    if (!cell || cell.querySelector("input")) return;
    if (cell.dataset.closed) return this.#say(cell.dataset.closed, false);
    const value = first ?? cell.dataset.typed ?? cell.dataset.text ?? "";
    const field = /** @type {HTMLInputElement} */ (
      h("input.cell-field", { value, "aria-label": "Sets x reps and target", maxlength: 120, autocomplete: "off", spellcheck: "false" })
    );
    cell.append(field);
    cell.classList.add("editing");
    field.focus();
    if (first === undefined) field.select();
    else field.setSelectionRange(value.length, value.length);
    field.addEventListener("blur", () => this.#leave(cell, field, true), { signal: this.#listeners.signal });
  }

  /** @param {HTMLElement} cell @param {HTMLInputElement} field @param {boolean} keep */
  #leave(cell, field, keep) {
    if (!field.isConnected || !cell.classList.contains("editing")) return;
    cell.classList.remove("editing");
    const { value } = field;
    field.remove();
    if (keep) this.#write(value, cell);
  }

  /** @param {KeyboardEvent} event */
  #editKey(event) {
    const field = /** @type {HTMLInputElement} */ (event.target);
    const { cell } = this.#selection;
    if (!cell || !["Enter", "Tab", "Escape"].includes(event.key)) return;
    event.preventDefault();
    this.#leave(cell, field, event.key !== "Escape");
    cell.focus();
    if (event.key === "Enter") this.#selection.step(event.shiftKey ? -1 : 1, 0);
    if (event.key === "Tab") this.#selection.step(0, event.shiftKey ? -1 : 1);
  }

  /** @param {string} text @param {HTMLElement|null} [cell] */
  #write(text, cell = this.#selection.cell) {
    if (!cell?.dataset.key) return;
    const before = cell.dataset.text ?? "";
    const after = text.trim();
    if (after === before && cell.dataset.typed === undefined) return;
    this.#history.record([{ what: cell.dataset.key, before: [before], after: [after] }], Date.now());
    this.#put(cell, after);
  }

  /** @param {string} note */
  #writeNote(note) {
    const { cell } = this.#selection;
    if (!cell?.dataset.key || !cell.dataset.text || cell.dataset.closed) return;
    this.changes?.put(cell.dataset.key, cell.dataset.text, note);
  }

  /** @param {HTMLElement} cell @param {string} text */
  #put(cell, text) {
    if (cell.dataset.closed) return this.#say(cell.dataset.closed, false);
    cell.dataset.text = text;
    delete cell.dataset.typed;
    cell.classList.remove("wrong");
    cell.classList.add("waiting");
    cell.replaceChildren(h("span.cell-rx", {}, h("span", {}, text)));
    this.changes?.put(cell.dataset.key ?? "", text);
  }

  #clear() {
    const cells = this.#selection.block.flat().filter((cell) => cell.dataset.key && cell.dataset.text && !cell.dataset.closed);
    if (!cells.length) return;
    const steps = cells.map((cell) => ({ what: cell.dataset.key ?? "", before: [cell.dataset.text], after: [""] }));
    this.#history.record(steps, Date.now());
    for (const cell of cells) this.#put(cell, "");
  }

  /** Give up what was typed and refused. */
  #drop() {
    const { cell } = this.#selection;
    if (!cell?.classList.contains("wrong")) return;
    this.changes?.drop(cell.dataset.key ?? "");
    this.changes?.put(cell.dataset.key ?? "", cell.dataset.text ?? "");
    delete cell.dataset.typed;
    cell.classList.remove("wrong");
    showSelection(this, cell);
  }

  /** @param {{what: string, value: any}[]} changes of the history */
  #again(changes) {
    if (!changes.length) return this.#say("Nothing to undo.", false);
    for (const { what, value } of changes) {
      const cell = this.#cellOf(what);
      if (cell) this.#put(cell, value[0]);
    }
  }

  /** @param {ClipboardEvent} event */
  #clipboard(event) {
    if (!this.#selection.cell || document.activeElement !== this.#selection.cell) return;
    event.preventDefault();
    if (event.type === "paste") return this.#paste(event.clipboardData?.getData("text/plain") ?? "");
    const texts = this.#selection.block.map((cells) => cells.map((cell) => cell.dataset.text ?? ""));
    event.clipboardData?.setData("text/plain", asText(texts));
    if (event.type === "cut") this.#clear();
    else this.#say("Copied.", false);
  }

  /** @param {string} text */
  #paste(text) {
    if (!text.trim()) return;
    const { rows } = this.#selection;
    const places = spread(asRows(text), this.#selection.bounds)
      .map(({ row, column, text: typed }) => ({ cell: rows[row]?.[column], typed }))
      .filter(({ cell, typed }) => cell?.dataset.key && !cell.dataset.closed && cell.dataset.text !== typed);
    if (!places.length) return this.#say("Nothing of it can go here.", false);
    const steps = places.map(({ cell, typed }) => ({ what: cell.dataset.key ?? "", before: [cell.dataset.text ?? ""], after: [typed] }));
    this.#history.record(steps, Date.now());
    for (const { cell, typed } of places) this.#put(cell, typed);
  }

  /** @param {import("./cell-changes.js").Answer} answer */
  #answered({ revision, cells, sets, refused }) {
    for (const [week, label] of Object.entries(sets)) {
      const place = this.querySelector(`[data-total="${week}"]`);
      if (place) place.textContent = label;
    }
    for (const field of this.querySelectorAll("[data-seen]")) {
      if (field instanceof HTMLInputElement) field.value = String(revision);
    }
    for (const [key, { html }] of Object.entries(cells)) {
      const old = this.#cellOf(key);
      if (!old || this.changes?.outbox.has(key) || old.classList.contains("editing")) continue;
      // What waits for a word from before stays in its cell, whatever became of the others.
      const typed = key in refused ? old.dataset.text : old.dataset.typed;
      const why = refused[key] ?? old.querySelector(".cell-err")?.textContent ?? "";
      const fresh = this.#replace(old, html);
      if (typed !== undefined) this.#wrong(fresh, typed, why);
    }
  }

  /** @param {HTMLElement} old @param {string} html our own template's @returns {HTMLElement} */
  #replace(old, html) {
    const holder = document.createElement("template");
    holder.innerHTML = html;
    const fresh = /** @type {HTMLElement} */ (holder.content.firstElementChild);
    fresh.hidden = old.hidden;
    this.#selection.replace(old, fresh);
    return fresh;
  }

  /** Keep what was typed in the cell, with the sentence. @param {HTMLElement} cell @param {string} typed @param {string} why */
  #wrong(cell, typed, why) {
    cell.dataset.typed = typed;
    cell.classList.add("wrong");
    cell.append(h("span.cell-typed", {}, typed || "empty"), h("span.cell-err", { role: "alert" }, why));
    if (cell === this.#selection.cell) showSelection(this, cell);
  }

  /** A form of the page goes out after everything typed has arrived. @param {SubmitEvent} event */
  async #submit(event) {
    const form = event.target;
    if (!(form instanceof HTMLFormElement) || !this.changes?.outbox.changes.length) return;
    event.preventDefault();
    await this.changes.sender.settle();
    if (!this.changes.outbox.changes.length) form.requestSubmit(event.submitter ?? undefined);
  }

  /** On a phone one week is shown at a time. @param {string} week */
  #showWeek(week) {
    const choice = this.querySelector("[data-one-week]");
    if (choice instanceof HTMLSelectElement) choice.value = week;
    for (const place of this.querySelectorAll("[data-week]")) {
      place.classList.toggle("this-week", /** @type {HTMLElement} */ (place).dataset.week === week);
    }
    const cell = this.querySelector(`td.cell.this-week[data-key]`);
    const picked = this.#selection.cell;
    if (picked && !isSeen(picked) && cell instanceof HTMLElement) this.#selection.pick(cell, false);
  }

  /** @param {string} text @param {boolean} stuck */
  #say(text, stuck) {
    const place = this.querySelector("[data-state]");
    if (!place) return;
    place.textContent = text;
    if (stuck) place.append(" ", h("a", { href: location.pathname }, "Load it again"));
  }
}

customElements.define("programme-grid", ProgrammeGrid);
