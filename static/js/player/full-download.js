// @ts-check
import { getBlob } from "../core/net.js";

/**
 * The whole of a file, and a video element of its own that is ready to show it.
 * @param {string} src
 * @param {(url: string) => HTMLVideoElement} make
 * @param {AbortSignal} signal ends it all, and what holds the file in memory
 * @returns {Promise<{video: HTMLVideoElement, blob: Blob}|null>} null when it did not arrive or does not play: the
 *   ranges it is played from meanwhile go on serving
 */
export async function downloadWhole(src, make, signal) {
  const blob = await getBlob(src, { signal }).catch(() => null);
  if (!blob || signal.aborted) return null;
  const url = URL.createObjectURL(blob);
  signal.addEventListener("abort", () => URL.revokeObjectURL(url));
  const video = make(url);
  await happens(video, ["loadeddata", "error"], signal);
  if (!video.error && !signal.aborted) return { video, blob };
  URL.revokeObjectURL(url);
  return null;
}

/**
 * One of these events, or the end of waiting for it.
 * @param {EventTarget} target @param {string[]} names @param {AbortSignal} signal
 * @returns {Promise<unknown>}
 */
export function happens(target, names, signal) {
  return new Promise((resolve) => {
    if (signal.aborted) return resolve(null);
    for (const name of names) target.addEventListener(name, resolve, { once: true });
    signal.addEventListener("abort", resolve, { once: true });
  });
}
