// @ts-check
import { h } from "../core/dom.js";
import { getJSON, Problem } from "../core/net.js";
import { WorkbenchPart } from "../workbench/workbench-part.js";
import { isReadOnly } from "../workbench/read-only.js";

const RESULTS = /** @type {const} */ ([
  ["gone", "Gone"],
  ["better", "Better"],
  ["same", "The same"],
  ["worse", "Worse"],
  ["cannot-tell", "Can't tell"],
]);

/**
 * In the workbench of a check-back: each point of the earlier reply, what the rep calls propose, and
 * what the coach says became of it. Nothing counts until the coach has said it.
 *
 * `data-from` is the address of the points.
 *
 * @typedef {{note: string, number: number|null, title: string, cue: string, drill: string,
 *   proposal: {result: string, why: string}, said: string|null}} Point
 */
export class CheckBack extends WorkbenchPart {
  /** @type {Point[]} */
  #points = [];
  #list = h("ol.back-points");
  #take = h(
    "button.btn.dense",
    { type: "button", hidden: true, onclick: () => this.#takeAll() },
    "Take all as proposed",
  );
  #trouble = h("p.small.trouble", { role: "status" });

  start() {
    this.append(this.#list, this.#take, this.#trouble);
    this.on(isReadOnly, (readOnly) => (this.inert = readOnly));
    this.on(
      ({ outcomes }) => outcomes,
      () => this.#draw(),
    );
    this.on(
      ({ savedAt }) => savedAt, // a rep was called: the proposals may be others now
      () => void this.#read(),
    );
  }

  async #read() {
    try {
      const { check_back } = await getJSON(this.dataset.from ?? "");
      this.#points = check_back?.points ?? [];
      this.#trouble.textContent = "";
      this.#draw();
    } catch (error) {
      this.#say(error);
    }
  }

  #draw() {
    const focused = document.activeElement?.getAttribute("data-choice");
    this.#list.replaceChildren(...this.#points.map((point) => this.#item(point)));
    if (focused) this.#choice(focused)?.focus();
    this.#take.hidden = this.#open.length < 2;
  }

  /** What the coach said last, sent or not. @param {Point} point @returns {string|null} */
  #recorded({ note, said }) {
    return this.state.outcomes[note] ?? said;
  }

  get #open() {
    return this.#points.filter((point) => this.#recorded(point) === null);
  }

  /** @param {string} name */
  #choice(name) {
    return /** @type {HTMLElement|null} */ (this.querySelector(`[data-choice="${name}"]`));
  }

  /** @param {Point} point */
  #item(point) {
    const { note, number, title, cue, drill, proposal } = point;
    const recorded = this.#recorded(point);
    const choices = RESULTS.map(([result, label]) =>
      h(
        "button.choice",
        {
          type: "button",
          "aria-pressed": String(recorded === result),
          "data-choice": `${note} ${result}`,
          "data-proposed": recorded === null && proposal.result === result,
          onclick: () => this.workbench.actions.recordOutcomes([{ note, recorded, result }]),
        },
        label,
      ),
    );
    const used = [cue && cue !== title && `“${cue}”`, drill].filter(Boolean).join(", ");
    return h(
      "li",
      {},
      h("p", {}, h("b", {}, number ? `${number}. ${title}` : title)),
      used && h("p.small.muted", {}, used),
      h("div.choices", { role: "group", "aria-label": `What became of it: ${title}` }, ...choices),
      h("p.small.muted", {}, recorded ? proposal.why : `Proposed: ${resultLabel(proposal.result)}. ${proposal.why}`),
    );
  }

  #takeAll() {
    const open = this.#open;
    const { note, proposal } = open[0];
    this.workbench.actions.recordOutcomes(
      open.map(({ note, proposal }) => ({ note, recorded: null, result: proposal.result })),
    );
    this.#choice(`${note} ${proposal.result}`)?.focus();
  }

  /** @param {unknown} error */
  #say(error) {
    if (!(error instanceof Problem)) throw error;
    const gone = "The network is gone. What you say is kept; the proposals come when it is back.";
    this.#trouble.textContent = error.kind === "network" ? gone : error.message;
  }
}

/** @param {string} result */
function resultLabel(result) {
  return (RESULTS.find(([name]) => name === result)?.[1] ?? "").toLowerCase();
}

customElements.define("check-back", CheckBack);
