// @ts-check
import { seconds } from "../core/timecode.js";
import { h, shape } from "../core/dom.js";
import { ExactPlayer, RATES } from "./exact-player.js";

/**
 * Frame, time, step, play and rate for the `<exact-player>` whose id is in `for`.
 * Buttons stay quiet: they recede beside the clip until they are needed.
 */
export class PlayerControls extends HTMLElement {
  /** @type {AbortController|null} */
  #stop = null;

  connectedCallback() {
    const player = document.getElementById(this.getAttribute("for") ?? "");
    if (!(player instanceof ExactPlayer))
      throw new Error("<player-controls> needs for=ID of an <exact-player>.");
    this.#stop = new AbortController();
    this.#build(player);
    this.#follow(player, this.#stop.signal);
  }

  disconnectedCallback() {
    this.#stop?.abort();
    this.replaceChildren();
  }

  /** @param {ExactPlayer} player */
  #build(player) {
    const rate = h(
      "select.rate",
      { "aria-label": "Speed" },
      ...RATES.map((value) =>
        h("option", { value, selected: value === player.rate }, `${value} ×`),
      ),
    );
    rate.addEventListener(
      "change",
      () => (player.rate = Number(/** @type {HTMLSelectElement} */ (rate).value)),
    );
    this.append(
      h(
        "span.at",
        {},
        h("b", {}, "frame 0"),
        h("span.muted", {}, ""),
        h("span.when.nowrap", {}, ""),
      ),
      h(
        "button",
        { type: "button", "aria-label": "Back one frame", onclick: () => player.step(-1) },
        shape("back"),
      ),
      h(
        "button.toggle",
        { type: "button", "aria-label": "Play", onclick: () => player.toggle() },
        shape("play"),
      ),
      h(
        "button",
        { type: "button", "aria-label": "On one frame", onclick: () => player.step(1) },
        shape("on"),
      ),
      rate,
    );
  }

  /** @param {ExactPlayer} player @param {AbortSignal} signal */
  #follow(player, signal) {
    const find = (/** @type {string} */ what) =>
      /** @type {HTMLElement} */ (this.querySelector(what));
    const [frame, count, when] = [find(".at b"), find(".at .muted"), find(".when")];
    const [toggle, rate] = [find(".toggle"), /** @type {HTMLSelectElement} */ (find(".rate"))];
    const show = () => {
      if (!player.table) return;
      frame.textContent = `frame ${player.currentFrame}`;
      count.textContent = ` of ${player.table.last}, `;
      when.textContent = seconds(player.table.start(player.currentFrame));
    };
    const state = () => {
      toggle.replaceChildren(shape(player.paused ? "play" : "pause"));
      toggle.setAttribute("aria-label", player.paused ? "Play" : "Pause");
      rate.value = String(player.rate);
    };
    player.addEventListener("frame", show, { signal });
    player.addEventListener("playstate", state, { signal });
    show();
  }
}

customElements.define("player-controls", PlayerControls);
