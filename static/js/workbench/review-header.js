// @ts-check
import { h } from "../core/dom.js";
import { WorkbenchPart, clipOf } from "./workbench-part.js";

const LONG = 90; // letters: from here on the question is set smaller, so that the clip keeps its height
const MOST_BUTTONS = 3; // clips with a button each; more of them share a list, which takes no more room

/** Who asked, what was lifted, the question, and the other clips. */
export class ReviewHeader extends WorkbenchPart {
  start() {
    const { submission, urls } = this.state;
    const facts = h("span.lift");
    const line = h(
      "p.facts-line",
      {},
      h("a", { href: urls.desk }, "Desk"),
      h("b", {}, submission.athlete.name),
      facts,
    );
    const keys = h(
      "button.tool.keys-button",
      { type: "button", onclick: () => this.workbench.commands.run("page.keys") },
      "Keys",
      h("kbd", {}, "?"),
    );
    this.append(h("div", {}, line, questionLines(submission)), h("div.side", {}, this.#clips(), keys));
    this.on(
      (state) => clipOf(state),
      (clip) => (facts.textContent = lift(clip)),
    );
  }

  #clips() {
    const { clips } = this.state;
    if (clips.length < 2) return null;
    return clips.length > MOST_BUTTONS ? this.#list() : this.#buttons();
  }

  #buttons() {
    const side = h("div.clips", { role: "group", "aria-label": "Clips" });
    this.on(
      ({ clip, clips }) => [clip, clips],
      () => {
        const { clip, clips } = this.state;
        side.replaceChildren(...clips.map((item) => this.#button(item, item.id === clip)));
      },
    );
    return side;
  }

  /** @param {import("../core/types.js").Clip} clip @param {boolean} isCurrent */
  #button(clip, isCurrent) {
    return h(
      "button.btn.dense",
      {
        type: "button",
        "aria-pressed": String(isCurrent),
        onclick: () => this.workbench.actions.showClip(clip.id),
      },
      clipLabel(clip),
    );
  }

  #list() {
    const { clips } = this.state;
    const options = clips.map((clip) => h("option", { value: clip.id }, clipLabel(clip)));
    const list = /** @type {HTMLSelectElement} */ (
      h("select.input.clip-list", { "aria-label": "Clip" }, ...options)
    );
    let byPointer = false;
    list.addEventListener("pointerdown", () => (byPointer = true));
    list.addEventListener("keydown", () => (byPointer = false));
    list.addEventListener("change", () => {
      this.workbench.actions.showClip(list.value);
      if (byPointer) list.blur(); // the next key is the clip's again
    });
    this.on(
      ({ clip }) => clip,
      (clip) => (list.value = clip),
    );
    return list;
  }
}

/**
 * The question and what was tried, some lines of each: a long one is read whole on request.
 * @param {import("../core/types.js").Submission} submission
 */
function questionLines({ question, tried }) {
  const text = question ? `“${question}”` : "No question was asked";
  const heading = h(question.length > LONG ? "h1.long" : "h1", {}, text);
  const more = h("button.tool.more", { type: "button", "aria-expanded": "false", hidden: true });
  const also = h("div.question-more", {}, tried && h("p.tried.small.muted", {}, `Tried: ${tried}`), more);
  const lines = h("div.question-lines", {}, heading, also);
  const draw = () => {
    const open = lines.classList.contains("open");
    const cut = [heading, also.firstElementChild].some(
      (part) => part instanceof HTMLElement && part !== more && part.scrollHeight > part.clientHeight + 1,
    );
    more.hidden = !open && !cut;
    more.textContent = open ? "Show less" : "Show all";
    more.setAttribute("aria-expanded", String(open));
  };
  more.addEventListener("click", () => {
    lines.classList.toggle("open");
    draw();
  });
  new ResizeObserver(draw).observe(lines);
  return lines;
}

/** @param {import("../core/types.js").Clip} clip */
function clipLabel({ position, load, unit }) {
  return `Clip ${position}${load ? `, ${load}\u2009${unit}` : ""}`;
}

/** @param {import("../core/types.js").Clip} clip @returns {string} "Low-bar squat, 150 kg × 3, RPE 8" */
function lift({ movement, load, unit, reps, effort }) {
  const weight = load
    ? `${load}\u2009${unit}${reps ? ` × ${reps}` : ""}`
    : reps
      ? `${reps} reps`
      : "";
  return [movement, weight, effort].filter(Boolean).join(", ");
}

customElements.define("review-header", ReviewHeader);
