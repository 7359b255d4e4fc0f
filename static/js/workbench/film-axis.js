// @ts-check
import { callOf, inOrder } from "../core/review.js";
import { moment, tickStep } from "../core/timecode.js";
import { follow, h, shape } from "../core/dom.js";
import { WorkbenchPart, clipOf, repsOf } from "./workbench-part.js";
import { still } from "./filmstrip-still.js";

const STRIP_HEIGHT = 48;

/**
 * The clip's time from left to right: reps in brackets, the filmstrip, notes as numbered marks.
 * Click or drag to go there; with the keyboard it is a slider that the stepping keys move.
 */
export class FilmAxis extends WorkbenchPart {
  #reps = h("div.axis-reps");
  #strip = h("div.axis-strip", { "aria-hidden": "true" });
  #head = h("div.axis-head", { "aria-hidden": "true" });
  #slider = h("div.axis-slider", {
    role: "slider",
    tabindex: "0",
    "aria-label": "Time",
    "aria-valuemin": "0",
    "aria-valuemax": "0",
    "aria-valuenow": "0",
  });
  #notes = h("div.axis-notes");
  #ranges = h("div.axis-ranges", { "aria-hidden": "true" });
  #ticks = h("div.axis-ticks", { "aria-hidden": "true" });

  start() {
    this.#slider.append(this.#strip);
    const track = h(
      "div.axis-track",
      {},
      this.#reps,
      this.#slider,
      this.#ranges,
      this.#notes,
      this.#ticks,
      this.#head,
    );
    const labels = ["reps", "filmstrip", "notes"].map((word) => h("span", {}, word));
    this.append(h("div.axis-labels", { "aria-hidden": "true" }, ...labels), track);
    this.#drag();
    new ResizeObserver(() => this.#drawStrip()).observe(this.#slider);
    this.on(
      ({ table, clip, clips }) => [table, clip, clips],
      () => {
        this.#drawStrip();
        this.#drawTicks();
      },
    );
    this.on(
      ({ table, frame }) => [table, frame],
      () => this.#drawHead(),
    );
    this.on(
      ({ table, clip, rep_calls, rep }) => [table, clip, rep_calls, rep],
      () => this.#drawReps(),
    );
    this.on(
      ({ table, clip, notes, note }) => [table, clip, notes, note],
      () => this.#drawNotes(),
    );
  }

  /** @param {number} seconds @returns {string} place along the track */
  #at(seconds) {
    const { table } = this.state;
    return table ? `${((seconds - table.start(0)) / table.seconds) * 100}%` : "0%";
  }

  #drag() {
    const go = (/** @type {PointerEvent} */ event) => {
      const { table } = this.state;
      const { left, width } = this.#slider.getBoundingClientRect();
      if (table)
        void this.workbench.actions.goTo(
          table.at(table.start(0) + ((event.clientX - left) / width) * table.seconds),
        );
    };
    this.#slider.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      this.#slider.setPointerCapture(event.pointerId);
      go(event);
    });
    this.#slider.addEventListener("pointermove", (event) => {
      if (this.#slider.hasPointerCapture(event.pointerId)) go(event);
    });
  }

  /** As many stills as fit, each the one nearest in time to the middle of its place. */
  #drawStrip() {
    const { filmstrip } = clipOf(this.state);
    const { table } = this.state;
    const width = this.#slider.clientWidth;
    if (!filmstrip || !table || !width) return this.#strip.replaceChildren();
    const tile = (filmstrip.tile_width / filmstrip.tile_height) * STRIP_HEIGHT;
    const count = Math.max(1, Math.ceil(width / tile));
    const stills = Array.from({ length: count }, (_, at) => {
      const seconds = table.start(0) + ((at + 0.5) * tile * table.seconds) / width;
      return still(filmstrip, table, table.at(seconds), STRIP_HEIGHT);
    });
    this.#strip.replaceChildren(...stills);
  }

  #drawTicks() {
    const { table } = this.state;
    if (!table) return this.#ticks.replaceChildren();
    const step = tickStep(table.seconds, 8);
    const marks = [];
    for (let seconds = 0; seconds <= table.seconds - step / 3; seconds += step) {
      const mark = h("span", {}, seconds.toFixed(step < 1 ? 1 : 0) + (seconds ? "" : "\u2009s"));
      mark.style.setProperty("--at", this.#at(table.start(0) + seconds));
      marks.push(mark);
    }
    this.#ticks.replaceChildren(...marks);
  }

  #drawHead() {
    const { table, frame } = this.state;
    this.#head.hidden = !table;
    if (!table) return;
    this.#head.style.setProperty("--at", this.#at(table.mid(frame)));
    this.#slider.setAttribute("aria-valuemax", String(table.last));
    this.#slider.setAttribute("aria-valuenow", String(frame));
    this.#slider.setAttribute("aria-valuetext", moment(table, frame));
  }

  #drawReps() {
    const { table, clip, rep_calls } = this.state;
    const reps = Array.from({ length: repsOf(this.state) }, (_, at) =>
      callOf(rep_calls, clip, at + 1),
    );
    const marked = table ? reps.filter(({ first_frame }) => first_frame !== null) : [];
    const make = () => h("button.bracket", { type: "button" });
    follow(
      this.#reps,
      marked,
      ({ rep }) => String(rep),
      make,
      (element, { rep, call, first_frame, last_frame }) => {
        if (!table) return;
        element.style.setProperty("--at", this.#at(table.start(table.clamp(Number(first_frame)))));
        element.style.setProperty("--to", this.#at(table.end(table.clamp(Number(last_frame)))));
        element.replaceChildren(`rep ${rep}`, ...(call ? [shape(call)] : []));
        element.setAttribute("aria-pressed", String(rep === this.state.rep));
        element.onclick = () => this.workbench.actions.selectRep(rep);
      },
    );
  }

  #drawNotes() {
    const { table, clip, note: open } = this.state;
    const all = inOrder(this.state.notes, this.state.clips).map((note, at) => ({
      note,
      number: at + 1,
    }));
    const here = table ? all.filter(({ note }) => note.clip === clip) : [];
    follow(
      this.#notes,
      here,
      ({ note }) => note.id,
      () => h("button.pin", { type: "button" }),
      (pin, { note, number }) => {
        if (!table) return;
        const first = table.clamp(note.first_frame);
        pin.style.setProperty("--at", this.#at(table.mid(first)));
        pin.textContent = String(number);
        pin.classList.toggle("left", note.rank === null);
        pin.setAttribute("aria-label", `Note ${number}, ${moment(table, first)}`);
        pin.setAttribute("aria-pressed", String(note.id === open));
        pin.onclick = () => void this.workbench.actions.selectNote(note.id);
      },
    );
    this.#drawRanges(here.map(({ note }) => note));
  }

  /** A note over a range is a line as long as the range. @param {import("../core/types.js").Note[]} notes */
  #drawRanges(notes) {
    const { table } = this.state;
    const ranges = notes.filter(({ first_frame, last_frame }) => last_frame > first_frame);
    follow(
      this.#ranges,
      ranges,
      ({ id }) => id,
      () => h("i.range-line"),
      (line, { first_frame, last_frame }) => {
        if (!table) return;
        line.style.setProperty("--at", this.#at(table.start(table.clamp(first_frame))));
        line.style.setProperty("--to", this.#at(table.end(table.clamp(last_frame))));
      },
    );
  }
}

customElements.define("film-axis", FilmAxis);
