// @ts-check
import { h } from "../core/dom.js";
import { KEYS } from "../core/keys.js";
import { WorkbenchPart } from "./workbench-part.js";

const NAMES = {
  ArrowRight: "→",
  ArrowLeft: "←",
  ArrowUp: "↑",
  ArrowDown: "↓",
  "Shift+ArrowRight": "Shift →",
  "Shift+ArrowLeft": "Shift ←",
  Delete: "Del",
  "Ctrl+Enter": "Ctrl Enter",
  PageDown: "Page ↓",
  PageUp: "Page ↑",
  "Ctrl+ArrowLeft": "Ctrl ←",
  "Ctrl+ArrowRight": "Ctrl →",
  "Ctrl+ArrowUp": "Ctrl ↑",
  "Ctrl+ArrowDown": "Ctrl ↓",
  "Ctrl+Z": "Ctrl Z",
  "Ctrl+Shift+Z": "Ctrl Shift Z",
  Escape: "Esc",
};

/** @param {string} key */
function keyName(key) {
  return NAMES[/** @type {"Escape"} */ (key)] ?? key;
}

/** Every key and what it does, drawn from the key table itself so that it cannot be out of date. */
export class KeyHelp extends WorkbenchPart {
  #dialog = /** @type {HTMLDialogElement} */ (
    h("dialog.keys", { "aria-labelledby": "keys-title" })
  );

  start() {
    /** @type {Map<string, HTMLElement>} */
    const groups = new Map();
    // In the order of the commands: a table of keys puts digits first whatever its author wrote.
    const keys = Object.entries(KEYS);
    for (const { name, group, title } of this.workbench.commands.all) {
      const found = keys.filter(([, command]) => command === name).map(([key]) => key);
      if (!found.length) continue;
      if (/^rep\.[2-9]$/.test(name)) continue;
      if (!groups.has(group)) groups.set(group, h("dl.keylist"));
      groups
        .get(group)
        ?.append(
          h(
            "dt",
            {},
            h(
              "kbd",
              {},
              name === "rep.1" ? "1 to 9" : found.map(keyName).join(" or "),
            ),
          ),
          h("dd", {}, title),
        );
    }
    const columns = [...groups].map(([group, list]) => h("section", {}, h("h3", {}, group), list));
    const close = h(
      "button.btn.dense",
      { type: "button", onclick: () => this.#dialog.close() },
      "Close",
    );
    this.#dialog.append(
      h("header", {}, h("h2", { id: "keys-title" }, "Keys"), close),
      h("div.keycols", {}, ...columns),
    );
    this.append(this.#dialog);
  }

  open() {
    this.#dialog.showModal();
  }
}

customElements.define("key-help", KeyHelp);
