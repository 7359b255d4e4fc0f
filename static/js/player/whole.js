// @ts-check
import { getBlob } from "../net.js";

/**
 * The whole of a file, and a video element of its own that is ready to show it.
 * @param {string} src
 * @param {(url: string) => HTMLVideoElement} make
 * @returns {Promise<{video: HTMLVideoElement, blob: Blob}|null>} null when it did not arrive or does not play: the
 *   ranges it is played from meanwhile go on serving
 */
export async function wholeFile(src, make) {
  const blob = await getBlob(src).catch(() => null);
  if (!blob) return null;
  const video = make(URL.createObjectURL(blob));
  await new Promise((resolve) => {
    video.addEventListener("loadeddata", resolve, { once: true });
    video.addEventListener("error", resolve, { once: true });
  });
  if (!video.error) return { video, blob };
  URL.revokeObjectURL(video.src);
  return null;
}
