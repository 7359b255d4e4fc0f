// @ts-check
import { getJSON } from "../net.js";

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
      const words = drill.dose ? `${drill.name}, ${drill.dose}` : drill.name;
      add({ id: drill.id, kind: "drill", name: words, aside: name, phase: null });
    }
  }
  return [...entries.values()];
}

/** @param {string} url @returns {Promise<Entry[]>} */
export async function readLibrary(url) {
  const answer = await getJSON(url);
  return entriesOf(Array.isArray(answer) ? answer : answer.faults);
}
