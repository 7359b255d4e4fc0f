// @ts-check
/**
 * The shapes the workbench shares with the server (JSON, so snake_case as sent).
 * Frames are integers into the clip's frame table, first and last inclusive.
 *
 * @typedef {{where: string, score: number, since: string, signs: string[]}} Pain
 * @typedef {{id: string, question: string, tried: string, goal: string, status: string,
 *   athlete: {id: string, name: string}, pain: Pain|null, asked_at: string}} Submission
 * @typedef {{url: string, tile_width: number, tile_height: number, count: number,
 *   columns: number, frames: number[]}} Filmstrip
 * @typedef {{id: string, position: number, movement: string, family: string, phases: string[],
 *   load: string, unit: string, reps: number, rpe: string, effort: string, view: string,
 *   view_label: string, shows: string, shows_fault: boolean,
 *   status: string, progress: number, reason: string, playable: string, frames_url: string,
 *   poster: string, filmstrip: Filmstrip|null, width: number, height: number,
 *   frame_count: number}} Clip
 * @typedef {{id: string, clip: string, first_frame: number, last_frame: number,
 *   phase: string|null, rep: number|null, text: string, fault: number|null, fault_name: string,
 *   cue: number|null, cue_text: string, drill: number|null, drill_text: string,
 *   rank: number|null}} Note
 * @typedef {{clip: string, rep: number, call: string|null, faults: number[],
 *   first_frame: number|null, last_frame: number|null}} RepCall
 * @typedef {{opening: string, film_again_by: string|null, film_again_note: string,
 *   published: boolean, version: number}} Reply
 * @typedef {{coach: string, mine: boolean, until: string}} Claim
 * @typedef {{reader: number, submission: Submission, urls: Record<string, string>, clips: Clip[], opens_on: string, notes: Note[],
 *   rep_calls: RepCall[], outcomes: Record<string, string>, reply: Reply, claim: Claim|null, may_publish: {ok: boolean, why: string}}} Review
 * @typedef {{id: number|null, kind: "fault"|"cue"|"drill", name: string, aside: string,
 *   phase: string|null}} Entry
 */
export {};
