// @ts-check
import { inOrder, RECOMMENDED } from "../core/review.js";
import { place } from "../core/timecode.js";
import { follow, h } from "../core/dom.js";
import { WorkbenchPart } from "./workbench-part.js";
import { NoteEditor } from "./note-editor.js";
import { isReadOnly } from "./read-only.js";

const TITLE_LENGTH = 36;

/** The reply as it takes shape: focus points by rank, then what was seen and left for now. */
export class ReplyPanel extends WorkbenchPart {
  #points = h("ol.points", { "aria-label": "Focus points" });
  #many = h(
    "p.many.small.muted",
    { hidden: true },
    `More than ${RECOMMENDED} focus points are hard to keep in mind at the bar. Leave some for now.`,
  );
  #rest = h("ul.rest", { "aria-label": "Seen, left for now" });
  #restHead = h("h3.rest-head");
  #none = h(
    "p.empty.small",
    {},
    h("b", {}, "No notes yet."),
    "Stop the clip where it matters and press n, or Note here.",
  );
  #removed = h("p.removed.small", { role: "status", hidden: true });

  start() {
    this.append(this.#none, this.#points, this.#many, this.#restHead, this.#rest, this.#removed);
    this.on(
      (state) => [
        state.notes,
        state.clips,
        state.note,
        state.library,
        state.clip,
        state.rep_calls,
        isReadOnly(state),
      ],
      () => this.#draw(),
    );
    this.on(
      ({ removed }) => removed,
      (removed) => {
        this.#removed.hidden = !removed;
        const back = h(
          "button.btn.quiet",
          { type: "button", onclick: () => this.workbench.commands.run("page.undo") },
          "Put it back",
        );
        this.#removed.replaceChildren("Note removed. ", back);
      },
    );
  }

  /** @returns {NoteEditor|null} of the open note */
  get editor() {
    return this.querySelector("note-editor");
  }

  #draw() {
    const all = inOrder(this.state.notes, this.state.clips);
    const points = all.filter(({ rank }) => rank !== null);
    const rest = all.filter(({ rank }) => rank === null);
    this.#none.hidden = all.length > 0;
    this.#many.hidden = points.length <= RECOMMENDED;
    this.#restHead.hidden = rest.length === 0;
    this.#restHead.replaceChildren("Seen, left for now", h("span", {}, String(rest.length)));
    const focused = /** @type {HTMLElement|null} */ (document.activeElement);
    const inside = focused && this.contains(focused);
    const draw = (
      /** @type {HTMLElement} */ item,
      /** @type {import("../core/types.js").Note} */ note,
      /** @type {number} */ at,
    ) => this.#drawItem(item, note, at);
    this.#adopt(points, this.#points, this.#rest);
    this.#adopt(rest, this.#rest, this.#points);
    follow(this.#points, points, ({ id }) => id, item, draw);
    follow(
      this.#rest,
      rest,
      ({ id }) => id,
      item,
      (element, note, at) => draw(element, note, at + points.length),
    );
    if (inside && document.activeElement !== focused && focused.isConnected) focused.focus();
  }

  /**
   * A note that goes from one list to the other takes its element, and the editor in it, along.
   * @param {import("../core/types.js").Note[]} notes @param {HTMLElement} to @param {HTMLElement} from
   */
  #adopt(notes, to, from) {
    for (const { id } of notes) {
      const element = from.querySelector(`:scope > [data-key="${id}"]`);
      if (element) to.append(element);
    }
  }

  /** @param {HTMLElement} element @param {import("../core/types.js").Note} note @param {number} at */
  #drawItem(element, note, at) {
    const open = note.id === this.state.note;
    const [rank, body] = /** @type {HTMLElement[]} */ ([...element.children]);
    const [head, inside] = /** @type {HTMLElement[]} */ ([...body.children]);
    element.classList.toggle("open", open);
    rank.textContent = String(at + 1);
    const [pick, where] = /** @type {HTMLElement[]} */ ([...head.children]);
    pick.textContent = titleOf(note);
    pick.setAttribute("aria-expanded", String(open));
    pick.onclick = () => void this.workbench.actions.selectNote(open ? null : note.id);
    where.textContent = this.#where(note);
    if (open) this.#drawEditor(inside, note);
    else inside.replaceChildren(noteDetails(note), this.#change(note));
  }

  /** @param {import("../core/types.js").Note} note */
  #change({ id }) {
    const go = () => {
      this.workbench.store.set({ note: id });
      this.workbench.commands.run("note.change");
    };
    return h("button.btn.quiet.change", { type: "button", onclick: go }, "Change the programme");
  }

  /** @param {import("../core/types.js").Note} note */
  #where(note) {
    const { clips } = this.state;
    const clip = clips.find(({ id }) => id === note.clip);
    return clips.length > 1 && clip ? `clip ${clip.position}, ${place(note)}` : place(note);
  }

  /** @param {HTMLElement} inside @param {import("../core/types.js").Note} note */
  #drawEditor(inside, note) {
    let editor = inside.querySelector("note-editor");
    if (!(editor instanceof NoteEditor)) {
      editor = new NoteEditor();
      /** @type {NoteEditor} */ (editor).workbench = this.workbench;
      /** @type {NoteEditor} */ (editor).note = note.id;
      inside.replaceChildren(editor);
    }
    /** @type {NoteEditor} */ (editor).draw();
  }
}

/** @param {import("../core/types.js").Note} note */
function titleOf({ fault_name, text }) {
  if (fault_name) return fault_name;
  const title = text.trim();
  if (title.length > TITLE_LENGTH)
    return `${title.slice(0, title.lastIndexOf(" ", TITLE_LENGTH))} …`;
  return title || "A note without words yet";
}

/** @param {import("../core/types.js").Note} note */
function noteDetails(note) {
  const rows = /** @type {[string, string, string][]} */ ([
    ["seen", note.fault_name || note.text.length > TITLE_LENGTH ? note.text : "", "dd"],
    ["cue", note.cue_text && `“${note.cue_text.replace(/^[“"]|[”"]$/g, "")}”`, "dd.cue"],
    ["drill", note.drill_text, "dd"],
  ]);
  const list = h("dl.spec");
  for (const [term, detail, tag] of rows)
    if (detail) list.append(h("dt", {}, term), h(tag, {}, detail));
  return list;
}

function item() {
  const head = h("h3", {}, h("button.pick-note", { type: "button" }), h("span.at"));
  return h("li.focus", {}, h("span.rank"), h("div", {}, head, h("div")));
}

customElements.define("reply-panel", ReplyPanel);
