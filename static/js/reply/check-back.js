// @ts-check
import { h } from "../dom.js";
import { getJSON, Problem, send } from "../net.js";
import { BenchPart } from "../panels/bench.js";

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
 * `data-from` is the address of the points, `data-say` that of one outcome with __id__ for the note.
 *
 * @typedef {{note: string, number: number|null, title: string, cue: string, drill: string,
 *   proposal: {result: string, why: string}, said: string|null}} Point
 */
export class CheckBack extends BenchPart {
  /** @type {Point[]} */
  #points = [];
  #list = h("ol.back-points");
  #take = h(
    "button.btn.dense",
    { type: "button", hidden: true, onclick: () => void this.#takeAll() },
    "Take all as proposed",
  );
  #trouble = h("p.small.trouble", { role: "status" });

  start() {
    this.append(this.#list, this.#take, this.#trouble);
    this.on(
      ({ savedAt }) => savedAt, // a rep was called: the proposals may be others now
      () => void this.#read(),
    );
  }

  async #read() {
    try {
      const { check_back } = await getJSON(this.dataset.from ?? "");
      this.#points = check_back?.points ?? [];
      this.#draw();
    } catch (error) {
      this.#say(error);
    }
  }

  #draw() {
    const focused = document.activeElement?.getAttribute("data-choice");
    this.#list.replaceChildren(...this.#points.map((point) => this.#item(point)));
    if (focused) this.#choice(focused)?.focus();
    const open = this.#points.filter(({ said }) => said === null);
    this.#take.hidden = open.length < 2;
  }

  /** @param {string} name */
  #choice(name) {
    return /** @type {HTMLElement|null} */ (this.querySelector(`[data-choice="${name}"]`));
  }

  /** @param {Point} point */
  #item(point) {
    const { note, number, title, cue, drill, proposal, said } = point;
    const choices = RESULTS.map(([result, words]) =>
      h(
        "button.choice",
        {
          type: "button",
          "aria-pressed": String(said === result),
          "data-choice": `${note} ${result}`,
          "data-proposed": said === null && proposal.result === result,
          onclick: () => void this.#sayOne(note, result),
        },
        words,
      ),
    );
    const used = [cue && cue !== title && `“${cue}”`, drill].filter(Boolean).join(", ");
    return h(
      "li",
      {},
      h("p", {}, h("b", {}, number ? `${number}. ${title}` : title)),
      used && h("p.small.muted", {}, used),
      h("div.choices", { role: "group", "aria-label": `What became of it: ${title}` }, ...choices),
      h("p.small.muted", {}, said ? proposal.why : `Proposed: ${words(proposal.result)}. ${proposal.why}`),
    );
  }

  /** @param {string} note @param {string} result */
  async #sayOne(note, result) {
    try {
      await this.#put(note, result);
      this.#trouble.textContent = "";
    } catch (error) {
      this.#say(error);
    }
    await this.#read();
  }

  async #takeAll() {
    const open = this.#points.filter(({ said }) => said === null);
    try {
      for (const { note, proposal } of open) await this.#put(note, proposal.result);
      this.#trouble.textContent = "";
    } catch (error) {
      this.#say(error);
    }
    await this.#read();
    this.#choice(`${open[0].note} ${open[0].proposal.result}`)?.focus();
  }

  /** @param {string} note @param {string} result */
  async #put(note, result) {
    if (this.state.claim === null) await this.bench.deeds.saver.claim();
    const url = (this.dataset.say ?? "").replace("__id__", note);
    const { may_publish } = await send("PUT", url, { result });
    this.bench.store.set({ may_publish });
  }

  /** @param {unknown} error */
  #say(error) {
    if (!(error instanceof Problem)) throw error;
    const gone = "The network is gone, so this was not kept. Press it again when it is back.";
    this.#trouble.textContent = error.kind === "network" ? gone : error.message;
  }
}

/** @param {string} result */
function words(result) {
  return (RESULTS.find(([name]) => name === result)?.[1] ?? "").toLowerCase();
}

customElements.define("check-back", CheckBack);
