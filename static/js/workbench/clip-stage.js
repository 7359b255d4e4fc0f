// @ts-check
import { getJSON } from "../core/net.js";
import { h } from "../core/dom.js";
import { clipOf } from "./workbench-part.js";

const LOOK_AGAIN_MS = 4000;
const MADE = {
  receiving: "The clip is still arriving.",
  processing: "The clip is being made ready.",
};

/**
 * Keeps the player on the clip of the store, and the store on the frame of the player.
 * @param {import("./workbench-part.js").WorkbenchStore} store
 * @param {import("../player/exact-player.js").ExactPlayer} player
 * @param {HTMLElement} workbench whose shape follows the clip's
 */
export function showClipOnStage(store, player, workbench) {
  const waiting = h("p.waiting", { role: "status" });
  player.addEventListener("ready", () => store.set({ table: player.table }));
  player.addEventListener("frame", (event) => {
    const { frame } = /** @type {CustomEvent} */ (event).detail;
    store.set({ frame, table: player.table });
  });
  store.on(
    (state) => clipOf(state),
    (clip) => {
      const playable = clip.status === "playable";
      workbench.classList.toggle("tall", clip.height > clip.width);
      player.hidden = !playable;
      if (playable) waiting.remove();
      else player.before(waiting);
      waiting.textContent = playable ? "" : state(clip);
      if (!playable) return;
      const label = `Clip ${clip.position}, ${clip.movement}`;
      void player.open({ src: clip.playable, frames: clip.frames_url, poster: clip.poster, label });
    },
  );
}

/** @param {import("../core/types.js").Clip} clip @returns {string} */
function state({ status, progress, reason }) {
  if (status === "failed") return `This clip will not play. ${reason}`;
  const done = progress ? ` ${Math.round(progress * 100)}%.` : "";
  return `${MADE[/** @type {"receiving"} */ (status)] ?? MADE.processing}${done} It appears here by itself.`;
}

/** Ask how the clips get on until each is playable or failed. @param {import("./workbench-part.js").WorkbenchStore} store */
export async function watchClips(store) {
  const unsettled = () =>
    store.state.clips.some(({ status }) => status !== "playable" && status !== "failed");
  while (unsettled()) {
    await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN_MS));
    const answer = await getJSON(store.state.urls.state).catch(() => null); // asked again in 4 s anyway
    if (answer?.clips) store.set({ clips: answer.clips });
  }
}
