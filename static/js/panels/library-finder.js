// @ts-check
import { find } from "../core/find.js";
import { h } from "../dom.js";

let count = 0;

/**
 * A field that finds library entries by a few letters (WAI-ARIA combobox with a list).
 * Set `entries`; listen to "pick", whose detail is the entry.
 */
export class LibraryFinder extends HTMLElement {
  /** @type {import("../core/types.js").Entry[]} */
  entries = [];
  #id = `found-${(count += 1)}`;
  #input = /** @type {HTMLInputElement} */ (
    h("input", {
      type: "text",
      role: "combobox",
      autocomplete: "off",
      spellcheck: "false",
      "aria-expanded": "false",
      "aria-autocomplete": "list",
      "aria-controls": this.#id,
    })
  );
  #list = h("ul", {
    role: "listbox",
    id: this.#id,
    "aria-label": "Found in the library",
    hidden: true,
  });
  /** @type {import("../core/types.js").Entry[]} */
  #found = [];
  #at = 0;

  connectedCallback() {
    if (this.#input.isConnected) return;
    this.classList.add("finder");
    const label = this.getAttribute("label") ?? "Find a fault, cue or drill";
    this.#input.setAttribute("aria-label", label);
    this.#input.placeholder = label;
    this.#input.addEventListener("input", () => this.#look());
    this.#input.addEventListener("keydown", (event) => this.#key(event));
    this.#input.addEventListener("blur", () => this.#show([]));
    this.append(this.#input, this.#list);
  }

  focus() {
    this.#input.focus();
  }

  #look() {
    this.#at = 0;
    const found = find(this.entries, this.#input.value, 7);
    const nothing = this.#input.value.trim() && !found.length;
    this.#show(
      found.map(({ entry }) => entry),
      found,
    );
    if (nothing) {
      this.#list.hidden = false;
      this.#list.replaceChildren(
        h(
          "li.nothing",
          { role: "option", "aria-disabled": "true" },
          "Nothing in the library. Write it below.",
        ),
      );
    }
  }

  /**
   * @param {import("../core/types.js").Entry[]} entries
   * @param {{entry: import("../core/types.js").Entry, from: number, to: number}[]} [found]
   */
  #show(entries, found = []) {
    this.#found = entries;
    this.#list.hidden = !entries.length;
    this.#input.setAttribute("aria-expanded", String(entries.length > 0));
    this.#list.replaceChildren(
      ...found.map(({ entry, from, to }, at) => this.#option(entry, from, to, at)),
    );
    this.#mark();
  }

  /** @param {import("../core/types.js").Entry} entry @param {number} from @param {number} to @param {number} at */
  #option(entry, from, to, at) {
    const { kind, name, aside } = entry;
    const words = h(
      "span",
      {},
      name.slice(0, from),
      h("mark", {}, name.slice(from, to)),
      name.slice(to),
    );
    const option = h(
      "li",
      { role: "option", id: `${this.#id}-${at}` },
      h("span.kind", {}, kind),
      words,
      h("span.seen", {}, aside),
    );
    option.addEventListener("pointerdown", (event) => {
      event.preventDefault(); // the field keeps the focus, or its blur would close the list first
      this.#pick(at);
    });
    return option;
  }

  #mark() {
    [...this.#list.children].forEach((option, at) =>
      option.setAttribute("aria-selected", String(at === this.#at)),
    );
    if (this.#found.length)
      this.#input.setAttribute("aria-activedescendant", `${this.#id}-${this.#at}`);
    else this.#input.removeAttribute("aria-activedescendant");
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const { length } = this.#found;
    if (event.key === "Enter") event.preventDefault();
    if (!length) return;
    if (event.key === "ArrowDown") this.#at = (this.#at + 1) % length;
    else if (event.key === "ArrowUp") this.#at = (this.#at + length - 1) % length;
    else if (event.key === "Enter") return this.#pick(this.#at);
    else if (event.key === "Escape") this.#show([]);
    else return;
    event.preventDefault();
    this.#mark();
  }

  /** @param {number} at */
  #pick(at) {
    const entry = this.#found[at];
    this.#input.value = "";
    this.#show([]);
    this.dispatchEvent(new CustomEvent("pick", { detail: entry }));
  }
}

customElements.define("library-finder", LibraryFinder);
