import assert from "node:assert/strict";
import { test } from "node:test";
import { Outbox, SETTLE_MS } from "../../static/js/core/outbox.js";

const note = (text, id = "a") => ({
  key: `note:${id}`,
  method: "PUT",
  url: `/notes/${id}`,
  body: { text },
});
/** The change that may go by then, taken. */
const take = (box, now) => (box.due !== null && box.due <= now ? (box.take()[0] ?? null) : null);
const state = (box) => (box.refused.length ? "refused" : box.changes.length ? "saving" : "saved");
const reply = (body) => ({ key: "reply", method: "PATCH", url: "/reply", body });

test("typing is one request: the newest words, after a pause", () => {
  const box = new Outbox();
  box.put(note("h"), 0);
  box.put(note("hips"), 100);
  assert.equal(take(box, 100 + SETTLE_MS - 1), null);
  assert.equal(state(box), "saving");
  assert.deepEqual(take(box, 100 + SETTLE_MS)?.body, { text: "hips" });
  assert.equal(take(box, 1e6), null, "one at a time");
  box.arrived();
  assert.equal(state(box), "saved");
});

test("an order of notes never overtakes the note it names", () => {
  const box = new Outbox();
  box.put(note("first"), 0);
  box.put(reply({ ranks: ["a"] }), 0);
  box.put(note("first, longer"), 10000);
  assert.equal(take(box, 10000), null, "the ranks wait behind the note");
  assert.equal(take(box, 10000 + SETTLE_MS)?.key, "note:a");
  box.arrived();
  assert.equal(take(box, 20000)?.key, "reply");
});

test("parts of the reply are laid over each other, also over one that failed", () => {
  const box = new Outbox();
  box.put(reply({ opening: "Hi" }), 0);
  box.put(reply({ film_again_by: "2026-12-04" }), 0);
  assert.deepEqual(take(box, 1000)?.body, { opening: "Hi", film_again_by: "2026-12-04" });
  box.put(reply({ opening: "Hello" }), 1000);
  box.held();
  assert.deepEqual(
    box.changes.map((change) => change.body),
    [{ opening: "Hello", film_again_by: "2026-12-04" }],
  );
});

test("words typed while the older ones are under way are not lost when those fail or arrive", () => {
  for (const end of ["held", "arrived"]) {
    const box = new Outbox();
    box.put(note("old"), 0);
    take(box, 1000);
    box.put(note("new"), 1000);
    if (end === "held") box.held();
    else box.arrived();
    assert.deepEqual(take(box, 1e6)?.body, { text: "new" });
    box.arrived();
    assert.equal(state(box), "saved");
  }
});

test("a reload finds what was waiting and what was under way", () => {
  const box = new Outbox();
  box.put(note("one", "a"), 0);
  box.put(note("two", "b"), 0);
  take(box, 1000);
  const kept = JSON.parse(JSON.stringify(box));
  const again = new Outbox(kept);
  assert.deepEqual(
    again.changes.map((change) => change.body.text),
    ["one", "two"],
  );
  assert.equal(take(again, 0)?.key, "note:a", "at once, in the same order");
});

test("a refusal is shown with its words and does not hold up the rest", () => {
  const box = new Outbox();
  box.put(note("no", "a"), 0);
  box.put(note("yes", "b"), 0);
  take(box, 1000);
  box.refuse("Somebody else holds the claim.");
  assert.equal(state(box), "refused");
  assert.deepEqual(box.refused, [
    { ...note("no"), why: "Somebody else holds the claim.", errors: {} },
  ]);
  assert.equal(take(box, 1000)?.key, "note:b");
  box.arrived();
  box.put(note("now", "a"), 2000);
  assert.equal(state(box), "saving", "a new attempt clears the refusal");
});

test("a refusal says nothing once a newer change of the same parts waits", () => {
  const box = new Outbox();
  box.put(note("no"), 0);
  take(box, 1000);
  box.put(note("better"), 1000);
  box.refuse("Too long.");
  assert.deepEqual(box.refused, []);
  assert.equal(take(box, 2000)?.body.text, "better");
  box.arrived();
  assert.equal(state(box), "saved");
});

test("a refusal stays while the newer change leaves some of its parts out", () => {
  const box = new Outbox();
  const part = { key: "note:a", method: "PATCH", url: "/notes/a" };
  box.put({ ...part, body: { text: "no" } }, 0);
  take(box, 1000);
  box.put({ ...part, body: { frame: 4 } }, 1000);
  box.refuse("Too long.");
  assert.deepEqual(box.refused.map(({ body }) => body), [{ text: "no" }]);
});

test("what is forgotten is neither sent nor refused any more", () => {
  const box = new Outbox();
  box.put(note("no", "a"), 0);
  take(box, 1000);
  box.refuse("Too long.");
  box.put(note("yes", "b"), 1000);
  box.forget("note:a");
  box.forget("note:b");
  assert.equal(state(box), "saved");
  assert.deepEqual(box.changes, []);
});

test("removing a note replaces the words it was about to send", () => {
  const box = new Outbox();
  box.put(note("gone"), 0);
  box.put({ key: "note:a", method: "DELETE", url: "/notes/a" }, 10);
  assert.equal(take(box, 1000)?.method, "DELETE");
  box.arrived();
  assert.equal(state(box), "saved");
});

test("a part laid over an older one goes after what was made since", () => {
  const outbox = new Outbox(null);
  outbox.put(reply({ ranks: ["a"] }), 0);
  outbox.put({ key: "note:b", method: "PUT", url: "/b", body: { id: "b" } }, 1);
  outbox.put(reply({ ranks: ["a", "b"] }), 2);
  assert.deepEqual(
    outbox.changes.map((change) => change.key),
    ["note:b", "reply"],
    "an order never overtakes the note it names",
  );
});

test("a parked change is kept and not sent, until it is put", () => {
  const box = new Outbox();
  box.put(note("half"), 0);
  box.park(note("not whole"));
  assert.equal(take(box, 1e6), null);
  const again = new Outbox(JSON.parse(JSON.stringify(box)));
  assert.deepEqual(again.parked, [note("not whole")]);
  again.put(note("whole"), 0);
  assert.deepEqual(again.parked, []);
  assert.equal(take(again, 1e6).body.text, "whole");
  again.arrived();
  again.park(reply({ opening: "Hi", film_again_by: null }));
  again.put(reply({ opening: "Hello" }), 0);
  assert.deepEqual(take(again, 1e6).body, { opening: "Hello", film_again_by: null }, "parts are laid over a parked one");
});

test("all that waits goes together, and what did not arrive is kept under what came since", () => {
  const cell = (key, text) => ({ key, method: "PATCH", url: "/cells", body: { text } });
  const box = new Outbox({ changes: [cell("a", "1")] });
  box.put({ ...cell("b", "2"), body: { text: "2", note: "belt" } }, 0);
  assert.deepEqual(box.take(true).map(({ key, body }) => [key, body.text]), [["a", "1"], ["b", "2"]]);
  assert.deepEqual(box.take(true), [], "one request at a time");
  box.put(cell("b", "3"), 0);
  assert.ok(box.has("b") && !box.has("a"));
  box.held();
  assert.deepEqual(box.take(true).map(({ key, body }) => [key, body]), [["a", { text: "1" }], ["b", { text: "3", note: "belt" }]]);
  box.arrived();
  assert.equal(state(box), "saved");
  assert.equal(JSON.stringify(box), "null", "nothing is kept");
});

test("of two states of one thing that a page left, the parts of both are kept", () => {
  const box = new Outbox();
  box.put(reply({ opening: "Hi" }), 0);
  box.take();
  box.put(reply({ film_again_by: "2026-12-04" }), 0);
  const again = new Outbox(JSON.parse(JSON.stringify(box)));
  assert.deepEqual(again.changes.map(({ body }) => body), [{ opening: "Hi", film_again_by: "2026-12-04" }]);
});

test("what was refused is tried again by the next page only where that is asked for", () => {
  for (const keepsRefused of [true, false]) {
    const box = new Outbox(null, { keepsRefused });
    box.put(note("no"), 0);
    box.take();
    box.refuse("Too long.", { text: ["Too long."] });
    assert.equal(JSON.parse(JSON.stringify(box))?.changes[0].body.text, keepsRefused ? "no" : undefined);
  }
});
