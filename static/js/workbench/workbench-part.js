// @ts-check
/**
 * What every part of the workbench is handed.
 * @typedef {import("../core/types.js").Review & {
 *   clip: string, frame: number, table: import("../core/frametable.js").FrameTable|null,
 *   note: string|null, rep: number|null, removed: boolean, canUndo: boolean, canRedo: boolean,
 *   library: import("../core/types.js").Entry[]|null, savedAt: Date|null, busy: boolean, message: string,
 *   save: {state: string, why: string}, loop: import("../core/loop.js").Loop|null,
 *   view: import("../core/zoom.js").View}} WorkbenchState
 * @typedef {import("../core/store.js").Store<WorkbenchState>} WorkbenchStore
 * @typedef {{store: WorkbenchStore, actions: import("./actions.js").ReviewActions,
 *   library: Promise<import("../core/types.js").Entry[]>,
 *   commands: import("../core/commands.js").Commands,
 *   player: import("../player/exact-player.js").ExactPlayer}} Workbench
 */

/** A part of the workbench: `start` is called once, when everything it needs is there. */
export class WorkbenchPart extends HTMLElement {
  /** @type {Workbench} */
  workbench = /** @type {any} */ (null);

  /** @param {Workbench} workbench */
  attach(workbench) {
    this.workbench = workbench;
    this.start();
  }

  start() {}

  get state() {
    return this.workbench.store.state;
  }

  /** @template P @param {(state: WorkbenchState) => P} pick @param {(picked: P) => void} show */
  on(pick, show) {
    return this.workbench.store.on(pick, show);
  }
}

/** @param {WorkbenchState} state @returns {import("../core/types.js").Clip} the clip on the stage */
export function clipOf(state) {
  return state.clips.find((clip) => clip.id === state.clip) ?? state.clips[0];
}

/** @param {WorkbenchState} state how many reps the board has: as told, marked, noted or asked for */
export function repsOf(state) {
  const clip = clipOf(state);
  const marked = state.rep_calls.filter((call) => call.clip === clip.id).map((call) => call.rep);
  const noted = state.notes.filter((note) => note.clip === clip.id).map((note) => note.rep ?? 1);
  return Math.max(1, clip.reps ?? 1, state.rep ?? 1, ...marked, ...noted);
}
