// @ts-check
/**
 * Tell of every picture as it reaches the screen.
 *
 * Where the browser has requestVideoFrameCallback, a time within the picture's own interval is told:
 * its start, or the place that was sought. Elsewhere the clock's position after a seek, and on each screen refresh
 * while playing and when it stops, is the best there is.
 * @param {HTMLVideoElement} video
 * @param {(seconds: number) => void} onFrame
 * @param {AbortSignal} signal
 */
export function watchPresentedFrames(video, onFrame, signal) {
  if ("requestVideoFrameCallback" in video) {
    const next = () =>
      video.requestVideoFrameCallback((_now, { mediaTime }) => {
        if (signal.aborted) return;
        next(); // first: of a picture that comes before it is asked for, nothing is told
        onFrame(mediaTime);
      });
    next();
  } else {
    const element = /** @type {HTMLVideoElement} */ (video);
    const now = () => onFrame(element.currentTime);
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
}
