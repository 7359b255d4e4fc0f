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
import { BenchPart, clipOf } from "./workbench-part.js";
import "./clip-facts.js";
import "./clip-tools.js";
import "./coming-sessions.js";
import { benchCommands } from "./workbench-commands.js";
import { Deeds } from "./actions.js";
import { KeyHelp } from "./key-help.js";
import { keepPosition, lastPosition } from "./last-position.js";
import { readLibrary } from "./library-entries.js";
import { Looping } from "./clip-loop.js";
import "./pain-caution.js";
import { followHolder, isReadOnly } from "./read-only.js";
import "./reply-fields.js";
import { ReplyPanel } from "./reply-panel.js";
import "./save-state.js";
import { Saver } from "./review-saver.js";
import { SendReply } from "./send-reply.js";
import { setStage, watchClips } from "./clip-stage.js";
import "./review-header.js";
import "./undo-redo.js";
import { Zooming } from "./clip-zoom.js";

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
 * @returns {import("./workbench-part.js").BenchState}
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
    said: "",
    save: { state: "saved", why: "" },
    loop: null,
    view: WHOLE,
  };
}

/** @param {number} ms */
const pause = (ms) => new Promise((done) => setTimeout(done, ms));

function begin() {
  const page = /** @type {HTMLElement} */ (document.querySelector(".bench"));
  const player = /** @type {ExactPlayer} */ (page.querySelector("exact-player"));
  const review = embedded();
  const mine = `${review.reader}.${review.submission.id}`;
  const position = lastPosition(`coachdesk.position.${mine}`, review);
  const store = new Store(opening(review, position));
  const saver = new Saver(store, review.urls, `coachdesk.unsent.${mine}`);
  const deeds = new Deeds(store, saver, player);
  const commands = benchCommands(store, deeds, player, {
    showKeys: () => void built.then(() => /** @type {KeyHelp} */ (page.querySelector("key-help")).open()),
    editor: () => /** @type {ReplyPanel} */ (page.querySelector("reply-panel")).editor,
    send: () => void built.then(() => /** @type {SendReply} */ (page.querySelector("send-reply")).go()),
    looping: new Looping(store, player),
    zooming: new Zooming(store, player),
  });
  keepPosition(`coachdesk.position.${mine}`, store, player);
  // The picture first; but a clip that is slow to come must not keep the library away.
  const seen = Promise.race([player.ready, pause(PATIENCE_MS)]);
  const library = seen.then(() => readLibrary(review.urls.library));
  void library.then((entries) => store.set({ library: entries }));
  setStage(store, player, page);
  if (position?.frame && clipOf(store.state).playable) void player.ready.then(() => player.goTo(position.frame));
  // Building the panels takes as long as the first picture does; what the keys do needs none of it.
  const built = Promise.race([clipOf(store.state).playable && player.ready, pause(PANELS_MS)]).then(() => {
    for (const part of document.querySelectorAll(".later")) part.removeAttribute("hidden");
    for (const part of page.querySelectorAll("*")) {
      if (part instanceof BenchPart) part.attach({ store, deeds, commands, player, library });
    }
  });
  for (const button of page.querySelectorAll("[data-command]")) {
    const name = button.getAttribute("data-command") ?? "";
    button.addEventListener("click", () => commands.run(name));
    store.on(isReadOnly, (readOnly) => (/** @type {HTMLButtonElement} */ (button).disabled = readOnly));
  }
  listen(commands);
  void saver.recover();
  void watchClips(store);
  void followHolder(store, saver);
}

begin();
