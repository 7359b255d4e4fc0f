// @ts-check
export const NO_PICTURE =
  "This browser shows no picture of the clip. The clip is safe: open this page in another browser.";
export const NO_FRAMES =
  "The clip's frame table did not arrive, so frames cannot be told apart. Load the page again.";
const NO_FILE =
  "The clip did not arrive. Nothing is lost: load the page again when the network is back.";

/** A file that cannot be had differs from one that cannot be shown. @param {HTMLVideoElement} video */
export function problemOf(video) {
  return video.error?.code === MediaError.MEDIA_ERR_NETWORK ? NO_FILE : NO_PICTURE;
}

/** Words in place of the picture; empty ones take them away. @param {Element} host @param {string} text */
export function showProblem(host, text) {
  for (const old of host.querySelectorAll(".player-problem")) old.remove();
  if (!text) return;
  const problem = document.createElement("p");
  problem.className = "player-problem";
  problem.setAttribute("role", "alert");
  problem.textContent = text;
  host.append(problem);
}
