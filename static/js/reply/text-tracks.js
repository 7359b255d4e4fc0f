// @ts-check
/**
 * Listening to a clip's text tracks, unseen: the page shows their words where they hide nothing.
 *
 * @typedef {{captions: string, chapters: string}} Addresses
 * @typedef {{notes: {note: string, lines: string[]}[], rep: string}} Moment the notes of this moment
 *   by their start, and the rep it lies in ("" between reps)
 */

/** @type {Moment} */
export const SILENT = { notes: [], rep: "" };

/**
 * Give a video the tracks of its clip, and tell what they say whenever that changes.
 * @param {HTMLVideoElement} video @param {Addresses} addresses @param {(moment: Moment) => void} onChange
 * @returns {{linesOf: (note: string) => string[]|undefined, leave: () => void}} the lines of a note
 *   wherever the video stands, once they have arrived; and how to stop listening
 */
export function followTracks(video, addresses, onChange) {
  const leave = new AbortController();
  const [captions, chapters] = /** @type {const} */ (["captions", "chapters"]).map((kind) => {
    const track = document.createElement("track");
    track.kind = kind;
    track.label = kind === "captions" ? "Your coach's words" : "Reps";
    track.srclang = document.documentElement.lang;
    track.src = addresses[kind];
    video.append(track);
    track.track.mode = "hidden"; // loaded and followed, not drawn over the picture
    track.addEventListener("load", () => changed(), { signal: leave.signal });
    return track.track;
  });
  const changed = () => onChange({ notes: active(captions).map(note), rep: rep(active(chapters)) });
  for (const track of [captions, chapters])
    track.addEventListener("cuechange", changed, { signal: leave.signal });
  return {
    linesOf: (wanted) => [.../** @type {any} */ (captions.cues ?? [])].map(note).find((cue) => cue.note === wanted)?.lines,
    leave: () => leave.abort(),
  };
}

/** @param {TextTrack} track @returns {VTTCue[]} */
function active(track) {
  return /** @type {VTTCue[]} */ ([...(track.activeCues ?? [])]);
}

/** @param {VTTCue} cue */
function note(cue) {
  return { note: cue.id.replace("note-", ""), lines: textOf(cue).split("\n") };
}

/** @param {VTTCue[]} cues */
function rep(cues) {
  const last = cues.at(-1);
  return last ? textOf(last).split(",")[0] : "";
}

/** The browser's parser undoes the file's escapes only on this way. @param {VTTCue} cue */
function textOf(cue) {
  return cue.getCueAsHTML().textContent ?? "";
}
