// @ts-check
/**
 * Tell of every picture as it reaches the screen.
 *
 * Where the browser has requestVideoFrameCallback, the picture's own presentation time is told,
 * which is the truth. Elsewhere the clock's position after a seek, and on each screen refresh
 * while playing and when it stops, is the best there is.
 * @param {HTMLVideoElement} video
 * @param {(seconds: number, exact: boolean) => void} tell exact: a picture's own start
 * @returns {() => void} stop
 */
export function watchPictures(video, tell) {
  const stop = new AbortController();
  const { signal } = stop;
  if ("requestVideoFrameCallback" in video) {
    const next = () =>
      video.requestVideoFrameCallback((_now, { mediaTime }) => {
        if (signal.aborted) return;
        next(); // first: of a picture that comes before it is asked for, nothing is told
        tell(mediaTime, true);
      });
    next();
  } else {
    const element = /** @type {HTMLVideoElement} */ (video);
    const now = () => tell(element.currentTime, false);
    const whilePlaying = () => {
      if (signal.aborted || element.paused) return;
      now();
      requestAnimationFrame(whilePlaying);
    };
    element.addEventListener("loadeddata", now, { signal });
    element.addEventListener("seeked", () => requestAnimationFrame(now), { signal });
    element.addEventListener("playing", whilePlaying, { signal });
    element.addEventListener("pause", now, { signal });
  }
  return () => stop.abort();
}
