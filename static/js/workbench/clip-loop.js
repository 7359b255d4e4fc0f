// @ts-check
import { repBeside, withEnd } from "../core/loop.js";
import { callOf } from "../core/review.js";

/** Playing a stretch of the clip again and again: between two marks, or one rep. */
export class ClipLoop {
  /**
   * @param {import("./workbench-part.js").WorkbenchStore} store
   * @param {import("../player/exact-player.js").ExactPlayer} player
   */
  constructor(store, player) {
    this.store = store;
    this.player = player;
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
    if (first === null || last === null) return this.store.set({ message: "Mark where the rep begins and ends first." });
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
}
