// @ts-check
import { h, shape } from "../core/dom.js";
import { WorkbenchPart } from "./workbench-part.js";

/** Pain goes first, with the caution, never with a diagnosis. */
export class PainCaution extends WorkbenchPart {
  start() {
    const { pain } = this.state.submission;
    this.hidden = !pain;
    if (!pain) return;
    const { where, score, since, signs } = pain;
    const title = `Pain: ${where} ${score} of 10${since ? `, since ${since}` : ""}`;
    this.append(
      h(
        "div.caution",
        {},
        h("h3", {}, shape("pain"), title),
        signs.length > 0 &&
          h(
            "p",
            {},
            h("b", {}, `Warning sign: said yes to ${signs.map((sign) => `“${sign}”`).join(" and ")} `),
            "A clinician comes before any coaching.",
          ),
        h(
          "p",
          {},
          `${this.dataset.words} The reply opens with this caution.`,
        ),
      ),
    );
  }
}

customElements.define("pain-caution", PainCaution);
