// @ts-check
/** A browser without the codec raises no error, it only shows nothing: this is how long we wait. */
const PICTURE_MS = 8000;

/** How long a picture may take before the poster stands in: asked for at once, it would come first. */
const POSTER_MS = 300;

/** @param {string} src @param {{poster: string|null, label: string|null}} about */
export function makeVideo(src, about) {
  const video = document.createElement("video");
  video.preload = "auto";
  video.playsInline = true;
  video.disablePictureInPicture = true;
  describe(video, about);
  video.src = src;
  return video;
}

/**
 * The video element that the page's own HTML holds for this file, which began to load before any
 * script ran; null when there is none.
 * @param {Element} host @param {string} src @param {{poster: string|null, label: string|null}} about
 */
export function pageVideo(host, src, about) {
  const video = host.querySelector("video");
  if (video?.getAttribute("src") !== src) return null;
  describe(video, about);
  return video;
}

/**
 * The frame table that the page's own HTML holds beside that video, as JSON; null when there is
 * none. Taken once: it is no other clip's.
 * @param {Element} host
 */
export function pageTable(host) {
  const embedded = host.querySelector('script[type="application/json"]');
  embedded?.remove();
  return embedded && JSON.parse(embedded.textContent ?? "");
}

/** @param {HTMLVideoElement} video @param {{poster: string|null, label: string|null}} about */
function describe(video, { poster, label }) {
  video.setAttribute("aria-label", label ?? "Clip");
  if (poster) setTimeout(() => !hasPicture(video) && (video.poster = poster), POSTER_MS);
}

/** @param {HTMLVideoElement} video */
function hasPicture(video) {
  return video.videoWidth > 0 && video.readyState >= HTMLMediaElement.HAVE_CURRENT_DATA;
}

/**
 * Whether the first picture is there, once it is or could have been. A decoded size is the proof:
 * a browser that plays only the sound of a file raises "loadeddata" for it too.
 * @param {HTMLVideoElement} video @returns {Promise<boolean>}
 */
export function firstPicture(video) {
  const there = () => hasPicture(video);
  return new Promise((resolve) => {
    if (there()) return resolve(true);
    video.addEventListener("loadeddata", () => there() && resolve(true), { once: true });
    setTimeout(() => resolve(there()), PICTURE_MS);
  });
}
