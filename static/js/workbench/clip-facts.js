// @ts-check
import { h } from "../core/dom.js";
import { WorkbenchPart, clipOf } from "./workbench-part.js";

/** What was on the bar and what this view can show, read at a glance beside the clip. */
export class ClipFacts extends WorkbenchPart {
  start() {
    const list = h("dl.clip-figures");
    this.append(list);
    this.on(
      (state) => clipOf(state),
      (clip) => list.replaceChildren(...rows(clip)),
    );
  }
}

/** @param {import("../core/types.js").Clip} clip */
function rows({ load, unit, reps, effort, view_label, shows, shows_fault }) {
  const number = (/** @type {string|number} */ value, /** @type {string} */ of) => [
    String(value),
    h("span.u", {}, `\u2009${of}`),
  ];
  return [
    load
      ? fact(
          "on the bar",
          number(load, unit),
          reps ? `for ${reps} ${reps === 1 ? "rep" : "reps"}` : "",
        )
      : null,
    effort ? fact("effort", [effort], "") : null,
    view_label ? fact("view", [view_label], shows) : null,
    shows_fault ? fact("shows the fault", ["Yes"], "says the athlete") : null,
  ].filter((row) => row !== null);
}

/** @param {string} term @param {(string|Node)[]} value @param {string} aside */
function fact(term, value, aside) {
  return h("div", {}, h("dt", {}, term), h("dd", {}, ...value, aside && h("small", {}, aside)));
}

customElements.define("clip-facts", ClipFacts);
