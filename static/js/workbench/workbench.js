// @ts-check
/** The workbench: reads what the page embeds, hands every part the same store, and starts it. */
import "./film-axis.js";
import "./rep-board.js";
import "./rep-call.js";
import { Store } from "../core/store.js";
import { WHOLE } from "../core/zoom.js";
import { listen } from "../core/keys.js";
import { ExactPlayer } from "../player/exact-player.js";
import "../player/player-controls.js";
import "../reply/check-back.js";
import { WorkbenchPart, clipOf } from "./workbench-part.js";
import "./clip-facts.js";
import "./clip-tools.js";
import "./coming-sessions.js";
import { workbenchCommands } from "./workbench-commands.js";
import { ReviewActions } from "./actions.js";
import { KeyHelp } from "./key-help.js";
import { keepPosition, lastPosition } from "./last-position.js";
import { readLibrary } from "./library-entries.js";
import { ClipLoop } from "./clip-loop.js";
import "./pain-caution.js";
import { followHolder, isReadOnly } from "./read-only.js";
import "./reply-fields.js";
import { ReplyPanel } from "./reply-panel.js";
import "./save-state.js";
import { ReviewChanges } from "./review-changes.js";
import { ReviewEdits } from "./review-edits.js";
import { SendReply } from "./send-reply.js";
import { showClipOnStage, watchClips } from "./clip-stage.js";
import "./review-header.js";
import "./undo-redo.js";
import { ClipZoom } from "./clip-zoom.js";

const PATIENCE_MS = 1000;
/** How long the panels wait for a first picture: hardly to be seen, and most are there by then. */
const PANELS_MS = 300;

/** @returns {import("../core/types.js").Review} */
function embedded() {
  return JSON.parse(document.getElementById("workbench-data")?.textContent ?? "");
}

/**
 * @param {import("../core/types.js").Review} review
 * @param {import("./last-position.js").Position|null} position
 * @returns {import("./workbench-part.js").WorkbenchState}
 */
function opening(review, position) {
  return {
    ...review,
    clip: position?.clip ?? review.opens_on,
    frame: 0,
    table: null,
    note: position?.note ?? null,
    rep: position?.rep ?? 1,
    removed: false,
    canUndo: false,
    canRedo: false,
    library: null,
    savedAt: null,
    busy: false,
    message: "",
    save: { state: "saved", why: "" },
    loop: null,
    view: WHOLE,
  };
}

/** @param {number} ms */
const pause = (ms) => new Promise((done) => setTimeout(done, ms));

function begin() {
  const page = /** @type {HTMLElement} */ (document.querySelector(".workbench"));
  const player = /** @type {ExactPlayer} */ (page.querySelector("exact-player"));
  const review = embedded();
  const reviewKey = `${review.reader}.${review.submission.id}`;
  const position = lastPosition(`coachdesk.position.${reviewKey}`, review);
  const store = new Store(opening(review, position));
  const changes = new ReviewChanges(store);
  const edits = new ReviewEdits(store, changes);
  const actions = new ReviewActions(store, edits, player);
  const commands = workbenchCommands(store, actions, player, {
    showKeys: () => void built.then(() => /** @type {KeyHelp} */ (page.querySelector("key-help")).open()),
    editor: () => /** @type {ReplyPanel} */ (page.querySelector("reply-panel")).editor,
    send: () => void built.then(() => /** @type {SendReply} */ (page.querySelector("send-reply")).go()),
    clipLoop: new ClipLoop(store, player),
    clipZoom: new ClipZoom(store, player),
  });
  keepPosition(`coachdesk.position.${reviewKey}`, store, player);
  // The picture first; but a clip that is slow to come must not keep the library away.
  const seen = Promise.race([player.ready, pause(PATIENCE_MS)]);
  const library = seen.then(() => readLibrary(review.urls.library));
  void library.then((entries) => store.set({ library: entries }));
  showClipOnStage(store, player, page);
  if (position?.frame && clipOf(store.state).playable) void player.ready.then(() => player.goTo(position.frame));
  // Building the panels takes as long as the first picture does; what the keys do needs none of it.
  const built = Promise.race([clipOf(store.state).playable && player.ready, pause(PANELS_MS)]).then(() => {
    for (const part of document.querySelectorAll(".later")) part.removeAttribute("hidden");
    for (const part of page.querySelectorAll("*")) {
      if (part instanceof WorkbenchPart) part.attach({ store, actions, commands, player, library });
    }
  });
  for (const button of page.querySelectorAll("[data-command]")) {
    const name = button.getAttribute("data-command") ?? "";
    button.addEventListener("click", () => commands.run(name));
    store.on(isReadOnly, (readOnly) => (/** @type {HTMLButtonElement} */ (button).disabled = readOnly));
  }
  listen(commands);
  void changes.recover();
  void watchClips(store);
  void followHolder(store, changes);
}

begin();
