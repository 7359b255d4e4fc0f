// @ts-check
import { Commands } from "../core/commands.js";
import { RATES } from "../player/exact-player.js";

/**
 * Everything the workbench can do, by name.
 * @param {import("./workbench-part.js").WorkbenchStore} store
 * @param {import("./actions.js").ReviewActions} actions
 * @param {import("../player/exact-player.js").ExactPlayer} player
 * @param {{showKeys: () => void, send: () => void, editor: () => import("./note-editor.js").NoteEditor|null,
 *   clipLoop: import("./clip-loop.js").ClipLoop, clipZoom: import("./clip-zoom.js").ClipZoom}} page
 */
export function workbenchCommands(store, actions, player, page) {
  const commands = new Commands();
  const rate = (/** @type {number} */ by) => {
    const at = RATES.indexOf(player.rate) + by;
    if (at >= 0 && at < RATES.length) player.rate = RATES[at];
  };
  const open = (/** @type {(id: string) => void} */ action) => () => {
    const { note } = store.state;
    if (note) action(note);
  };
  commands.add("Clip", {
    "clip.toggle": ["Play or pause", () => void player.toggle()],
    "clip.on": ["On one frame", () => void player.step(1)],
    "clip.back": ["Back one frame", () => void player.step(-1)],
    "clip.on10": ["On ten frames", () => void player.step(10)],
    "clip.back10": ["Back ten frames", () => void player.step(-10)],
    "clip.first": ["To the first frame", () => void player.goTo(0)],
    "clip.last": ["To the last frame", () => void player.goTo(Infinity)],
    "clip.slower": ["Slower", () => rate(-1)],
    "clip.faster": ["Faster", () => rate(1)],
    "clip.other": ["The other clip", () => actions.otherClip()],
  });
  const { clipLoop, clipZoom } = page;
  commands.add("Closer", {
    "clip.repOn": ["To the rep after", () => clipLoop.beside(1)],
    "clip.repBack": ["To the rep before", () => clipLoop.beside(-1)],
    "clip.loopFrom": ["Loop from here", () => clipLoop.mark("first")],
    "clip.loopTo": ["Loop to here", () => clipLoop.mark("last")],
    "clip.loopRep": ["Loop the rep, or stop", () => clipLoop.rep()],
    "clip.loopOff": ["No loop", () => clipLoop.off()],
    "clip.zoomIn": ["Closer", () => clipZoom.step(1)],
    "clip.zoomOut": ["Further away", () => clipZoom.step(-1)],
    "clip.zoomWhole": ["The whole clip", () => clipZoom.whole()],
    "clip.panLeft": ["Look left", () => clipZoom.nudge(-1, 0)],
    "clip.panRight": ["Look right", () => clipZoom.nudge(1, 0)],
    "clip.panUp": ["Look up", () => clipZoom.nudge(0, -1)],
    "clip.panDown": ["Look down", () => clipZoom.nudge(0, 1)],
  });
  commands.add("Notes", {
    "note.here": [
      "Note on this frame",
      () => {
        actions.addNote();
        page.editor()?.find();
      },
    ],
    "note.next": ["Next note", () => actions.nextNote(1)],
    "note.previous": ["Note before", () => actions.nextNote(-1)],
    "note.write": ["Write in the open note", () => page.editor()?.write()],
    "note.library": ["Look in the library for it", () => page.editor()?.find()],
    "note.from": ["It goes from here", () => actions.setEdge("first_frame")],
    "note.to": ["It goes to here", () => actions.setEdge("last_frame")],
    "note.point": ["A focus point, or left for now", open((id) => actions.togglePoint(id))],
    "note.change": ["Change the programme for it", open((id) => changeProgramme(store, id))],
    "note.remove": ["Remove the open note", open((id) => actions.removeNote(id))],
  });
  commands.add("Reps", {
    ...Object.fromEntries(
      Array.from({ length: 9 }, (_, at) => [
        `rep.${at + 1}`,
        [at ? `Rep ${at + 1}` : "Choose the rep", () => actions.selectRep(at + 1)],
      ]),
    ),
    "rep.begins": ["The rep begins here", () => actions.setRepEdge("first_frame")],
    "rep.ends": ["The rep ends here", () => actions.setRepEdge("last_frame")],
    "rep.standard": ["To standard", () => actions.callRep("standard")],
    "rep.not": ["Not to standard", () => actions.callRep("not-standard")],
    "rep.cannotTell": ["Can't tell from this angle", () => actions.callRep("cannot-tell")],
  });
  commands.add("Page", {
    "page.undo": ["Undo", () => actions.edits.undo()],
    "page.redo": ["Do again", () => actions.edits.redo()],
    "page.angle": ["Ask for another angle", () => location.assign(store.state.urls.angle)],
    "page.desk": ["Back to the desk", () => location.assign(store.state.urls.desk)],
    "page.send": ["Send the reply, then open the next", () => page.send()],
    "page.keys": ["These keys", () => page.showKeys()],
    "page.leave": ["Leave the field, close the note", () => leave(store)],
  });
  return commands;
}

/** @param {import("./workbench-part.js").WorkbenchStore} store out of the field first, then out of the note */
function leave(store) {
  const focused = document.activeElement;
  if (focused instanceof HTMLElement && focused.matches("input, textarea, select")) focused.blur();
  else store.set({ note: null });
}

/**
 * Go on to the programme, once the server knows the note that is the reason.
 * @param {import("./workbench-part.js").WorkbenchStore} store @param {string} id
 */
function changeProgramme(store, id) {
  let gone = false;
  store.on(
    ({ save }) => save.state,
    (state) => {
      if (state !== "saved" || gone) return;
      gone = true;
      location.assign(store.state.urls.change.replace("__id__", id));
    },
  );
}
