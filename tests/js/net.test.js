import assert from "node:assert/strict";
import { createServer } from "node:http";
import { test } from "node:test";
import { getBlob, getJSON } from "../../static/js/core/net.js";

/** A server that answers with `answer`, and how often it was asked and left. */
async function served(answer) {
  const seen = { asked: 0, left: 0 };
  const server = createServer((request, response) => {
    seen.asked += 1;
    response.on("close", () => (seen.left += response.writableFinished ? 0 : 1));
    answer(response, seen.asked);
  });
  await new Promise((listening) => server.listen(0, "127.0.0.1", listening));
  const url = `http://127.0.0.1:${server.address().port}/`;
  const end = () => new Promise((closed) => (server.closeAllConnections(), server.close(closed)));
  return { url, seen, end };
}

const stops = (response) => {
  response.writeHead(200, { "Content-Length": 1000, "Content-Type": "video/mp4" });
  response.write(Buffer.alloc(400));
};

test("a file whose server stops sending is given up, and its connection with it", async () => {
  const { url, seen, end } = await served(stops);
  await assert.rejects(getBlob(url, { stallMs: 60 }), { kind: "network" });
  await new Promise((closed) => setTimeout(closed, 20));
  assert.equal(seen.left, seen.asked);
  await end();
});

test("one that keeps coming may take longer than that, and one that comes at last is whole", async () => {
  const slowly = (response, time) => {
    if (time === 1) return stops(response);
    response.writeHead(200, { "Content-Type": "video/mp4" });
    let sent = 0;
    const more = setInterval(() => {
      response.write(Buffer.alloc(100, sent));
      if ((sent += 1) === 25) clearInterval(more) ?? response.end();
    }, 40);
  };
  const { url, end } = await served(slowly);
  const blob = await getBlob(url, { stallMs: 400 });
  assert.deepEqual([blob.size, blob.type], [2500, "video/mp4"]);
  assert.equal(new Uint8Array(await blob.arrayBuffer())[2499], 24);
  await end();
});

test("one that nobody wants any more is not fetched on, nor asked for again", async () => {
  const { url, seen, end } = await served(stops);
  const clip = new AbortController();
  const fetched = getBlob(url, { signal: clip.signal });
  while (!seen.asked) await new Promise((asked) => setTimeout(asked, 5));
  clip.abort();
  await assert.rejects(fetched, { kind: "network" });
  await new Promise((closed) => setTimeout(closed, 20));
  assert.deepEqual([seen.asked, seen.left], [1, 1]);
  await end();
});

test("an answer that does not come is given up after its time, and asked for again", async () => {
  const answer = (response, time) => {
    if (time === 1) return; // never
    if (time === 2) return stops(response);
    response.writeHead(200, { "Content-Type": "application/json" });
    response.end('{"ok": true}');
  };
  const { url, seen, end } = await served(answer);
  assert.deepEqual(await getJSON(url, { limitMs: 200 }), { ok: true });
  assert.deepEqual([seen.asked, seen.left], [3, 2]);
  await end();
});
