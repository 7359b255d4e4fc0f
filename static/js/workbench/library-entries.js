// @ts-check
import { getJSON } from "../core/net.js";

const AGAIN_MS = 5000;

/**
 * @typedef {import("../core/types.js").Entry} Entry
 * @typedef {{id: number, name: string, phase: string, cues: {id: number, text: string}[],
 *   drills: {id: number, name: string, dose: string}[]}} Fault as the library serves it
 */

/**
 * The faults of a lift, each followed by its cues and drills, as the finder shows them.
 * @param {Fault[]} faults
 * @returns {Entry[]}
 */
export function entriesOf(faults) {
  /** @type {Map<string, Entry>} a cue may stand under several faults, and is found once */
  const entries = new Map();
  const add = (/** @type {Entry} */ entry) => {
    const key = `${entry.kind} ${entry.id}`;
    if (!entries.has(key)) entries.set(key, entry);
  };
  for (const { id, name, phase, cues, drills } of faults) {
    add({ id, kind: "fault", name, aside: phase, phase });
    for (const cue of cues)
      add({ id: cue.id, kind: "cue", name: cue.text, aside: name, phase: null });
    for (const drill of drills) {
      const label = drill.dose ? `${drill.name}, ${drill.dose}` : drill.name;
      add({ id: drill.id, kind: "drill", name: label, aside: name, phase: null });
    }
  }
  return [...entries.values()];
}

/**
 * The library, asked for until it is here: a review is written for an hour, and a network that
 * was gone in its first second must not leave the finder empty for the rest of it.
 * @param {string} url @returns {Promise<Entry[]>}
 */
export async function readLibrary(url) {
  for (;;) {
    const answer = await getJSON(url).catch(() => null); // asked for again below
    if (answer) return entriesOf(answer.faults);
    await new Promise((resolve) => {
      addEventListener("online", resolve, { once: true });
      setTimeout(resolve, AGAIN_MS);
    });
  }
}
