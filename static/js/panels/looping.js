// @ts-check
import { isOver, repBeside, withEnd } from "../core/loop.js";
import { callOf } from "../core/review.js";

/** A screen's refresh; the element has shown up to two more pictures' time when it can be turned. */
const LATE_S = 2 / 60;

/** Playing a stretch of the clip again and again: between two marks, or one rep. */
export class Looping {
  #turning = false;

  /**
   * @param {import("./bench.js").BenchStore} store
   * @param {import("../player/exact-player.js").ExactPlayer} player
   */
  constructor(store, player) {
    this.store = store;
    this.player = player;
    player.addEventListener("frame", () => void this.#turn());
    store.on(
      ({ loop }) => loop,
      () => (player.stretch = store.state.loop),
    );
    store.on(
      ({ clip }) => clip,
      () => store.set({ loop: null }),
    );
  }

  /** @param {"first"|"last"} end of the loop, set to the frame shown */
  mark(end) {
    const { table } = this.player;
    if (!table) return;
    const loop = withEnd(this.store.state.loop, end, this.player.destination, table.last);
    this.store.set({ loop });
  }

  /** The chosen rep again and again, or no longer. */
  rep() {
    const { clip, rep, rep_calls, loop } = this.store.state;
    const { first_frame: first, last_frame: last } = callOf(rep_calls, clip, rep ?? 1);
    if (first === null || last === null) return this.store.set({ said: "Mark where the rep begins and ends first." });
    const again = loop?.first === first && loop.last === last;
    this.store.set({ loop: again ? null : { first, last } });
    if (!again) void this.player.goTo(first).then(() => this.player.play());
  }

  off() {
    this.store.set({ loop: null });
  }

  /** To the marked rep before or after this frame. @param {1|-1} by */
  beside(by) {
    const { clip, rep_calls } = this.store.state;
    const here = rep_calls.filter((call) => call.clip === clip);
    const found = repBeside(here, this.player.destination, by);
    if (!found) return;
    this.store.set({ rep: found.rep });
    void this.player.goTo(Number(found.first_frame));
  }

  async #turn() {
    const { loop } = this.store.state;
    const { player } = this;
    if (!loop || !player.table || this.#turning || player.paused || player.turning) return;
    const seconds = player.table.start(player.currentFrame) + LATE_S * player.rate;
    if (!isOver(loop, Math.max(player.currentFrame, player.table.at(seconds)))) return;
    this.#turning = true;
    await this.player.goTo(loop.first);
    this.#turning = false;
    if (this.store.state.loop) void this.player.play();
  }
}
