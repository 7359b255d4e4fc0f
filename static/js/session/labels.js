// @ts-check
/** How the page speaks: loads with their unit, days, marks. */

import { h } from "../core/dom.js";
import { symbol } from "../upload/draft-fields.js";
import { marksOf } from "./training-day.js";

const DAY = new Intl.DateTimeFormat("en-GB", { weekday: "short", day: "numeric", month: "short", timeZone: "UTC" });
const MOST_MARKS = 12;
const MARKS = { done: "standard", missed: "not-standard", "not-done": "not-done" };

/** "Mon 30 Nov". @param {string} day 2026-11-30 */
export function dayWords(day) {
  return DAY.format(new Date(`${day}T12:00:00Z`)).replace(",", "");
}

/** A number and its unit, smaller. @param {string|number} value @param {string} unit */
export function withUnit(value, unit) {
  return h("span.nowrap", {}, String(value), "\u2009", h("span.u", {}, unit));
}

/** @param {string|null} rpe */
export function rpeWords(rpe) {
  return rpe === null || rpe === "" ? "" : `, RPE ${rpe}`;
}

/** "3 sets", "1 set". @param {number} count @param {string} one @param {string} [many] */
export function counted(count, one, many = `${one}s`) {
  return `${count} ${count === 1 ? one : many}`;
}

/**
 * One mark per rep: done, missed, not done; many reps are counted in words alone.
 * @param {{reps: number, missed_reps: number}} set @param {number} prescribedReps
 */
export function repMarks(set, prescribedReps) {
  const marks = marksOf(set, prescribedReps);
  const counts = [
    `${counted(set.reps, "rep")} done`,
    set.missed_reps && `${set.missed_reps} missed`,
    marks.includes("not-done") && `${marks.filter((mark) => mark === "not-done").length} not done`,
  ].filter(Boolean);
  if (marks.length > MOST_MARKS) return h("span.small.muted", {}, counts.join(", "));
  const shapes = marks.map((mark) => {
    const shape = symbol(MARKS[mark]);
    shape.classList.add(mark);
    return shape;
  });
  return h("span.marks", { role: "img", "aria-label": counts.join(", ") }, ...shapes);
}

/** A shape and a word. @param {string} kind class of the state @param {string} shape @param {string} word */
export function state(kind, shape, word) {
  return h(`span.state.${kind}`, {}, symbol(shape), h("span", {}, word));
}

/** @param {string} text of a field @returns {string|null} a decimal with a point, or null */
export function decimalOf(text) {
  const tidy = text.trim().replace(",", ".");
  return /^\d{1,5}(\.\d{1,3})?$/.test(tidy) ? tidy : null;
}
