// @ts-check
import { h } from "../core/dom.js";
import { WorkbenchPart } from "./workbench-part.js";

/** Loop and zoom: what is on, and the way back. */
export class ClipTools extends WorkbenchPart {
  start() {
    const tool = (/** @type {string} */ command, /** @type {object} */ more = {}) =>
      /** @type {HTMLButtonElement} */ (
        h("button.tool", { type: "button", onclick: () => this.workbench.commands.run(command), ...more })
      );
    const loop = tool("clip.loopRep");
    const out = tool("clip.zoomOut", { "aria-label": "Further away" });
    const whole = tool("clip.zoomWhole");
    const closer = tool("clip.zoomIn", { "aria-label": "Closer" });
    out.textContent = "−";
    closer.textContent = "+";
    this.append(loop, out, whole, closer);
    this.on(
      (state) => [state.loop, state.rep],
      () => {
        const { loop: on, rep } = this.state;
        loop.textContent = on ? `Loop ${on.first} to ${on.last}` : `Loop rep ${rep ?? 1}`;
        loop.setAttribute("aria-pressed", String(on !== null));
      },
    );
    loop.onclick = () => this.workbench.commands.run(this.state.loop ? "clip.loopOff" : "clip.loopRep");
    this.on(
      ({ view }) => view,
      ({ scale }) => {
        whole.textContent = scale === 1 ? "Whole" : `${Number(scale.toFixed(1))} ×`;
        whole.setAttribute("aria-label", scale === 1 ? "The whole clip is seen" : "Show the whole clip");
        whole.disabled = scale === 1;
        out.disabled = scale === 1;
      },
    );
  }
}

customElements.define("clip-tools", ClipTools);
