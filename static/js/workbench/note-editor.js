// @ts-check
import { find } from "../core/find.js";
import { ranked } from "../core/review.js";
import { place } from "../core/timecode.js";
import { follow, h, shape } from "../core/dom.js";
import { clipOf, repsOf } from "./workbench-part.js";
import { isReadOnly } from "./read-only.js";
import { LibraryFinder } from "./library-finder.js";

let count = 0;
/** Where a note keeps the words of each, also when the library's entry is gone or never was. */
const WORDS = /** @type {const} */ ({ fault: "fault_name", cue: "cue_text", drill: "drill_text" });
/** Letters a note has room for, as the server counts them. */
const MOST = { cue: 120, drill: 260 };

/** One note, open for writing. Every change is saved as it is made. */
export class NoteEditor extends HTMLElement {
  /** @type {import("./workbench-part.js").Workbench} */
  workbench = /** @type {any} */ (null);
  note = "";
  #at = h("span.at");
  #rep = select("Rep");
  #phase = select("Phase");
  #finder = new LibraryFinder();
  #picked = h("ul.picked", { "aria-label": "Fault, cue and drill" });
  #text = area("What you see, and why it happens", "text", 4000);
  #buttons = h("div.note-actions");

  connectedCallback() {
    if (this.childElementCount) return;
    const { commands } = this.workbench;
    const key = (/** @type {string} */ name, /** @type {string} */ label) =>
      h("button.tool", { type: "button", onclick: () => commands.run(name) }, label);
    this.append(
      h("div.note-when", {}, this.#at, key("note.from", "From here"), key("note.to", "To here")),
      h("div.note-where", {}, this.#rep, this.#phase),
      this.#finder,
      this.#picked,
      this.#text,
      this.#buttons,
    );
    this.#listen();
  }

  #listen() {
    const edit = (/** @type {Partial<import("../core/types.js").Note>} */ part) =>
      this.workbench.actions.editNote(this.note, part);
    const text = /** @type {HTMLTextAreaElement} */ (this.#text.querySelector("textarea"));
    text.addEventListener("input", () => edit({ text: text.value }));
    choice(this.#rep).addEventListener("change", () => {
      const rep = Number(choice(this.#rep).value) || null;
      edit({ rep });
      if (rep) this.workbench.store.set({ rep });
    });
    choice(this.#phase).addEventListener("change", () =>
      edit({ phase: choice(this.#phase).value || null }),
    );
    this.#finder.addEventListener("pick", (event) =>
      this.#pick(this.note, /** @type {CustomEvent} */ (event).detail),
    );
    this.#finder.addEventListener("search", (event) =>
      this.#pickWhenLoaded(this.note, /** @type {CustomEvent} */ (event).detail),
    );
  }

  /** @param {string} id of the note @param {import("../core/types.js").Entry} entry */
  #pick(id, { id: entry, kind, name, phase }) {
    const note = this.workbench.actions.noteOf(id);
    const parts = {
      fault: { fault: entry, fault_name: name, phase: note?.phase ?? phase ?? null },
      cue: { cue: entry, cue_text: name.slice(0, MOST.cue) },
      drill: { drill: entry, drill_text: name.slice(0, MOST.drill) },
    };
    this.workbench.actions.editNote(id, parts[kind]);
  }

  /**
   * Entered before the library was here: taken when it arrives, whatever is open by then. Letters
   * that find nothing become words of the note, so that they are not lost.
   * @param {string} id of the note @param {string} letters
   */
  async #pickWhenLoaded(id, letters) {
    const [found] = find(await this.workbench.library, letters, 1);
    if (found) return this.#pick(id, found.entry);
    const text = this.workbench.actions.noteOf(id)?.text ?? "";
    this.workbench.actions.editNote(id, { text: text ? `${text} ${letters}` : letters });
  }

  /** Where writing begins. */
  write() {
    this.#text.querySelector("textarea")?.focus();
  }

  find() {
    this.#finder.focus();
  }

  /** Bring the fields up to date; the one being typed in is already right. */
  draw() {
    const state = this.workbench.store.state;
    const note = this.workbench.actions.noteOf(this.note);
    if (!note) return;
    this.inert = isReadOnly(state);
    this.#at.textContent = place({ ...note, rep: null });
    this.#finder.entries = state.library;
    const clip = state.clips.find(({ id }) => id === note.clip) ?? clipOf(state);
    const reps = Array.from({ length: Math.max(repsOf(state), clip.reps ?? 1) }, (_, at) =>
      String(at + 1),
    );
    options(this.#rep, "no rep", reps, String(note.rep ?? ""));
    options(this.#phase, "no phase", clip.phases, note.phase ?? "");
    fill(this.#text, note.text);
    this.#drawPicked(note);
    this.#drawButtons(note);
  }

  /** @param {import("../core/types.js").Note} note */
  #drawPicked(note) {
    const kinds = /** @type {const} */ (["fault", "cue", "drill"]).filter(
      (kind) => note[WORDS[kind]] !== "",
    );
    const make = () =>
      h("li", {}, h("span.label-tiny"), h("b"), h("button.tool", { type: "button" }, "Take off"));
    follow(this.#picked, kinds, String, make, (row, kind) => {
      const [label, name, off] = /** @type {HTMLElement[]} */ ([...row.children]);
      const text = WORDS[kind];
      label.textContent = kind;
      name.textContent = note[text];
      off.setAttribute("aria-label", `Take the ${kind} off`);
      off.onclick = () => this.workbench.actions.editNote(this.note, { [kind]: null, [text]: "" });
    });
  }

  /** @param {import("../core/types.js").Note} note */
  #drawButtons({ id, rank }) {
    const { actions } = this.workbench;
    const points = ranked(actions.state.notes);
    const button = (/** @type {string} */ label, /** @type {() => void} */ action) =>
      h("button.btn.dense", { type: "button", "data-action": label, onclick: action }, label);
    const focused =
      this.#buttons.contains(document.activeElement) &&
      document.activeElement?.getAttribute("data-action");
    const move = (
      /** @type {string} */ label,
      /** @type {string} */ icon,
      /** @type {number} */ by,
    ) =>
      h(
        "button.btn.dense.square",
        {
          type: "button",
          "data-action": label,
          "aria-label": label,
          title: label,
          disabled: !points[points.findIndex((note) => note.id === id) + by],
          onclick: () => actions.movePoint(id, by),
        },
        shape(icon),
      );
    const order =
      rank === null
        ? []
        : [move("Earlier in the reply", "up", -1), move("Later in the reply", "down", 1)];
    this.#buttons.replaceChildren(
      button(rank === null ? "Make it a focus point" : "Leave for now", () =>
        actions.togglePoint(id),
      ),
      ...order,
      button("Remove", () => actions.removeNote(id)),
    );
    if (focused)
      /** @type {HTMLElement|null} */ (
        this.#buttons.querySelector(`[data-action="${focused}"]`)
      )?.focus();
  }
}

/** @param {string} label */
function select(label) {
  return h("label.small-field", {}, h("span", {}, label), h("select.input"));
}

/** @param {HTMLElement} field @returns {HTMLSelectElement} */
function choice(field) {
  return /** @type {HTMLSelectElement} */ (field.querySelector("select"));
}

/** @param {HTMLElement} field @param {string} none @param {string[]} values @param {string} chosen */
function options(field, none, values, chosen) {
  const box = choice(field);
  const wanted = ["", ...values].join();
  if (box.dataset.values !== wanted) {
    box.replaceChildren(
      h("option", { value: "" }, none),
      ...values.map((value) => h("option", { value }, value)),
    );
    box.dataset.values = wanted;
  }
  box.value = chosen;
}

/** @param {string} label @param {string} name @param {number} most */
function area(label, name, most) {
  const id = `note-${name}-${(count += 1)}`;
  const box = h("textarea.input", { id, name, maxlength: most, rows: 1 });
  return h("div.small-field", {}, h("label", { for: id }, label), box);
}

/** @param {HTMLElement} field @param {string} text */
function fill(field, text) {
  const box = /** @type {HTMLTextAreaElement} */ (field.querySelector("textarea"));
  if (box !== document.activeElement && box.value !== text) box.value = text;
}

customElements.define("note-editor", NoteEditor);
