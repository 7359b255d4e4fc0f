// @ts-check
import { find } from "../core/find.js";
import { h } from "../core/dom.js";

let count = 0;
const MOST = 7;
/** What a coach may put in words of their own; a fault of their own belongs in the library. */
const OWN = /** @type {const} */ ({ cue: "Use it as the cue", drill: "Use it as the drill" });

/**
 * @typedef {import("../core/types.js").Entry} Entry
 * @typedef {{entry: Entry, from: number, to: number}} Option what is offered, and the letters of
 *   its name that matched
 */

/**
 * A field that finds library entries by a few letters (WAI-ARIA combobox with a list).
 *
 * Set `entries`, null while they are on their way. Events: "pick" with the entry chosen, whose id
 * is null for words of the coach's own; "search" with the letters that Enter was pressed on before
 * the entries were here.
 */
export class LibraryFinder extends HTMLElement {
  /** @type {Entry[]|null} */
  #entries = null;
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
  #message = h("p.finder-message", { role: "status", hidden: true });
  /** @type {Option[]} */
  #options = [];
  #at = 0;

  connectedCallback() {
    if (this.#input.isConnected) return;
    this.classList.add("finder");
    const label = this.getAttribute("label") ?? "Find a fault, cue or drill";
    this.#input.setAttribute("aria-label", label);
    this.#input.placeholder = label;
    this.#input.addEventListener("input", () => this.#look());
    this.#input.addEventListener("focus", () => this.#look());
    this.#input.addEventListener("keydown", (event) => this.#key(event));
    this.#input.addEventListener("blur", () => this.#close());
    this.append(this.#input, this.#list, this.#message);
  }

  /** @param {Entry[]|null} entries */
  set entries(entries) {
    if (entries === this.#entries) return;
    this.#entries = entries;
    // Letters may stand here since before the entries arrived: look again for them.
    if (this.#input === document.activeElement) this.#look();
  }

  focus() {
    this.#input.focus();
  }

  get #letters() {
    return this.#input.value.trim();
  }

  #look() {
    const letters = this.#letters;
    if (!letters) return this.#close();
    if (!this.#entries) return this.#show([], "Loading the library");
    const found = find(this.#entries, letters, MOST);
    if (found.length) this.#show(found, "");
    else this.#show(inOwnWords(letters), "Nothing in the library.");
    // Words of the coach's own are chosen on purpose: a slip of the finger must not become a cue.
    this.#mark(found.length ? 0 : -1);
  }

  #close() {
    this.#show([], "");
  }

  /** @param {Option[]} options @param {string} message */
  #show(options, message) {
    this.#options = options;
    this.#list.hidden = !options.length;
    this.#input.setAttribute("aria-expanded", String(options.length > 0));
    this.#list.replaceChildren(...options.map((option, at) => this.#option(option, at)));
    this.#message.hidden = !message;
    if (this.#message.textContent !== message) this.#message.textContent = message;
    this.#mark(0);
  }

  /** @param {Option} option @param {number} at */
  #option({ entry: { kind, name, aside }, from, to }, at) {
    const label = h(
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
      label,
      h("span.seen", {}, aside),
    );
    option.addEventListener("pointerdown", (event) => {
      event.preventDefault(); // the field keeps the focus, or its blur would close the list first
      this.#pick(at);
    });
    return option;
  }

  /** @param {number} at */
  #mark(at) {
    this.#at = at;
    [...this.#list.children].forEach((option, place) =>
      option.setAttribute("aria-selected", String(place === at)),
    );
    if (at >= 0 && this.#options.length)
      this.#input.setAttribute("aria-activedescendant", `${this.#id}-${at}`);
    else this.#input.removeAttribute("aria-activedescendant");
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.key === "Enter") {
      event.preventDefault();
      this.#enter();
    }
    const { length } = this.#options;
    if (!length) return;
    if (event.key === "ArrowDown") this.#mark((this.#at + 1) % length);
    else if (event.key === "ArrowUp") this.#mark((Math.max(this.#at, 0) + length - 1) % length);
    else return; // Escape leaves the field, list and all: the letters after it are keys
    event.preventDefault();
  }

  #enter() {
    if (this.#options.length && this.#at >= 0) this.#pick(this.#at);
    else if (!this.#entries && this.#letters) this.#emit("search", this.#letters);
  }

  /** @param {number} at */
  #pick(at) {
    this.#emit("pick", this.#options[at].entry);
  }

  /** @param {"pick"|"search"} name @param {Entry|string} detail */
  #emit(name, detail) {
    this.#input.value = "";
    this.#close();
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }
}

/** @param {string} text @returns {Option[]} */
function inOwnWords(text) {
  const kinds = /** @type {(keyof typeof OWN)[]} */ (Object.keys(OWN));
  return kinds.map((kind) => ({
    entry: { id: null, kind, name: text, aside: OWN[kind], phase: null },
    from: 0,
    to: 0,
  }));
}

customElements.define("library-finder", LibraryFinder);
