// @ts-check
/** Which session the page shows, and which others could be trained. Pure. */

import { dayWords } from "./labels.js";

/**
 * @typedef {import("./training-day.js").Planned} Planned
 * @typedef {import("./training-day.js").Log} Log
 * @typedef {{planned: Planned[], logs: Map<string, Log>, today: string}} Known
 */

/**
 * Picked by hand; else begun today and open; else planned for today; else whatever today has.
 * @param {Known & {picked: {planned: string|null, log: string}|null}} known
 * @returns {{planned: Planned|null, log: Log|null, id: string}}
 */
export function chosenOf({ planned, logs, today, picked }) {
  /** @param {string|null|undefined} id */
  const plan = (id) => planned.find((one) => one.id === id) ?? null;
  /** @param {Planned|null} one */
  const logOf = (one) => [...logs.values()].find((log) => one && (log.id === one.log || log.planned === one.id)) ?? null;
  if (picked) {
    const log = logs.get(picked.log) ?? logOf(plan(picked.planned));
    return { planned: plan(picked.planned), log, id: log?.id ?? picked.log };
  }
  const begun = [...logs.values()].filter(({ day }) => day === today);
  const mine = planned.filter(({ day }) => day === today);
  const open = begun.find(({ finished_at: end }) => !end) ?? null;
  const next = mine.find((one) => !logOf(one)) ?? null;
  const log = open ?? (next ? null : (begun.at(-1) ?? logOf(mine[0] ?? null)));
  const found = log ? plan(log.planned) : (next ?? mine[0] ?? null);
  return { planned: found, log, id: log?.id ?? found?.log ?? "" };
}

/**
 * Planned sessions near today that nobody trained, the one on the page left out.
 * @param {Known & {chosen: Planned|null}} known
 */
export function othersOf({ planned, logs, today, chosen }) {
  const trained = new Set([...logs.values()].map((log) => log.planned));
  return planned
    .filter((one) => one.id !== chosen?.id && !trained.has(one.id) && one.lines.length)
    .map((one) => {
      const mark = one.day < today ? "missed" : "coming";
      const when = one.day === today ? "today" : dayWords(one.day);
      return { planned: one, mark, words: one.day < today ? `${when}, not trained` : when };
    });
}
