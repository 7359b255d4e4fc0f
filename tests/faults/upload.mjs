// Sends one file with tus-js-client in pieces, and says how it went. Words: endpoint, file, clip, headers.
import { readFileSync } from "node:fs";
import { Upload } from "tus-js-client";

const [endpoint, file, clip, headers] = process.argv.slice(2);
const body = readFileSync(file);
new Upload(body, {
  endpoint,
  chunkSize: Math.ceil(body.length / 3),
  headers: JSON.parse(headers),
  metadata: { clip, filename: "squat.mp4" },
  retryDelays: null,
  onError: (error) => {
    console.error(String(error));
    process.exit(1);
  },
  onSuccess: () => console.log("sent"),
}).start();
