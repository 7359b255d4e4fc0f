import assert from "node:assert/strict";
import { test } from "node:test";
import { timeIn } from "../../static/js/core/clock.js";
import { Commands } from "../../static/js/core/commands.js";
import { find } from "../../static/js/core/find.js";
import { meant } from "../../static/js/core/keymap.js";
import { Store } from "../../static/js/core/store.js";
import { place, seconds, tickStep } from "../../static/js/core/timecode.js";

test("a view is told when what it picked changed, and only then", () => {
  const store = new Store({ frame: 0, notes: ["a"] });
  const told = [];
  const stop = store.on(
    (state) => state.frame,
    (frame) => told.push(frame),
  );
  store.set({ notes: [] });
  store.set({ frame: 3 });
  store.set({ frame: 3 });
  stop();
  store.set({ frame: 4 });
  assert.deepEqual(told, [0, 3]);
});

test("a picked list counts as the same while its members are", () => {
  const store = new Store({ a: 1, b: 2, c: 3 });
  let told = 0;
  store.on(
    ({ a, b }) => [a, b],
    () => (told += 1),
  );
  store.set({ c: 4 });
  assert.equal(told, 1);
  store.set({ b: 5 });
  assert.equal(told, 2);
});

test("commands are found by name, and a name is given once", () => {
  const commands = new Commands();
  const done = [];
  commands.add("Clip", { step: ["On one frame", (by) => done.push(by)] });
  commands.run("step", 2);
  assert.deepEqual(done, [2]);
  assert.throws(() => commands.run("jump"), /no command jump/);
  assert.throws(() => commands.add("Clip", { step: ["again", () => {}] }), /exists already/);
});

const stroke = (key, more = {}) => ({
  key,
  shiftKey: false,
  ctrlKey: false,
  altKey: false,
  metaKey: false,
  ...more,
});
const table = {
  n: "note",
  Space: "toggle",
  ArrowLeft: "back",
  "Shift+ArrowLeft": "back10",
  "?": "keys",
};

test("a key means its command, except in a field or with a control that owns the key", () => {
  assert.equal(meant(table, stroke("n"), "free"), "note");
  assert.equal(meant(table, stroke("n"), "typing"), null);
  assert.equal(
    meant(table, stroke("N", { shiftKey: true }), "free"),
    "note",
    "caps lock is no other key",
  );
  assert.equal(meant(table, stroke("n", { ctrlKey: true }), "free"), null, "the browser's own");
  assert.equal(meant(table, stroke("n"), "free", false), null, "letters are off");
  assert.equal(meant(table, stroke(" "), "free", false), "toggle", "Space is no letter");
  const undo = { "Ctrl+Z": "undo", "Ctrl+Shift+Z": "redo" };
  assert.equal(meant(undo, stroke("z", { ctrlKey: true }), "free"), "undo");
  assert.equal(meant(undo, stroke("z", { metaKey: true }), "button"), "undo");
  assert.equal(meant(undo, stroke("Z", { ctrlKey: true, shiftKey: true }), "free"), "redo");
  assert.equal(meant(undo, stroke("z", { ctrlKey: true }), "typing"), null, "the field's own");
  assert.equal(meant(table, stroke(" "), "free"), "toggle");
  assert.equal(meant(table, stroke(" "), "button"), null, "a button is pressed with Space");
  assert.equal(meant(table, stroke("ArrowLeft"), "control"), null, "a radio moves with arrows");
  assert.equal(
    meant(table, stroke("ArrowLeft"), "button"),
    "back",
    "a button has no use for arrows",
  );
  assert.equal(meant(table, stroke("ArrowLeft", { shiftKey: true }), "free"), "back10");
  assert.equal(meant(table, stroke("?", { shiftKey: true }), "free"), "keys");
  assert.equal(meant(table, stroke("constructor"), "free"), null);
});

test("a few letters find an entry: its start, then a word's start, then anywhere; accents off", () => {
  const entries = [
    "Loose brace",
    "Brace early",
    "Embrace",
    "Élan off the floor",
    "What? (odd)",
  ].map((name) => ({ name }));
  const names = (letters) => find(entries, letters).map(({ entry }) => entry.name);
  assert.deepEqual(names("bra"), ["Brace early", "Loose brace", "Embrace"]);
  assert.deepEqual(names("elan"), ["Élan off the floor"]);
  assert.deepEqual(names("? ("), ["What? (odd)"]);
  assert.deepEqual(names("  "), []);
  assert.deepEqual(find(entries, "bra")[1], { entry: { name: "Loose brace" }, from: 6, to: 9 });
});

test("times and places in words", () => {
  assert.equal(seconds(9.0083), "9.008\u2009s");
  assert.equal(place({ first_frame: 214, last_frame: 214, rep: 3 }), "rep 3, frame 214");
  assert.equal(place({ first_frame: 180, last_frame: 214, rep: null }), "frames 180 to 214");
  assert.deepEqual(
    [11.2, 0.3, 500].map((span) => tickStep(span, 6)),
    [2, 0.1, 120],
  );
});

test("a time of day is that of the reader's zone, not of the browser", () => {
  const moment = new Date("2026-11-25T11:05:00Z");
  assert.equal(timeIn(moment, "Pacific/Auckland"), "00:05");
  assert.equal(timeIn(moment, "America/Denver"), "04:05");
  assert.equal(timeIn(moment, "Not/AZone"), timeIn(moment), "a zone the browser does not know");
});
