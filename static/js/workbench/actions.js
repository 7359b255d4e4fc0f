// @ts-check
import { newId } from "../core/ids.js";
import { callOf, inOrder, ranked, repAt } from "../core/review.js";
import { clipOf } from "./workbench-part.js";

/**
 * What a coach does to a review. Each action changes the store first, so the page answers at once,
 * and hands the change on to be saved.
 * @typedef {import("../core/types.js").Note} Note
 * @typedef {import("../core/types.js").RepCall} RepCall
 */
export class ReviewActions {
  /**
   * @param {import("./workbench-part.js").WorkbenchStore} store
   * @param {import("./review-edits.js").ReviewEdits} edits
   * @param {import("../player/exact-player.js").ExactPlayer} player
   */
  constructor(store, edits, player) {
    this.store = store;
    this.edits = edits;
    this.player = player;
  }

  get state() {
    return this.store.state;
  }

  /**
   * What became of points of the earlier reply. A coach's word is never taken out of the record, so
   * the first one on a point is no action to be undone; a changed one is.
   * @param {{note: string, recorded: string|null, result: string}[]} points
   */
  recordOutcomes(points) {
    const fresh = points.filter(({ recorded, result }) => recorded !== result);
    for (const { note, recorded, result } of fresh) {
      if (recorded === null && !this.edits.isLocked) this.edits.setOutcome(note, result);
    }
    const again = fresh.filter(({ recorded }) => recorded !== null);
    if (again.length)
      this.edits.apply(
        ...again.map(({ note, recorded, result }) => ({
          what: `outcome:${note}`,
          before: recorded,
          after: result,
        })),
      );
  }

  /** @param {string|null} id @returns {Note|undefined} */
  noteOf(id) {
    return this.state.notes.find((note) => note.id === id);
  }

  /** @param {number} frame of the clip on the stage */
  goTo(frame) {
    return this.player.goTo(frame);
  }

  /** @param {string} id show another clip */
  showClip(id) {
    if (id !== this.state.clip) this.store.set({ clip: id, frame: 0, table: null, rep: 1 });
  }

  /** Note what is on the screen. @param {{rep?: number|null, phase?: string|null}} [place] */
  addNote(place = {}) {
    const { clip, rep_calls } = this.state;
    const frame = this.player.destination;
    const rep = repAt(rep_calls, clip, frame) ?? this.state.rep;
    /** @type {Note} */
    const note = {
      id: newId(),
      clip,
      first_frame: frame,
      last_frame: frame,
      phase: null,
      rep,
      text: "",
      fault: null,
      fault_name: "",
      cue: null,
      cue_text: "",
      drill: null,
      drill_text: "",
      rank: null,
      ...place,
    };
    if (this.edits.isLocked) return;
    this.player.pause();
    this.edits.apply({ what: `note:${note.id}`, before: null, after: note });
    this.store.set({ note: note.id, rep: note.rep });
  }

  /** @param {string} id @param {Partial<Note>} part */
  editNote(id, part) {
    const old = this.noteOf(id);
    if (!old) return;
    this.edits.apply({ what: `note:${id}`, before: old, after: { ...old, ...part } });
  }

  /** Open a note and go to its moment. @param {string|null} id */
  async selectNote(id) {
    const note = this.noteOf(id);
    if (!note) return this.store.set({ note: null });
    this.showClip(note.clip);
    this.store.set({ note: note.id, rep: note.rep ?? this.state.rep });
    await this.player.goTo(note.first_frame);
  }

  /** The note before or after the open one, in their own order. @param {number} by */
  nextNote(by) {
    const notes = inOrder(this.state.notes, this.state.clips);
    if (!notes.length) return;
    const at = notes.findIndex((note) => note.id === this.state.note);
    const next = at < 0 ? (by > 0 ? 0 : notes.length - 1) : (at + by + notes.length) % notes.length;
    void this.selectNote(notes[next].id);
  }

  /** The open note begins or ends on the frame shown. @param {"first_frame"|"last_frame"} edge */
  setEdge(edge) {
    const note = this.noteOf(this.state.note);
    const frame = this.player.destination;
    if (!note || note.clip !== this.state.clip) return;
    const range =
      edge === "first_frame"
        ? { first_frame: frame, last_frame: Math.max(frame, note.last_frame) }
        : { first_frame: Math.min(frame, note.first_frame), last_frame: frame };
    this.editNote(note.id, range);
  }

  /** @param {string} id */
  removeNote(id) {
    const note = this.noteOf(id);
    if (!note) return;
    const before = this.#order();
    const gone = { what: `note:${id}`, before: { ...note, rank: null }, after: null };
    const ranks = { what: "ranks", before, after: before.filter((other) => other !== id) };
    // Out of the reply first: undone in turn, the note is back before an order names it.
    this.edits.apply(...(note.rank === null ? [gone] : [ranks, gone]));
    this.store.set({ removed: true });
  }

  /** Into the reply as its last focus point, or out of it. @param {string} id */
  togglePoint(id) {
    const ids = this.#order();
    this.#rank(ids.includes(id) ? ids.filter((other) => other !== id) : [...ids, id]);
  }

  /** Earlier or later among the focus points. @param {string} id @param {number} by */
  movePoint(id, by) {
    const ids = this.#order();
    const at = ids.indexOf(id);
    const to = at + by;
    if (at < 0 || to < 0 || to >= ids.length) return;
    ids.splice(at, 1);
    ids.splice(to, 0, id);
    this.#rank(ids);
  }

  /** The focus points, by rank. @returns {string[]} ids of notes */
  #order() {
    return ranked(this.state.notes).map((note) => note.id);
  }

  /** @param {string[]} ids */
  #rank(ids) {
    this.edits.apply({ what: "ranks", before: this.#order(), after: ids });
  }

  /** @param {number} rep @param {Partial<RepCall>} part of the call on the clip shown */
  editCall(rep, part) {
    const { clip, rep_calls } = this.state;
    const before = callOf(rep_calls, clip, rep);
    this.edits.apply({ what: `rep:${clip}:${rep}`, before, after: { ...before, ...part } });
    this.store.set({ rep });
  }

  /** Only a rep that is not to standard has faults that broke it. @param {string} call */
  callRep(call) {
    const rep = this.state.rep ?? 1;
    const { faults } = callOf(this.state.rep_calls, this.state.clip, rep);
    this.editCall(rep, { call, faults: call === "not-standard" ? faults : [] });
  }

  /** The rep begins or ends on the frame shown. @param {"first_frame"|"last_frame"} edge */
  setRepEdge(edge) {
    const { clip, rep_calls } = this.state;
    const frame = this.player.destination;
    const rep = this.state.rep ?? 1;
    const { first_frame, last_frame } = callOf(rep_calls, clip, rep);
    const range =
      edge === "first_frame"
        ? { first_frame: frame, last_frame: Math.max(frame, last_frame ?? frame) }
        : { first_frame: Math.min(frame, first_frame ?? frame), last_frame: frame };
    this.editCall(rep, range);
  }

  /** Go to a rep on the board, and on the clip where it is marked. @param {number} rep */
  selectRep(rep) {
    this.store.set({ rep });
    const { first_frame } = callOf(this.state.rep_calls, this.state.clip, rep);
    if (first_frame !== null) void this.goTo(first_frame);
  }

  /** @param {Partial<import("../core/types.js").Reply>} part */
  editReply(part) {
    const names = /** @type {(keyof typeof part)[]} */ (Object.keys(part));
    const before = Object.fromEntries(names.map((name) => [name, this.state.reply[name]]));
    this.edits.apply({ what: "reply", before, after: part });
  }

  /** The clip after the one shown, round and round. */
  otherClip() {
    const { clips } = this.state;
    const at = clips.indexOf(clipOf(this.state));
    this.showClip(clips[(at + 1) % clips.length].id);
  }
}
