// @ts-check
import { moved, sized, stepped, transformOf, WHOLE } from "../core/zoom.js";

/** Share of what is seen that one press of a key moves. */
const NUDGE = 0.2;
const WHEEL = 0.002;

/** A closer look at the clip: keys, buttons, wheel and drag on one view. */
export class ClipZoom {
  /**
   * @param {import("./workbench-part.js").WorkbenchStore} store
   * @param {import("../player/exact-player.js").ExactPlayer} player
   */
  constructor(store, player) {
    this.store = store;
    this.player = player;
    store.on(
      ({ view }) => view,
      (view) => this.#show(view),
    );
    store.on(
      ({ clip }) => clip,
      () => this.whole(),
    );
    player.addEventListener("wheel", (event) => this.#wheel(event), { passive: false });
    player.addEventListener("pointerdown", (event) => this.#drag(event));
    player.addEventListener("dblclick", (event) => this.#closer(event));
  }

  /** @param {1|-1} by */
  step(by) {
    this.store.set({ view: stepped(this.store.state.view, by) });
  }

  /** @param {number} right @param {number} down presses */
  nudge(right, down) {
    this.store.set({ view: moved(this.store.state.view, right * NUDGE, down * NUDGE) });
  }

  whole() {
    this.store.set({ view: WHOLE });
  }

  /** @param {import("../core/zoom.js").View} view */
  #show(view) {
    this.player.style.setProperty("--view", transformOf(view));
    this.player.classList.toggle("closer", view.scale > 1);
  }

  /** The point of the clip under a pointer, as shares. @param {MouseEvent} event */
  #point({ clientX, clientY }) {
    const { left, top, width, height } = this.player.getBoundingClientRect();
    const { scale, x, y } = this.store.state.view;
    return {
      x: x + ((clientX - left) / width - 0.5) / scale,
      y: y + ((clientY - top) / height - 0.5) / scale,
    };
  }

  /** @param {WheelEvent} event */
  #wheel(event) {
    const { view } = this.store.state;
    if (!event.ctrlKey && view.scale === 1) return; // the page's own scrolling; pinch comes as Ctrl
    event.preventDefault();
    const scale = view.scale * Math.exp(-event.deltaY * WHEEL);
    this.store.set({ view: sized(view, scale, this.#point(event)) });
  }

  /** @param {MouseEvent} event */
  #closer(event) {
    const { view } = this.store.state;
    if (view.scale > 1) return this.whole();
    this.store.set({ view: sized(view, 3, this.#point(event)) });
  }

  /** @param {PointerEvent} event */
  #drag(event) {
    if (this.store.state.view.scale === 1 || event.button !== 0) return;
    event.preventDefault();
    const stop = new AbortController();
    const { width, height } = this.player.getBoundingClientRect();
    this.player.setPointerCapture(event.pointerId);
    const move = (/** @type {PointerEvent} */ { movementX, movementY }) => {
      const view = moved(this.store.state.view, -movementX / width, -movementY / height);
      this.store.set({ view });
    };
    const end = () => stop.abort();
    this.player.addEventListener("pointermove", move, { signal: stop.signal });
    for (const name of ["pointerup", "pointercancel"])
      this.player.addEventListener(name, end, { signal: stop.signal });
  }
}
