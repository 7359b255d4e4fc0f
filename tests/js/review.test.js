import assert from "node:assert/strict";
import { test } from "node:test";
import { callOf, inOrder, overlaid, repAt, withRanks } from "../../static/js/core/review.js";

const note = (id, clip, first_frame, rank = null) => ({
  id,
  clip,
  first_frame,
  last_frame: first_frame,
  rank,
});
const clips = [{ id: "one" }, { id: "two" }];

test("focus points come first by rank, the rest by clip and frame", () => {
  const notes = [
    note("a", "two", 5),
    note("b", "one", 90),
    note("c", "one", 10),
    note("d", "two", 1, 2),
    note("e", "one", 7, 1),
  ];
  assert.deepEqual(
    inOrder(notes, clips).map(({ id }) => id),
    ["e", "d", "c", "b", "a"],
  );
});

test("ranks follow the order given and leave the others out", () => {
  const ranks = withRanks(
    [note("a", "one", 1, 1), note("b", "one", 2), note("c", "one", 3, 2)],
    ["c", "b"],
  );
  assert.deepEqual(
    ranks.map(({ rank }) => rank),
    [null, 2, 1],
  );
});

test("a frame lies in the rep that is bracketed round it, on its own clip", () => {
  const calls = [
    { clip: "one", rep: 1, call: null, faults: [], first_frame: 10, last_frame: 60 },
    { clip: "two", rep: 2, call: null, faults: [], first_frame: 10, last_frame: 60 },
    { clip: "one", rep: 3, call: "standard", faults: [], first_frame: null, last_frame: null },
  ];
  assert.deepEqual(
    [10, 60, 61, 9].map((frame) => repAt(calls, "one", frame)),
    [1, 1, null, null],
  );
  assert.equal(callOf(calls, "one", 9).call, null);
});

test("unsent changes are laid over what the server knows", () => {
  const review = {
    notes: [note("a", "one", 1), note("b", "one", 2)],
    rep_calls: [],
    reply: { opening: "old", film_again_by: null },
    outcomes: { x: "gone", y: "same" },
  };
  const after = overlaid(review, [
    { key: "note:a", method: "DELETE", body: null },
    { key: "note:c", method: "PUT", body: note("c", "one", 3) },
    { key: "rep:one:2", method: "PUT", body: { call: "standard", faults: [] } },
    { key: "reply", method: "PATCH", body: { opening: "new", ranks: ["c"] } },
    { key: "outcome:y", method: "PUT", body: { result: "better" } },
  ]);
  assert.deepEqual(after.outcomes, { x: "gone", y: "better" });
  assert.deepEqual(
    after.notes.map(({ id, rank }) => [id, rank]),
    [
      ["b", null],
      ["c", 1],
    ],
  );
  assert.deepEqual(after.rep_calls, [{ call: "standard", faults: [], clip: "one", rep: 2 }]);
  assert.deepEqual(after.reply, { opening: "new", film_again_by: null });
  assert.equal(review.notes.length, 2, "what the server said is left as it was");
});
