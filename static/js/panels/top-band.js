// @ts-check
import { h } from "../dom.js";
import { BenchPart, clipOf } from "./bench.js";

const LONG = 90; // letters: from here on the question is set smaller, so that the clip keeps its height

/** Who asked, what was lifted, the question, and the other clips. */
export class TopBand extends BenchPart {
  start() {
    const { submission, urls, clips } = this.state;
    const facts = h("span.lift");
    const line = h(
      "p.facts-line",
      {},
      h("a", { href: urls.desk }, "Desk"),
      h("b", {}, submission.athlete.name),
      facts,
    );
    const question = h(
      submission.question.length > LONG ? "h1.long" : "h1",
      {},
      submission.question ? `“${submission.question}”` : "No question was asked",
    );
    const tried = submission.tried && h("p.tried.small.muted", {}, `Tried: ${submission.tried}`);
    const side = h("div.clips", { role: "group", "aria-label": "Clips" });
    const keys = h(
      "button.tool.keys-button",
      { type: "button", onclick: () => this.bench.commands.run("page.keys") },
      "Keys",
      h("kbd", {}, "?"),
    );
    this.append(
      h("div", {}, line, h("div.askline", {}, question, tried)),
      h("div.side", {}, side, keys),
    );
    this.on(
      (state) => clipOf(state),
      (clip) => {
        facts.textContent = lift(clip);
        side.replaceChildren(
          ...(clips.length > 1
            ? this.state.clips.map((one) => this.#button(one, one.id === clip.id))
            : []),
        );
      },
    );
  }

  /** @param {import("../core/types.js").Clip} clip @param {boolean} shown */
  #button(clip, shown) {
    const words = `Clip ${clip.position}${clip.load ? `, ${clip.load}\u2009${clip.unit}` : ""}`;
    return h(
      "button.btn.dense",
      {
        type: "button",
        "aria-pressed": String(shown),
        onclick: () => this.bench.deeds.showClip(clip.id),
      },
      words,
    );
  }
}

/** @param {import("../core/types.js").Clip} clip @returns {string} "Low-bar squat, 150 kg × 3, RPE 8" */
function lift({ movement, load, unit, reps, rpe }) {
  const weight = load
    ? `${load}\u2009${unit}${reps ? ` × ${reps}` : ""}`
    : reps
      ? `${reps} reps`
      : "";
  return [movement, weight, rpe && `RPE ${rpe}`].filter(Boolean).join(", ");
}

customElements.define("top-band", TopBand);
