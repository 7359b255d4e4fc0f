// @ts-check
import { h } from "../core/dom.js";
import { WorkbenchPart } from "./workbench-part.js";
import { isReadOnly } from "./read-only.js";

/** Take the last action back, or do it again; also Ctrl Z and Ctrl Shift Z outside a field. */
export class UndoRedo extends WorkbenchPart {
  start() {
    const button = (/** @type {string} */ command, /** @type {string} */ label) =>
      /** @type {HTMLButtonElement} */ (
        h("button.tool", { type: "button", onclick: () => this.workbench.commands.run(command) }, label)
      );
    const [undo, redo] = [button("page.undo", "Undo"), button("page.redo", "Do again")];
    this.append(undo, redo);
    this.on(
      (state) => [state.canUndo, state.canRedo, isReadOnly(state)],
      ([canUndo, canRedo, readOnly]) => {
        undo.disabled = !canUndo || readOnly;
        redo.disabled = !canRedo || readOnly;
      },
    );
  }
}

customElements.define("undo-redo", UndoRedo);
