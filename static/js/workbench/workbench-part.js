// @ts-check
/**
 * What every part of the workbench is handed.
 * @typedef {import("../core/types.js").Review & {
 *   clip: string, frame: number, table: import("../core/frametable.js").FrameTable|null,
 *   note: string|null, rep: number|null, removed: boolean, canUndo: boolean, canRedo: boolean,
 *   library: import("../core/types.js").Entry[]|null, savedAt: Date|null, busy: boolean, said: string,
 *   save: {state: string, why: string}, loop: import("../core/loop.js").Loop|null,
 *   view: import("../core/zoom.js").View}} BenchState
 * @typedef {import("../core/store.js").Store<BenchState>} BenchStore
 * @typedef {{store: BenchStore, deeds: import("./actions.js").Deeds,
 *   library: Promise<import("../core/types.js").Entry[]>,
 *   commands: import("../core/commands.js").Commands,
 *   player: import("../player/exact-player.js").ExactPlayer}} Bench
 */

/** A part of the workbench: `start` is called once, when everything it needs is there. */
export class BenchPart extends HTMLElement {
  /** @type {Bench} */
  bench = /** @type {any} */ (null);

  /** @param {Bench} bench */
  attach(bench) {
    this.bench = bench;
    this.start();
  }

  start() {}

  get state() {
    return this.bench.store.state;
  }

  /** @template P @param {(state: BenchState) => P} pick @param {(picked: P) => void} show */
  on(pick, show) {
    return this.bench.store.on(pick, show);
  }
}

/** @param {BenchState} state @returns {import("../core/types.js").Clip} the clip on the stage */
export function clipOf(state) {
  return state.clips.find((clip) => clip.id === state.clip) ?? state.clips[0];
}

/** @param {BenchState} state how many reps the board has: as told, marked, noted or asked for */
export function repsOf(state) {
  const clip = clipOf(state);
  const marked = state.rep_calls.filter((call) => call.clip === clip.id).map((call) => call.rep);
  const noted = state.notes.filter((note) => note.clip === clip.id).map((note) => note.rep ?? 1);
  return Math.max(1, clip.reps ?? 1, state.rep ?? 1, ...marked, ...noted);
}
