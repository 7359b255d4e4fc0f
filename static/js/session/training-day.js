// @ts-check
/**
 * The day as the page shows it: what the server said, under what this phone noted since. Pure.
 *
 * @typedef {{id: string, movement: number, sets: number, reps: number, target: string,
 *   load: string|null, side: string[]|null, how: string, suggested: boolean, capped: boolean,
 *   rpe: string|null, tempo: string, rest: number|null, note: string, held: boolean,
 *   changes: {said: string, by: string, was: string|null}[]}} Line
 * @typedef {{id: string, log: string, first_revision: number, name: string, programme: string,
 *   day: string, note: string, lines: Line[]}} Planned
 * @typedef {{id: string, session: string, movement: number, prescription: string|null,
 *   position: number, load: string|null, unit: string, reps: number, missed_reps: number,
 *   rpe: string|null, note: string, done_at: string, revision: number, load_confirmed?: boolean,
 *   waits?: boolean, refused?: string, overtaken?: boolean}} Done
 * @typedef {{id: string, planned: string|null, day: string, session_rpe: string|null,
 *   minutes: number|null, note: string, started_at: string, finished_at: string|null,
 *   revision: number, sets: Done[], waits?: boolean, refused?: string}} Log
 * @typedef {{key: string, movement: number, line: Line|null, done: Done[]}} Part
 * @typedef {import("./journal.js").Entry} Entry
 */

/** The date at `moment` in an IANA zone, as 2026-11-30. @param {string} zone @param {Date} moment */
export function dayIn(zone, moment) {
  const parts = formatIn(zone).formatToParts(moment);
  /** @param {string} type */
  const part = (type) => parts.find((field) => field.type === type)?.value ?? "";
  return `${part("year")}-${part("month")}-${part("day")}`;
}

/** @param {string} zone @returns {Intl.DateTimeFormat} in the phone's own zone where it does not know this one */
function formatIn(zone) {
  /** @type {Intl.DateTimeFormatOptions} */
  const day = { year: "numeric", month: "2-digit", day: "2-digit" };
  try {
    return new Intl.DateTimeFormat("en", { ...day, timeZone: zone });
  } catch {
    return new Intl.DateTimeFormat("en", day);
  }
}

/**
 * Every session of the log this phone knows, sets included, the phone's own changes on top.
 * @param {Log[]} logs as the server gave them @param {Entry[]} entries @param {string} zone
 * @returns {Map<string, Log>}
 */
export function logsOf(logs, entries, zone) {
  const sessions = new Map(logs.map((log) => [log.id, { ...log, sets: [...log.sets] }]));
  for (const entry of entries.filter(({ kind }) => kind === "session")) layOver(sessions, entry, zone);
  for (const entry of entries.filter(({ kind }) => kind === "set")) {
    const log = sessions.get(entry.session);
    if (!log) continue;
    const older = log.sets.find(({ id }) => id === entry.id);
    if (older && older.revision > entry.revision) continue;
    log.sets = log.sets.filter(({ id }) => id !== entry.id);
    if (entry.body) {
      const { id, session, revision } = entry;
      const row = /** @type {Done} */ ({ ...entry.body, ...marks(entry), id, session, revision });
      log.sets.push(row);
    }
  }
  for (const log of sessions.values()) log.sets.sort(inOrder);
  return sessions;
}

/** @param {Map<string, Log>} sessions @param {Entry} entry @param {string} zone */
function layOver(sessions, entry, zone) {
  const older = sessions.get(entry.id);
  if (older && older.revision > entry.revision) return;
  if (!entry.body) {
    sessions.delete(entry.id);
    return;
  }
  const day = entry.body.day ?? dayIn(zone, new Date(entry.body.started_at));
  const facts = { ...entry.body, ...marks(entry), day, id: entry.id, revision: entry.revision };
  sessions.set(entry.id, /** @type {any} */ ({ ...facts, sets: older?.sets ?? [] }));
}

/** @param {Entry} entry */
function marks({ revision, arrived, refused, overtaken }) {
  return { waits: revision > arrived, refused, overtaken };
}

/** @param {Done} a @param {Done} b */
function inOrder(a, b) {
  return a.position - b.position || Date.parse(a.done_at) - Date.parse(b.done_at);
}

/**
 * The session in the order it is trained: the planned lines, then what was lifted beside them.
 * @param {Planned|null} planned @param {Log|null} log @param {number[]} [added] movements without a set yet
 * @returns {Part[]}
 */
export function partsOf(planned, log, added = []) {
  const lines = planned?.lines ?? [];
  const done = log?.sets ?? [];
  const parts = lines.map((line) => ({
    key: line.id,
    movement: line.movement,
    line,
    done: done.filter(({ prescription }) => prescription === line.id),
  }));
  const known = new Set(lines.map(({ id }) => id));
  const beside = done.filter(({ prescription }) => !prescription || !known.has(prescription));
  for (const movement of new Set([...beside.map((set) => set.movement), ...added])) {
    const sets = beside.filter((set) => set.movement === movement);
    parts.push({ key: `movement-${movement}`, movement, line: /** @type {any} */ (null), done: sets });
  }
  return parts;
}

/** Sets that are still to do. @param {Part} part */
export function left({ line, done }) {
  return line && !line.held ? Math.max(0, line.sets - done.length) : 0;
}

/**
 * One mark per rep of a set.
 * @param {{reps: number, missed_reps: number}} set @param {number} prescribedReps reps that were asked for
 * @returns {("done"|"missed"|"not-done")[]}
 */
export function marksOf({ reps, missed_reps: missed }, prescribedReps) {
  const none = Math.max(0, prescribedReps - reps - missed);
  return [...Array(reps).fill("done"), ...Array(missed).fill("missed"), ...Array(none).fill("not-done")];
}

/**
 * What the form of the next set starts with: as prescribed, or as the set before.
 * @param {Part} part @param {{load: string|null, reps: number}|undefined} last the last time
 * @returns {{load: string, reps: number, rpe: string|null, missed_reps: number, note: string}}
 */
export function nextSet({ line, done }, last) {
  const before = done.at(-1);
  const load = before?.load ?? line?.load ?? last?.load ?? "";
  const tried = before ? before.reps + before.missed_reps : last?.reps;
  return { load, reps: line?.reps ?? tried ?? 5, rpe: null, missed_reps: 0, note: "" };
}

/** What to offer as the session's minutes: from its beginning to the last set; null without two sets. @param {Log} log */
export function minutesOf(log) {
  const times = [log.started_at, ...log.sets.map(({ done_at: at }) => at)].map((at) => Date.parse(at));
  if (log.sets.length < 2) return null;
  return Math.min(600, Math.max(1, Math.round((Math.max(...times) - Math.min(...times)) / 60000)));
}
