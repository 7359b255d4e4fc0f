// @ts-check
import { h } from "../core/dom.js";
import { getBlob } from "../core/net.js";
import { WorkbenchPart } from "./workbench-part.js";

/** The athlete's sessions to come, and what this review changed in them. The server draws it. */
export class ComingSessions extends WorkbenchPart {
  start() {
    void this.workbench.library.then(() => this.#show()); // after the clip and what notes need
  }

  async #show() {
    const drawn = await getBlob(this.state.urls.coming).catch(() => null);
    if (drawn) this.innerHTML = await drawn.text();
    else this.replaceChildren(h("p.small.muted", {}, "The sessions to come could not be read now."));
  }
}

customElements.define("coming-sessions", ComingSessions);
