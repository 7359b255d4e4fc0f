// @ts-check
import { callOf, inOrder } from "../core/review.js";
import { follow, h, shape } from "../core/dom.js";
import { WorkbenchPart, clipOf, repsOf } from "./workbench-part.js";
import { still } from "./filmstrip-still.js";
import { CALLS } from "./rep-call-labels.js";

const STILL_HEIGHT = 104;

/**
 * Reps down, phases across: which fault comes in which rep and phase, at a glance. The phases are
 * those of the clip's lift and come with its data.
 */
export class RepBoard extends WorkbenchPart {
  #phases = h("tr");
  #rows = h("tbody");

  start() {
    this.setAttribute("tabindex", "0");
    this.setAttribute("role", "group");
    this.setAttribute("aria-label", "Rep board");
    const caption = h("caption.vh", {}, "Rep board: reps down, phases across");
    this.append(h("table.board", {}, caption, h("thead", {}, this.#phases), this.#rows));
    this.on(
      ({ clip, clips }) => [clip, clips],
      () => this.#drawHead(),
    );
    this.on(
      ({ clip, clips, notes, rep_calls, rep, note, table }) => [
        clip,
        clips,
        notes,
        rep_calls,
        rep,
        note,
        table,
      ],
      () => this.#draw(),
    );
  }

  #drawHead() {
    const phases = clipOf(this.state).phases.map((phase) => h("th", { scope: "col" }, phase));
    this.#phases.replaceChildren(
      h("th.first", { scope: "col" }, "Rep board"),
      ...phases,
      h("th.call", { scope: "col" }, "call"),
    );
  }

  #draw() {
    const reps = Array.from({ length: repsOf(this.state) }, (_, at) => at + 1);
    // A portrait clip leaves the board a height to fill, and two reps must not be stretched over it.
    this.style.setProperty("--reps", String(reps.length));
    follow(
      this.#rows,
      reps,
      String,
      () => h("tr"),
      (row, rep) => this.#drawRow(row, rep),
    );
  }

  /** @param {HTMLElement} row @param {number} rep */
  #drawRow(row, rep) {
    const chosen = rep === this.state.rep;
    const pick = h(
      "button.rep",
      {
        type: "button",
        "aria-pressed": String(chosen),
        onclick: () => this.workbench.actions.selectRep(rep),
      },
      `Rep ${rep}`,
    );
    const focused = document.activeElement?.getAttribute("aria-label");
    const wasIn = row.contains(document.activeElement) && (focused || "rep");
    const { phases } = clipOf(this.state);
    row.classList.toggle("chosen", chosen);
    row.replaceChildren(
      h("th.first", { scope: "row" }, pick, ...this.#pins(rep, null)),
      ...phases.map((phase) => this.#cell(rep, phase)),
      h("td.call", {}, callState(callOf(this.state.rep_calls, this.state.clip, rep).call)),
    );
    if (wasIn) focusAgain(row, wasIn);
  }

  /** @param {number} rep @param {string} phase */
  #cell(rep, phase) {
    const open = this.workbench.actions.noteOf(this.state.note);
    const now = open?.clip === this.state.clip && open.rep === rep && open.phase === phase;
    const add = h(
      "button.add-note",
      {
        type: "button",
        "aria-label": `Note on rep ${rep}, ${phase}`,
        title: "Note here",
        onclick: () => this.workbench.actions.addNote({ rep, phase }),
      },
      "+",
    );
    return h(now ? "td.now" : "td", {}, this.#still(rep, phase), ...this.#pins(rep, phase), add);
  }

  /**
   * What the first note of a cell points at: shown where a portrait clip leaves the board room.
   * @param {number} rep @param {string} phase
   */
  #still(rep, phase) {
    const { notes, clip, table } = this.state;
    const { filmstrip } = clipOf(this.state);
    const note = notes.find((other) => other.clip === clip && other.rep === rep && other.phase === phase);
    return (
      note &&
      filmstrip &&
      table &&
      still(filmstrip, table, table.clamp(note.first_frame), STILL_HEIGHT)
    );
  }

  /** @param {number} rep @param {string|null} phase */
  #pins(rep, phase) {
    /** @type {HTMLElement[]} */
    const pins = [];
    inOrder(this.state.notes, this.state.clips).forEach((note, at) => {
      if (note.clip !== this.state.clip || note.rep !== rep || note.phase !== phase) return;
      const tag = note.rank === null ? "button.pin.left" : "button.pin";
      pins.push(
        h(
          tag,
          {
            type: "button",
            "aria-label": `Note ${at + 1}${note.fault_name ? `, ${note.fault_name}` : ""}`,
            "aria-pressed": String(note.id === this.state.note),
            onclick: () => void this.workbench.actions.selectNote(note.id),
          },
          String(at + 1),
        ),
      );
    });
    return pins;
  }
}

/** @param {string|null} call */
function callState(call) {
  if (!call) return h("span.muted", {}, "no call yet");
  const tone = { standard: "good", "not-standard": "not" }[call] ?? "quiet";
  return h(`span.state.${tone}`, {}, shape(call), h("span", {}, CALLS[call].short));
}

/** A redrawn row keeps the focus where it was. @param {HTMLElement} row @param {string} label */
function focusAgain(row, label) {
  const same = label === "rep" ? ".rep" : `[aria-label="${CSS.escape(label)}"]`;
  const again = row.querySelector(same) ?? row.querySelector(".rep");
  if (again instanceof HTMLElement) again.focus();
}

customElements.define("rep-board", RepBoard);
