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
export function chooseSession({ planned, logs, today, picked }) {
  /** @param {string|null|undefined} id */
  const plan = (id) => planned.find((session) => session.id === id) ?? null;
  /** @param {Planned|null} session */
  const logOf = (session) => [...logs.values()].find((log) => session && (log.id === session.log || log.planned === session.id)) ?? null;
  if (picked) {
    const log = logs.get(picked.log) ?? logOf(plan(picked.planned));
    return { planned: plan(picked.planned), log, id: log?.id ?? picked.log };
  }
  const begun = [...logs.values()].filter(({ day }) => day === today);
  const mine = planned.filter(({ day }) => day === today);
  const open = begun.find(({ finished_at: end }) => !end) ?? null;
  const next = mine.find((session) => !logOf(session)) ?? null;
  const log = open ?? (next ? null : (begun.at(-1) ?? logOf(mine[0] ?? null)));
  const plannedNow = log ? plan(log.planned) : (next ?? mine[0] ?? null);
  return { planned: plannedNow, log, id: log?.id ?? plannedNow?.log ?? "" };
}

/**
 * Planned sessions near today that nobody trained, the one on the page left out.
 * @param {Known & {chosen: Planned|null}} known
 */
export function otherSessions({ planned, logs, today, chosen }) {
  const trained = new Set([...logs.values()].map((log) => log.planned));
  return planned
    .filter((session) => session.id !== chosen?.id && !trained.has(session.id) && session.lines.length)
    .map((session) => {
      const mark = session.day < today ? "missed" : "coming";
      const when = session.day === today ? "today" : dayWords(session.day);
      return { planned: session, mark, label: session.day < today ? `${when}, not trained` : when };
    });
}
