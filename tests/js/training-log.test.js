import assert from "node:assert/strict";
import { test } from "node:test";

import { dayIn, logsOf, marksOf, partsOf } from "../../static/js/session/training-day.js";
import { Journal } from "../../static/js/session/journal.js";
import { oneSide, stepOf } from "../../static/js/session/plate-loading.js";
import { asksAboutLoad, questionOf } from "../../static/js/session/unusual-load.js";

const PLATES = { unit: "kg", bar: "20", pairs: [["25", 2], ["20", 1], ["15", 1], ["10", 1], ["5", 1], ["2.5", 1], ["1.25", 1]] };

test("plates of one side, exact and with the pairs at hand", () => {
  assert.deepEqual(oneSide("140", PLATES), ["25", "25", "10"]);
  assert.deepEqual(oneSide("22.5", PLATES), ["1.25"]);
  assert.deepEqual(oneSide("20", PLATES), []);
  assert.equal(oneSide("141", PLATES), null);
  assert.equal(oneSide("15", PLATES), null, "lighter than the bar");
  // The heaviest plate first would leave 5 that nothing fills: it must look further.
  assert.deepEqual(oneSide("80", { unit: "kg", bar: "20", pairs: [["25", 1], ["15", 2]] }), ["15", "15"]);
  assert.equal(stepOf(PLATES, "kg"), 2.5);
});

test("the training day is the date of the athlete's zone", () => {
  const moment = new Date("2026-11-23T11:30:00Z");
  assert.equal(dayIn("Pacific/Auckland", moment), "2026-11-24");
  assert.equal(dayIn("America/Los_Angeles", new Date("2026-11-24T07:30:00Z")), "2026-11-23");
});

test("one mark per rep: done, missed, not done", () => {
  assert.deepEqual(marksOf({ reps: 2, missed_reps: 1 }, 4), ["done", "done", "missed", "not-done"]);
  assert.deepEqual(marksOf({ reps: 5, missed_reps: 0 }, 3), Array(5).fill("done"));
});

const stored = (revision, reps) => ({ reps, revision, load: "140", note: "" });

test("what was changed again while it was sent stays waiting", () => {
  const journal = new Journal();
  journal.put("set", "a", { reps: 3, load: "140.0", note: "" }, { session: "s" });
  journal.take();
  journal.put("set", "a", { reps: 4, load: "140", note: "" }, { session: "s" });
  journal.arrived({ as_of: "2026-11-25T10:00:00Z", stored: stored(1, 3) });
  assert.deepEqual(journal.waiting.map(({ revision }) => revision), [2]);
  journal.take();
  journal.arrived({ as_of: "2026-11-25T10:00:01Z", stored: stored(2, 4) });
  assert.equal(journal.waiting.length, 0);
  assert.equal(journal.entries.get("set:a").overtaken, false, "140 and 140.0 are the same load");
});

test("of two phones the server's row stands, and the other is told", () => {
  const journal = new Journal();
  journal.put("set", "a", { reps: 3, load: "140", note: "" }, { session: "s", known: 1 });
  journal.take();
  journal.arrived({ as_of: "2026-11-25T10:00:00Z", stored: stored(5, 1) });
  const entry = journal.entries.get("set:a");
  assert.deepEqual([entry.body.reps, entry.revision, entry.overtaken], [1, 5, true]);
  journal.put("set", "a", { reps: 2 }, { session: "s" });
  assert.equal(journal.entries.get("set:a").revision, 6, "the next change wins again");
});

test("two tabs laid over each other lose nothing, in either order", () => {
  const [one, two] = [new Journal(), new Journal()];
  one.put("set", "a", { reps: 3 }, { session: "s" });
  two.put("set", "b", { reps: 5 }, { session: "s" });
  two.merge(one.toJSON());
  two.put("set", "a", { reps: 4 }, { session: "s" });
  one.merge(two.toJSON());
  two.merge(one.toJSON());
  for (const journal of [one, two]) {
    assert.equal(journal.entries.get("set:a").body.reps, 4);
    assert.equal(journal.entries.get("set:b").body.reps, 5);
  }
});

test("a session goes before its sets, and a page from the server settles what arrived", () => {
  const journal = new Journal();
  journal.put("set", "a", { reps: 3 }, { session: "s" });
  journal.put("session", "s", { started_at: "2026-11-25T10:00:00Z" });
  assert.deepEqual(journal.waiting.map(({ kind }) => kind), ["session", "set"]);
  assert.equal(journal.take()[0].kind, "session");
  journal.arrived({ as_of: "2026-11-25T10:00:00Z" });
  journal.settle("2026-11-25T09:00:00Z");
  assert.equal(journal.entries.size, 2, "an older page does not hold it");
  journal.settle("2026-11-25T11:00:00Z");
  assert.deepEqual([...journal.entries.keys()], ["set:a"], "what waits is never forgotten");
});

test("the phone's changes lie over the server's log; an older one lies under", () => {
  const row = { id: "a", session: "s", prescription: "p", movement: 1, position: 1, reps: 3, done_at: "2026-11-25T10:00:00Z", revision: 2 };
  const log = { id: "s", planned: null, day: "2026-11-25", started_at: row.done_at, revision: 1, sets: [row] };
  const journal = new Journal();
  journal.put("set", "a", { ...row, reps: 5 }, { session: "s", known: 2 });
  journal.put("set", "b", { ...row, position: 2, prescription: null }, { session: "s" });
  const [newer] = logsOf([log], [...journal.entries.values()], "UTC").values();
  assert.deepEqual(newer.sets.map(({ id, reps }) => [id, reps]), [["a", 5], ["b", 3]]);
  const parts = partsOf({ lines: [{ id: "p", movement: 1, sets: 3 }] }, newer);
  assert.deepEqual(parts.map(({ key, done }) => [key, done.length]), [["p", 1], ["movement-1", 1]]);
  const ahead = { ...log, sets: [{ ...row, revision: 9 }] };
  assert.equal(logsOf([ahead], [...journal.entries.values()], "UTC").get("s").sets[0].reps, 3);
  journal.put("set", "a", null, { session: "s" });
  assert.deepEqual(logsOf([log], [...journal.entries.values()], "UTC").get("s").sets.map(({ id }) => id), ["b"]);
});

test("a load over 115% of what is known is asked about, in its own unit", () => {
  const rule = { above: "1.15", question: "{load} is {percent}% above the {known} known for this lift. Is that load right?", known_kg: { 7: "210" } };
  const ask = (load, unit, others = []) => questionOf({ load, unit }, 7, rule, others);
  assert.equal(ask("241.5", "kg"), "", "1.15 x 210");
  assert.equal(ask("250", "kg"), "250\u2009kg is 19% above the 210\u2009kg known for this lift. Is that load right?");
  assert.equal(ask("551", "lb"), "551\u2009lb is 19% above the 463\u2009lb known for this lift. Is that load right?");
  assert.equal(ask("250", "kg", [{ load: "240", unit: "kg", movement: 7 }]), "", "as heavy was meant a set ago");
  assert.notEqual(ask("250", "kg", [{ load: "240", unit: "kg", movement: 8 }]), "");
  assert.equal(questionOf({ load: "250", unit: "kg" }, 8, rule, []), "", "nothing is known");
  assert.equal(ask(null, "kg"), "");
  assert.ok(asksAboutLoad(ask("250", "kg"), rule));
  assert.ok(!asksAboutLoad("That movement is not one of yours. Pick another one.", rule));
});

test("what did not arrive waits on, and what was refused does not hold up the rest", () => {
  const journal = new Journal();
  for (const id of ["a", "b"]) journal.put("set", id, { reps: 3 }, { session: "s" });
  assert.equal(journal.take()[0].id, "a");
  assert.deepEqual(journal.take(), [], "one at a time");
  journal.held();
  assert.equal(journal.take()[0].id, "a");
  journal.put("set", "a", { reps: 4 }, { session: "s" });
  journal.refuse("No such movement.");
  assert.equal(journal.take()[0].body.reps, 4, "what was written since is heard in its place");
  journal.refuse("No such movement.");
  assert.deepEqual(journal.refused.map(({ id }) => id), ["a"]);
  assert.equal(journal.take()[0].id, "b");
});
