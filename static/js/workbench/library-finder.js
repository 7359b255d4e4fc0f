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
 * is null for words of the coach's own; "wish" with the letters that Enter was pressed on before
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
  #said = h("p.said", { role: "status", hidden: true });
  /** @type {Option[]} */
  #found = [];
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
    this.append(this.#input, this.#list, this.#said);
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

  /** @param {Option[]} found @param {string} said */
  #show(found, said) {
    this.#found = found;
    this.#list.hidden = !found.length;
    this.#input.setAttribute("aria-expanded", String(found.length > 0));
    this.#list.replaceChildren(...found.map((option, at) => this.#option(option, at)));
    this.#said.hidden = !said;
    if (this.#said.textContent !== said) this.#said.textContent = said;
    this.#mark(0);
  }

  /** @param {Option} option @param {number} at */
  #option({ entry: { kind, name, aside }, from, to }, at) {
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

  /** @param {number} at */
  #mark(at) {
    this.#at = at;
    [...this.#list.children].forEach((option, place) =>
      option.setAttribute("aria-selected", String(place === at)),
    );
    if (at >= 0 && this.#found.length)
      this.#input.setAttribute("aria-activedescendant", `${this.#id}-${at}`);
    else this.#input.removeAttribute("aria-activedescendant");
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.key === "Enter") {
      event.preventDefault();
      this.#enter();
    }
    const { length } = this.#found;
    if (!length) return;
    if (event.key === "ArrowDown") this.#mark((this.#at + 1) % length);
    else if (event.key === "ArrowUp") this.#mark((Math.max(this.#at, 0) + length - 1) % length);
    else return; // Escape leaves the field, list and all: the letters after it are keys
    event.preventDefault();
  }

  #enter() {
    if (this.#found.length && this.#at >= 0) this.#pick(this.#at);
    else if (!this.#entries && this.#letters) this.#tell("wish", this.#letters);
  }

  /** @param {number} at */
  #pick(at) {
    this.#tell("pick", this.#found[at].entry);
  }

  /** @param {"pick"|"wish"} name @param {Entry|string} detail */
  #tell(name, detail) {
    this.#input.value = "";
    this.#close();
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }
}

/** @param {string} words @returns {Option[]} */
function inOwnWords(words) {
  const kinds = /** @type {(keyof typeof OWN)[]} */ (Object.keys(OWN));
  return kinds.map((kind) => ({
    entry: { id: null, kind, name: words, aside: OWN[kind], phase: null },
    from: 0,
    to: 0,
  }));
}

customElements.define("library-finder", LibraryFinder);
