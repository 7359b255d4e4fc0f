// @ts-check
import { h } from "../core/dom.js";
import { WorkbenchPart } from "./workbench-part.js";
import { isReadOnly } from "./read-only.js";

/** What stands round the focus points: the opening words and when to film again. */
export class ReplyFields extends WorkbenchPart {
  start() {
    const fields = [
      ["opening", "Opening words", h("textarea.input", { rows: 2, id: "reply-opening" })],
      ["film_again_by", "Film again by", h("input.input", { type: "date", id: "reply-again" })],
      [
        "film_again_note",
        "What to film",
        h("input.input", { type: "text", id: "reply-what", placeholder: "Side view, same load" }),
      ],
    ];
    const part = this.getAttribute("part");
    this.on(isReadOnly, (readOnly) => (this.inert = readOnly));
    for (const [name, label, field] of /** @type {[string, string, HTMLInputElement][]} */ (
      fields
    )) {
      if ((name === "opening") !== (part === "opening")) continue;
      this.append(h("div.small-field", {}, h("label", { for: field.id }, label), field));
      this.#bind(/** @type {"opening"} */ (name), field);
    }
  }

  /** @param {"opening"|"film_again_by"|"film_again_note"} name @param {HTMLInputElement} field */
  #bind(name, field) {
    this.on(
      ({ reply }) => reply[name],
      (value) => {
        if (field !== document.activeElement) field.value = value ?? "";
      },
    );
    const empty = field.type === "date" ? null : "";
    field.addEventListener("input", () =>
      this.workbench.actions.editReply({ [name]: field.value || empty }),
    );
  }
}

customElements.define("reply-fields", ReplyFields);
