// @ts-check
/** A still from the file on the phone, and how long it is, before a byte has gone out. */

const PATIENCE = 6000;
const TALL = 168;

/**
 * @param {File} file
 * @returns {Promise<{picture: string, seconds: number}>} picture is a blob address or "" when this
 *   browser cannot show the file, which says nothing about whether the server can; seconds may be 0
 */
export async function preview(file) {
  const video = document.createElement("video");
  const url = URL.createObjectURL(file);
  video.muted = true;
  video.playsInline = true;
  video.preload = "auto";
  try {
    await happens(video, "loadeddata", () => { video.src = url; });
    const seconds = Number.isFinite(video.duration) ? video.duration : 0;
    await happens(video, "seeked", () => { video.currentTime = Math.min(1, seconds / 3); });
    return { picture: await still(video), seconds };
  } catch {
    return { picture: "", seconds: 0 };
  } finally {
    video.removeAttribute("src");
    video.load();
    URL.revokeObjectURL(url);
  }
}

/** @param {HTMLVideoElement} video @param {string} name @param {() => void} begin */
function happens(video, name, begin) {
  return new Promise((done, failed) => {
    setTimeout(() => failed(new Error(`no ${name}`)), PATIENCE);
    video.addEventListener(name, done, { once: true });
    video.addEventListener("error", () => failed(video.error), { once: true });
    begin();
  });
}

/** @param {HTMLVideoElement} video @returns {Promise<string>} */
async function still(video) {
  if (!video.videoWidth) return ""; // sound came, but no picture this browser can decode
  const canvas = document.createElement("canvas");
  const scale = TALL / video.videoHeight;
  canvas.width = Math.round(video.videoWidth * scale);
  canvas.height = TALL;
  canvas.getContext("2d")?.drawImage(video, 0, 0, canvas.width, canvas.height);
  const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.8));
  return blob ? URL.createObjectURL(blob) : "";
}
