// @ts-check
import { overlaid } from "../core/review.js";
import { getJSON } from "../core/net.js";

const LOOK_AGAIN_MS = 3000;

/**
 * Whether nothing can be written here now: another coach holds it, it is being sent, or it was sent
 * and not taken up again.
 * @param {import("./workbench-part.js").WorkbenchState} state
 */
export function isReadOnly({ claim, reply, busy }) {
  return (claim !== null && !claim.mine) || reply.published || busy;
}

/**
 * Follow what the holder writes, and who holds it, while it is not this coach: what they write
 * appears, and when their claim ends the page offers to take it. Nothing is asked for in a hidden tab.
 * @param {import("./workbench-part.js").WorkbenchStore} store @param {import("./review-changes.js").ReviewChanges} changes
 */
export async function followHolder(store, changes) {
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN_MS));
    if (document.hidden || store.state.claim?.mine || store.state.reply.published) continue;
    const review = await getJSON(store.state.urls.state).catch(() => null); // asked again in 3 s
    if (!review || store.state.claim?.mine) continue;
    const { submission, claim, may_publish, notes, rep_calls, reply } = review;
    const view = overlaid({ ...review, notes, rep_calls, reply }, changes.outbox.changes);
    store.set({
      submission, claim, may_publish,
      ...changed(store.state, {
        notes: view.notes,
        rep_calls: view.rep_calls,
        reply: view.reply,
        outcomes: view.outcomes,
      }),
    });
  }
}

/**
 * Only what differs: a part that is set anew is drawn anew.
 * @param {import("./workbench-part.js").WorkbenchState} old @param {Partial<import("./workbench-part.js").WorkbenchState>} next
 */
function changed(old, next) {
  const names = /** @type {(keyof typeof next)[]} */ (Object.keys(next));
  const fresh = names.filter((name) => JSON.stringify(old[name]) !== JSON.stringify(next[name]));
  return Object.fromEntries(fresh.map((name) => [name, next[name]]));
}
