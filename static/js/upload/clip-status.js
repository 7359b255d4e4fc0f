// @ts-check
/** What the page says about a video on its way: what happened, what is safe, what to do. */

/** @typedef {"empty"|"waiting"|"receiving"|"finishing"|"paused"|"gone"|"server"|"pick"|"failed"|"processing"|"playable"} Stage */

/** @param {number} bytes @returns {string} "41 MB", "1.9 GB": in powers of 1024, as the limits are told */
export function size(bytes) {
  if (bytes < 1024 ** 2) return `${Math.max(1, Math.round(bytes / 1024))} KB`;
  if (bytes < 1024 ** 3) return `${Math.round(bytes / 1024 ** 2)} MB`;
  return `${(bytes / 1024 ** 3).toFixed(1)} GB`;
}

/** @param {number} share 0 to 1 @returns {number} whole percent; 100 only when all of it is there */
export function percent(share) {
  return Math.min(share >= 1 ? 100 : 99, Math.floor(share * 100));
}

/** The short word beside the clip's name, and the shape that goes with it. @type {Record<Stage, [string, string]>} */
export const SHORT = {
  empty: ["No video yet", "attention"],
  waiting: ["Waits its turn", ""],
  receiving: ["Receiving", ""],
  finishing: ["Receiving", ""],
  paused: ["Paused", "paused"],
  gone: ["No connection", "paused"],
  server: ["No answer", "paused"],
  pick: ["Not all in", "paused"],
  failed: ["Failed", "attention"],
  processing: ["Sent", "done"],
  playable: ["Ready", "done"],
};

/**
 * @param {Stage} stage
 * @param {{share: number, filename: string, bytes: number, reason: string, progress: number}} facts
 * @returns {string} the sentence under the name
 */
export function sentence(stage, { share, filename, bytes, reason, progress }) {
  const at = `${percent(share)}%`;
  const file = [filename, bytes ? size(bytes) : ""].filter(Boolean).join(", ");
  switch (stage) {
    case "empty": return "Pick the video for this clip.";
    case "waiting": return `${file}. Goes up when the clips before it are in.`;
    case "receiving": return file;
    case "finishing": return `${file}. All of it went out; the server is storing it.`;
    case "paused": return `Paused at ${at}. What is in stays in.`;
    case "gone": return `The network is gone at ${at}. Nothing is lost: it goes on by itself, or open this page again.`;
    case "server": return `The server does not answer, at ${at}. Nothing is lost: it goes on by itself when the server is back.`;
    case "pick": return `${at} of ${filename} is in. Pick the same file again, and it goes on from there.`;
    case "failed": return reason;
    case "processing": return progress > 0
      ? `${file}. Being made ready, ${percent(progress)}%.`
      : `${file}. Being made ready; you need not wait.`;
    case "playable": return `${file}. It plays.`;
  }
}
