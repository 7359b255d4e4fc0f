// @ts-check
import { callOf, inOrder } from "../core/review.js";
import { follow, h, shape } from "../core/dom.js";
import { WorkbenchPart } from "./workbench-part.js";
import { isReadOnly } from "./read-only.js";
import { CALLS } from "./rep-call-labels.js";

/** The call on the chosen rep, where it lies on the clip, and what broke it. */
export class RepCallBar extends WorkbenchPart {
  #title = h("b.of");
  #choice = h("div.choice.dense");
  #faults = h("div.broken-by");
  #edges = h("span.edges");

  start() {
    this.on(isReadOnly, (readOnly) => (this.inert = readOnly));
    const group = h(
      "fieldset.callset",
      {},
      h("legend.vh", {}, "Call on the chosen rep"),
      this.#choice,
    );
    for (const [call, { full, short }] of Object.entries(CALLS)) {
      const input = h("input", { type: "radio", name: "call", value: call, "aria-label": full });
      input.addEventListener("change", () => this.workbench.actions.callRep(call));
      this.#choice.append(h("label", { title: full }, input, shape(call), short));
    }
    const edge = (/** @type {string} */ name, /** @type {string} */ word) =>
      h("button.tool", { type: "button", onclick: () => this.workbench.commands.run(name) }, word);
    const where = h(
      "div.where",
      {},
      this.#edges,
      edge("rep.begins", "Begins here"),
      edge("rep.ends", "Ends here"),
    );
    this.append(this.#title, group, this.#faults, where);
    this.on(
      ({ clip, rep, rep_calls, notes, library }) => [clip, rep, rep_calls, notes, library],
      () => this.#draw(),
    );
  }

  #draw() {
    const { clip, rep_calls } = this.state;
    const rep = this.state.rep ?? 1;
    const now = callOf(rep_calls, clip, rep);
    this.#title.textContent = `Rep ${rep}`;
    for (const input of this.#choice.querySelectorAll("input"))
      input.checked = input.value === now.call;
    const { first_frame, last_frame } = now;
    this.#edges.textContent =
      first_frame === null ? "not marked" : `frames ${first_frame} to ${last_frame}`;
    this.#drawFaults(now);
  }

  /**
   * The faults noted in this rep, to tick: which of them broke it.
   * @param {import("../core/types.js").RepCall} now
   */
  #drawFaults(now) {
    const noted = inOrder(this.state.notes, this.state.clips).filter(
      (note) => note.clip === now.clip && note.rep === now.rep && note.fault !== null,
    );
    const names = new Map(noted.map((note) => [note.fault, note.fault_name]));
    for (const id of now.faults) {
      const entry = this.state.library?.find((entry) => entry.kind === "fault" && entry.id === id);
      if (!names.has(id)) names.set(id, entry?.name ?? "a fault of the library");
    }
    this.#faults.hidden = now.call !== "not-standard";
    this.#faults.classList.toggle("none", names.size === 0);
    this.#faults.dataset.empty = "Note the fault that broke it";
    follow(
      this.#faults,
      [...names],
      ([id]) => String(id),
      box,
      (label, [id, name]) => {
        const input = /** @type {HTMLInputElement} */ (label.firstElementChild);
        input.checked = now.faults.includes(Number(id));
        input.onchange = () => {
          const others = now.faults.filter((fault) => fault !== id);
          this.workbench.actions.editCall(now.rep, {
            faults: input.checked ? [...others, Number(id)] : others,
          });
        };
        /** @type {HTMLElement} */ (label.lastElementChild).textContent = name;
      },
    );
  }
}

function box() {
  return h("label.tick", {}, h("input", { type: "checkbox" }), h("span"));
}

customElements.define("rep-call", RepCallBar);
