// @ts-check
/**
 * Reading and changing a review without a page: numbers, order, and what an earlier page left.
 * @typedef {import("./types.js").Note} Note
 * @typedef {import("./types.js").Review} Review
 * @typedef {import("./types.js").RepCall} RepCall
 */

/** More than three focus points are not remembered at the bar; house rule, not a limit. */
export const RECOMMENDED = 3;

/** @param {Note[]} notes @returns {Note[]} the focus points, by rank */
export function ranked(notes) {
  return notes.filter((note) => note.rank !== null).sort((a, b) => Number(a.rank) - Number(b.rank));
}

/**
 * A note has one number, the same on the axis, the board and in the reply: focus points by rank,
 * then the rest by clip and frame.
 * @param {Note[]} notes @param {{id: string}[]} clips in order
 * @returns {Note[]} in order; a note's number is its place + 1
 */
export function inOrder(notes, clips) {
  const place = new Map(clips.map((clip, at) => [clip.id, at]));
  const where = (/** @type {Note} */ note) => place.get(note.clip) ?? clips.length;
  const rest = notes.filter((note) => note.rank === null);
  rest.sort(
    (a, b) => where(a) - where(b) || a.first_frame - b.first_frame || (a.id < b.id ? -1 : 1),
  );
  return [...ranked(notes), ...rest];
}

/**
 * Give the notes named their ranks 1, 2, 3... and every other note none.
 * @param {Note[]} notes @param {string[]} ids in order
 */
export function withRanks(notes, ids) {
  return notes.map((note) => {
    const rank = ids.indexOf(note.id) + 1 || null;
    return rank === note.rank ? note : { ...note, rank };
  });
}

/** @template T @param {T[]} list @param {(item: T) => boolean} is @param {T} item */
export function replaced(list, is, item) {
  return list.some(is) ? list.map((old) => (is(old) ? item : old)) : [...list, item];
}

/** @param {RepCall[]} calls @param {string} clip @param {number} rep @returns {RepCall} */
export function callOf(calls, clip, rep) {
  const found = calls.find((call) => call.clip === clip && call.rep === rep);
  return found ?? { clip, rep, call: null, faults: [], first_frame: null, last_frame: null };
}

/** The bracketed rep a frame lies in, if any. @param {RepCall[]} calls @param {string} clip @param {number} frame */
export function repAt(calls, clip, frame) {
  const inside = calls.find(
    (call) =>
      call.clip === clip &&
      call.first_frame !== null &&
      call.last_frame !== null &&
      call.first_frame <= frame &&
      frame <= call.last_frame,
  );
  return inside?.rep ?? null;
}

/**
 * Lay unsent changes over what the server knows, so that a reload shows what was typed.
 * Keys are those of `review-changes.js`: note:ID, rep:CLIP:N, outcome:ID, reply.
 * @template {Review} R
 * @param {R} review @param {import("./outbox.js").Change[]} changes
 * @returns {R}
 */
export function overlaid(review, changes) {
  let { notes, rep_calls, reply, outcomes } = review;
  for (const { key, method, body } of changes) {
    const [kind, id, rep] = key.split(":");
    if (kind === "note" && method === "DELETE") notes = notes.filter((note) => note.id !== id);
    else if (kind === "note") notes = replaced(notes, (note) => note.id === id, { ...body, id });
    else if (kind === "rep") {
      const call = { ...body, clip: id, rep: Number(rep) };
      rep_calls = replaced(rep_calls, (old) => old.clip === id && old.rep === call.rep, call);
    } else if (kind === "outcome") {
      outcomes = { ...outcomes, [id]: body.result };
    } else if (kind === "reply") {
      const { ranks, ...fields } = body;
      reply = { ...reply, ...fields };
      if (ranks) notes = withRanks(notes, ranks);
    }
  }
  return { ...review, notes, rep_calls, reply, outcomes };
}
