// @ts-check
/**
 * One thing that changed: what it is ("note:ID", "rep:CLIP:N", "ranks", "reply"), and its value
 * before and after. A value of null is a note that is not there.
 * @typedef {{what: string, before: any, after: any}} Step
 */

/** Typing within this pause is one change, so that one undo takes back a thought and not a letter. */
export const PAUSE_MS = 1500;

/**
 * What was done, to be undone and done again. Pure: it hands back what to set, and the caller
 * sets it. A change is one or more steps that belong together.
 */
export class History {
  /** @type {{steps: Step[], at: number}[]} */
  #done = [];
  /** @type {Step[][]} */
  #undone = [];

  /** @param {number} [most] changes held */
  constructor(most = 200) {
    this.most = most;
  }

  get canUndo() {
    return this.#done.length > 0;
  }

  get canRedo() {
    return this.#undone.length > 0;
  }

  /** @param {Step[]} steps in order @param {number} now ms */
  record(steps, now) {
    this.#undone = [];
    const last = this.#done.at(-1);
    if (last && now - last.at < PAUSE_MS && goesOn(last.steps, steps)) {
      last.steps[0] = { ...last.steps[0], after: steps[0].after };
      last.at = now;
      return;
    }
    this.#done.push({ steps: [...steps], at: now });
    if (this.#done.length > this.most) this.#done.shift();
  }

  /** @returns {{what: string, value: any}[]} to set, last change first; empty when there is none */
  undo() {
    const change = this.#done.pop();
    if (!change) return [];
    this.#undone.push(change.steps);
    return change.steps.toReversed().map(({ what, before }) => ({ what, value: before }));
  }

  /** @returns {{what: string, value: any}[]} to set, in order; empty when there is none */
  redo() {
    const steps = this.#undone.pop();
    if (!steps) return [];
    this.#done.push({ steps, at: 0 });
    return steps.map(({ what, after }) => ({ what, value: after }));
  }
}

/**
 * Whether a change only carries the last one on: the same words, typed further.
 * @param {Step[]} last @param {Step[]} steps
 */
function goesOn(last, steps) {
  if (last.length !== 1 || steps.length !== 1 || last[0].what !== steps[0].what) return false;
  const [typed, further] = [changed(last[0]), changed(steps[0])];
  return typed !== null && typed === further;
}

/** The one text that a step changed, or null. @param {Step} step */
function changed({ before, after }) {
  if (!before || !after) return null;
  const names = Object.keys(after).filter((name) => after[name] !== before[name]);
  return names.length === 1 && typeof after[names[0]] === "string" ? names[0] : null;
}
