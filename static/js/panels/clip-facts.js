// @ts-check
import { h } from "../dom.js";
import { BenchPart, clipOf } from "./bench.js";

/** What a view can show of a lift: common practice, no source. */
const SHOWS = {
  side: "depth, bar path, trunk",
  45: "depth roughly, knees and feet",
  front: "knees, feet, level bar",
  rear: "hips and bar level",
};
const VIEWS = { side: "Side", 45: "45°", front: "Front", rear: "Rear" };

/** What was on the bar and what this view can show, read at a glance beside the clip. */
export class ClipFacts extends BenchPart {
  start() {
    const list = h("dl.reads");
    this.append(list);
    this.on(
      (state) => clipOf(state),
      (clip) => list.replaceChildren(...rows(clip)),
    );
  }
}

/** @param {import("../core/types.js").Clip} clip */
function rows({ load, unit, reps, rpe, view, shows_fault }) {
  const number = (/** @type {string|number} */ value, /** @type {string} */ of) => [
    String(value),
    h("span.u", {}, `\u2009${of}`),
  ];
  const shows = SHOWS[/** @type {"side"} */ (view)];
  return [
    load
      ? fact(
          "on the bar",
          number(load, unit),
          reps ? `for ${reps} ${reps === 1 ? "rep" : "reps"}` : "",
        )
      : null,
    rpe ? fact("effort", [`RPE ${rpe}`], "") : null,
    view
      ? fact("view", [VIEWS[/** @type {"side"} */ (view)] ?? view], shows ? `shows ${shows}` : "")
      : null,
    shows_fault ? fact("shows the fault", ["Yes"], "says the athlete") : null,
  ].filter((row) => row !== null);
}

/** @param {string} term @param {(string|Node)[]} value @param {string} aside */
function fact(term, value, aside) {
  return h("div", {}, h("dt", {}, term), h("dd", {}, ...value, aside && h("small", {}, aside)));
}

customElements.define("clip-facts", ClipFacts);
