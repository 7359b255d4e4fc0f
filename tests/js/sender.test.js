import assert from "node:assert/strict";
import { beforeEach, mock, test } from "node:test";
import { Outbox, SETTLE_MS } from "../../static/js/core/outbox.js";

/** @type {Record<string, () => void>} */
let page = {};
globalThis.document = /** @type {any} */ ({ addEventListener: (name, heard) => (page[name] = heard) });
globalThis.addEventListener = /** @type {any} */ ((name, heard) => (page[name] = heard));
const { Problem } = await import("../../static/js/core/net.js");
const { backoff, Sender } = await import("../../static/js/core/sender.js");

mock.timers.enable({ apis: ["setTimeout", "Date"] });
beforeEach(() => (page = {}));

const note = (text, id = "a", more = {}) => ({ key: `note:${id}`, method: "PUT", url: `/notes/${id}`, body: { text }, ...more });
const settled = () => new Promise((done) => setImmediate(done));

/** @param {number} ms */
async function pass(ms) {
  mock.timers.tick(ms);
  await settled();
}

/** A sender whose server answers as it is told to. */
function make(how = {}) {
  const outbox = new Outbox(null);
  const stored = { value: null, write: (value) => (stored.value = JSON.parse(JSON.stringify(value)), true) };
  const site = { answer: () => Promise.resolve(), sent: [] };
  const deliver = (changes) => (site.sent.push(changes.map(({ body }) => body.text).join()), site.answer());
  const sender = new Sender(outbox, stored, { deliver, changed: () => {}, ...how });
  const write = (...change) => {
    outbox.put(note(...change), Date.now());
    sender.save();
  };
  return { outbox, stored, site, sender, write };
}
const gone = () => Promise.reject(new Problem("network", "no network"));

test("typing is kept at once and sent after a pause, the newest words only", async () => {
  const { stored, site, sender, write } = make();
  write("h");
  await pass(SETTLE_MS - 1);
  write("hips");
  assert.equal(stored.value.changes[0].body.text, "hips");
  await pass(SETTLE_MS - 1);
  assert.deepEqual([site.sent, sender.state], [[], "saving"]);
  await pass(1);
  assert.deepEqual([site.sent, sender.state, stored.value], [["hips"], "saved", null]);
});

test("a dead network keeps everything, tries ever more rarely, and says so", async () => {
  const { stored, site, sender, write } = make();
  site.answer = gone;
  write("kept");
  await pass(SETTLE_MS);
  for (const [tries, wait] of [1000, 2000, 4000, 8000, 16000, 30000, 30000].entries()) {
    assert.deepEqual([site.sent.length, sender.state, sender.trouble.kind], [tries + 1, "kept", "network"]);
    assert.equal(stored.value.changes[0].body.text, "kept");
    await pass(wait - 1);
    assert.equal(site.sent.length, tries + 1, "not before its time");
    await pass(1);
  }
  site.answer = () => Promise.resolve();
  page.online();
  await settled();
  assert.deepEqual([sender.state, stored.value, sender.trouble], ["saved", null, null], "the network is back: at once");
  assert.equal(backoff(1), 1000);
});

test("a refusal is told and not tried again, and does not hold up the rest", async () => {
  const { outbox, site, sender, write } = make();
  site.answer = () => Promise.reject(new Problem("refused", "Too long.", 400, { text: ["Too long."] }));
  write("no", "a");
  await pass(SETTLE_MS);
  site.answer = () => Promise.resolve();
  write("yes", "b");
  await pass(1e6);
  assert.deepEqual(site.sent, ["no", "yes"]);
  assert.deepEqual([sender.state, outbox.refused[0].why, outbox.refused[0].errors], ["refused", "Too long.", { text: ["Too long."] }]);
});

test("what arrives while the page is left stays kept for the page to come, but what counts once", async () => {
  for (const once of [false, true]) {
    const { stored, site, write } = make();
    write("typed as it was left", "a", { once });
    page.beforeunload();
    await pass(SETTLE_MS);
    assert.equal(site.sent.length, 1);
    assert.equal(stored.value?.changes[0].body.text, once ? undefined : "typed as it was left");
    write("it was only a file", "b");
    await pass(SETTLE_MS);
    assert.equal(stored.value, null);
  }
});

test("settling brings in what waits, and ends where it is kept", async () => {
  const { site, sender, write } = make();
  write("one", "a");
  write("two", "b");
  let isOver = false;
  void sender.settle().then(() => (isOver = true));
  for (let turn = 0; turn < 5; turn += 1) await pass(50);
  assert.deepEqual([isOver, site.sent, sender.state], [true, ["one", "two"], "saved"]);
  site.answer = gone;
  write("three");
  isOver = false;
  void sender.settle().then(() => (isOver = true));
  for (let turn = 0; turn < 5; turn += 1) await pass(50);
  assert.deepEqual([isOver, sender.state], [true, "kept"]);
});

test("a batch goes as one request, and what is written meanwhile as the next", async () => {
  const { site, write } = make({ batch: true });
  write("one", "a");
  write("two", "b");
  await pass(SETTLE_MS);
  write("three", "a");
  await pass(SETTLE_MS);
  assert.deepEqual(site.sent, ["one,two", "three"]);
});

test("a sender that was stopped neither sends nor takes away what is kept", async () => {
  const { stored, site, sender, write } = make();
  write("one", "a");
  await pass(SETTLE_MS);
  site.answer = () => new Promise((done) => setTimeout(done, 100));
  write("two", "b");
  await pass(SETTLE_MS);
  write("three", "c");
  sender.stop();
  sender.wake();
  await pass(1e6);
  assert.deepEqual(site.sent, ["one", "two"]);
  assert.deepEqual(stored.value.changes.map(({ body }) => body.text), ["two", "three"]);
});
