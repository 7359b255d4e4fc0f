// @ts-check
import { readersZone, timeIn } from "../core/clock.js";
import { WorkbenchPart } from "./workbench-part.js";

/** Whether what was typed is safe, and where. */
export class SaveState extends WorkbenchPart {
  start() {
    this.setAttribute("role", "status");
    this.on(
      ({ save, savedAt }) => [save, savedAt],
      () => this.#draw(),
    );
  }

  #draw() {
    const {
      save: { state, why },
      savedAt,
    } = this.state;
    this.dataset.state = state;
    if (state === "saved")
      this.textContent = savedAt ? `Saved ${timeIn(savedAt, readersZone())}` : "All saved";
    else if (state === "saving") this.textContent = "Saving";
    else this.textContent = state === "kept" ? `Kept here, ${why}` : `Not saved: ${why}`;
  }
}

customElements.define("save-state", SaveState);
