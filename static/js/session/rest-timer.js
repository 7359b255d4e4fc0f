// @ts-check
import { h } from "../core/dom.js";

const BY_SECONDS = 30;

/** What is left of the rest after a set. It counts from the set, so a reload loses nothing. */
export class RestTimer extends HTMLElement {
  #until = 0;
  #of = 0;
  /** @type {ReturnType<typeof setInterval>|undefined} */
  #tick;

  connectedCallback() {
    this.clock = h("span");
    this.bar = h("i");
    this.replaceChildren(
      h(
        "div.rest",
        { role: "timer", "aria-label": "Rest" },
        h("p.clock", {}, this.clock),
        h("button.btn", { type: "button", "aria-label": "30 seconds less", onclick: () => this.#by(-BY_SECONDS) }, "\u221230"),
        h("button.btn", { type: "button", "aria-label": "30 seconds more", onclick: () => this.#by(BY_SECONDS) }, "+30"),
        h("div.line", {}, this.bar),
      ),
    );
    this.#tick = setInterval(() => this.#draw(), 1000);
    this.#draw();
  }

  disconnectedCallback() {
    clearInterval(this.#tick);
  }

  /** @param {string} from when the set was done @param {number} seconds of rest */
  count(from, seconds) {
    if (this.dataset.from === from) return;
    this.dataset.from = from;
    this.#of = seconds;
    this.#until = Date.parse(from) + seconds * 1000;
    this.#draw();
  }

  /** @param {number} seconds */
  #by(seconds) {
    this.#until = Math.max(Date.now(), this.#until) + seconds * 1000;
    this.#of = Math.max(this.#of, (this.#until - Date.now()) / 1000);
    this.#draw();
  }

  #draw() {
    const left = Math.ceil((this.#until - Date.now()) / 1000);
    this.hidden = left <= 0;
    if (left <= 0 || !this.clock || !this.bar) return;
    const minutes = Math.floor(left / 60);
    const clock = `${minutes}:${String(left % 60).padStart(2, "0")}`;
    this.clock.replaceChildren(clock, " ", h("small", {}, "rest left"));
    this.bar.style.setProperty("--p", `${100 * Math.min(1, 1 - left / this.#of)}%`);
  }
}

customElements.define("rest-timer", RestTimer);
