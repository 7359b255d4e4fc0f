import assert from "node:assert/strict";
import { test } from "node:test";
import { backoff, Outbox, SETTLE_MS } from "../../static/js/core/outbox.js";

const note = (text, id = "a") => ({
  key: `note:${id}`,
  method: "PUT",
  url: `/notes/${id}`,
  body: { text },
});
const reply = (body) => ({ key: "reply", method: "PATCH", url: "/reply", body });

test("typing is one request: the newest words, after a pause", () => {
  const box = new Outbox();
  box.put(note("h"), 0);
  box.put(note("hips"), 100);
  assert.equal(box.take(100 + SETTLE_MS - 1), null);
  assert.equal(box.state, "saving");
  assert.deepEqual(box.take(100 + SETTLE_MS)?.body, { text: "hips" });
  assert.equal(box.take(1e6), null, "one at a time");
  box.arrived();
  assert.equal(box.state, "saved");
});

test("an order of notes never overtakes the note it names", () => {
  const box = new Outbox();
  box.put(note("first"), 0);
  box.put(reply({ ranks: ["a"] }), 0);
  box.put(note("first, longer"), 10000);
  assert.equal(box.take(10000), null, "the ranks wait behind the note");
  assert.equal(box.take(10000 + SETTLE_MS)?.key, "note:a");
  box.arrived();
  assert.equal(box.take(20000)?.key, "reply");
});

test("parts of the reply are laid over each other, also over one that failed", () => {
  const box = new Outbox();
  box.put(reply({ opening: "Hi" }), 0);
  box.put(reply({ film_again_by: "2026-12-04" }), 0);
  assert.deepEqual(box.take(1000)?.body, { opening: "Hi", film_again_by: "2026-12-04" });
  box.put(reply({ opening: "Hello" }), 1000);
  box.held("network", 1000);
  assert.deepEqual(
    box.changes.map((change) => change.body),
    [{ opening: "Hello", film_again_by: "2026-12-04" }],
  );
});

test("a dead network keeps everything, tries ever more rarely, and says so", () => {
  const box = new Outbox();
  box.put(note("kept"), 0);
  let now = 1000;
  const waits = [];
  for (let tries = 0; tries < 8; tries += 1) {
    assert.ok(box.take(now), `attempt ${tries}`);
    box.held("no network", now);
    assert.equal(box.state, "kept");
    waits.push(Number(box.due) - now);
    now = Number(box.due);
  }
  assert.deepEqual(waits, [1000, 2000, 4000, 8000, 16000, 30000, 30000, 30000]);
  box.wake(now - 20000);
  assert.ok(box.take(now - 20000), "the network is back: at once");
  box.arrived();
  assert.equal(box.state, "saved");
  assert.equal(backoff(1), 1000);
});

test("words typed while the older ones are under way are not lost when those fail or arrive", () => {
  for (const end of ["held", "arrived"]) {
    const box = new Outbox();
    box.put(note("old"), 0);
    box.take(1000);
    box.put(note("new"), 1000);
    if (end === "held") box.held("no network", 1000);
    else box.arrived();
    assert.deepEqual(box.take(1e6)?.body, { text: "new" });
    box.arrived();
    assert.equal(box.state, "saved");
  }
});

test("a reload finds what was waiting and what was under way", () => {
  const box = new Outbox();
  box.put(note("one", "a"), 0);
  box.put(note("two", "b"), 0);
  box.take(1000);
  const kept = JSON.parse(JSON.stringify(box));
  const again = new Outbox(kept);
  assert.deepEqual(
    again.changes.map((change) => change.body.text),
    ["one", "two"],
  );
  assert.equal(again.take(0)?.key, "note:a", "at once, in the same order");
});

test("a refusal is shown with its words and does not hold up the rest", () => {
  const box = new Outbox();
  box.put(note("no", "a"), 0);
  box.put(note("yes", "b"), 0);
  box.take(1000);
  box.refuse("Somebody else holds the claim.");
  assert.equal(box.state, "refused");
  assert.deepEqual(box.refused, [
    { key: "note:a", why: "Somebody else holds the claim.", body: { text: "no" } },
  ]);
  assert.equal(box.take(1000)?.key, "note:b");
  box.arrived();
  box.put(note("now", "a"), 2000);
  assert.equal(box.state, "saving", "a new attempt clears the refusal");
});

test("a refusal says nothing once a newer change of the same parts waits", () => {
  const box = new Outbox();
  box.put(note("no"), 0);
  box.take(1000);
  box.put(note("better"), 1000);
  box.refuse("Too long.");
  assert.deepEqual(box.refused, []);
  assert.equal(box.take(2000)?.body.text, "better");
  box.arrived();
  assert.equal(box.state, "saved");
});

test("a refusal stays while the newer change leaves some of its parts out", () => {
  const box = new Outbox();
  const part = { key: "note:a", method: "PATCH", url: "/notes/a" };
  box.put({ ...part, body: { text: "no" } }, 0);
  box.take(1000);
  box.put({ ...part, body: { frame: 4 } }, 1000);
  box.refuse("Too long.");
  assert.deepEqual(box.refused.map(({ body }) => body), [{ text: "no" }]);
});

test("what is forgotten is neither sent nor refused any more", () => {
  const box = new Outbox();
  box.put(note("no", "a"), 0);
  box.take(1000);
  box.refuse("Too long.");
  box.put(note("yes", "b"), 1000);
  box.forget("note:a");
  box.forget("note:b");
  assert.equal(box.state, "saved");
  assert.deepEqual(box.changes, []);
});

test("removing a note replaces the words it was about to send", () => {
  const box = new Outbox();
  box.put(note("gone"), 0);
  box.put({ key: "note:a", method: "DELETE", url: "/notes/a" }, 10);
  assert.equal(box.take(1000)?.method, "DELETE");
  box.arrived();
  assert.equal(box.state, "saved");
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
