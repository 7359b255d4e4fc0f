// @ts-check
import { h, shape } from "../core/dom.js";
import { ExactPlayer } from "../player/exact-player.js";
import { apart, inPlayingOrder, reached } from "./playback-stops.js";
import { followTracks, SILENT } from "./text-tracks.js";

const TARGET = 44;
const SLOW = 0.25;
const VERDICTS = /** @type {Record<string, string>} */ ({
  standard: "to standard", "not-standard": "not to standard", "cannot-tell": "can't tell",
});

/**
 * A reply's clip: it stops at every focus point, and goes to the moment a "Show me" names.
 *
 * `data-from` names the element that holds its JSON: {clips: [{id, playable, frames_url, poster,
 * width, height, label, calls, tracks}], stops: [{number, note, clip, frame, title, cue}]}. Buttons
 * anywhere on the page with data-show (a clip) and data-frame bring it to a moment. While it plays,
 * the coach's words stand below the picture, from the captions track: over it they would hide the
 * lift.
 *
 * @typedef {import("./playback-stops.js").Stop} Stop
 * @typedef {{rep: number, call: string, first_frame: number, last_frame: number}} RepMark
 * @typedef {{id: string, playable: string, frames_url: string, poster: string, width: number,
 *   height: number, label: string, calls: RepMark[], tracks: import("./text-tracks.js").Addresses}} Clip
 */
export class ReplyPlayer extends HTMLElement {
  /** @type {Clip[]} */
  #clips = [];
  /** @type {Stop[]} */
  #stops = [];
  /** @type {Clip} */
  #clip = /** @type {any} */ (null);
  /** @type {Stop|undefined} */
  #at;
  #before = -1;
  #moment = SILENT;
  /** @type {ReturnType<typeof followTracks>|null} */
  #tracks = null;
  /** @type {AbortController|null} */
  #leave = null;

  connectedCallback() {
    const from = document.getElementById(this.dataset.from ?? "");
    const { clips, stops } = JSON.parse(from?.textContent ?? '{"clips": [], "stops": []}');
    this.#clips = clips;
    this.#stops = inPlayingOrder(stops, clips);
    this.#leave = new AbortController();
    const { signal } = this.#leave;
    this.#listen(signal);
    const track = new ResizeObserver(() => this.#place());
    track.observe(this.#find("[data-track]"));
    signal.addEventListener("abort", () => track.disconnect());
    const first = [...this.#stops].sort((a, b) => a.number - b.number)[0];
    void this.show(first?.clip ?? clips[0].id, first?.frame ?? 0);
  }

  disconnectedCallback() {
    this.#leave?.abort();
    this.#tracks?.leave();
  }

  /** @returns {ExactPlayer} */
  get player() {
    return /** @type {ExactPlayer} */ (this.#find("exact-player"));
  }

  /** Stand still at a moment. @param {string} clip @param {number} frame @returns {Promise<number>} */
  async show(clip, frame) {
    const wanted = this.#clips.find((other) => other.id === clip);
    if (!wanted) return this.player.currentFrame;
    if (wanted !== this.#clip) this.#change(wanted);
    this.#standAt(this.#stopsHere().find((stop) => stop.frame === frame));
    const frameShown = await this.player.goTo(frame);
    this.#before = frameShown;
    return frameShown;
  }

  /** @param {AbortSignal} signal */
  #listen(signal) {
    const { player } = this;
    player.addEventListener("frame", (event) => this.#came(/** @type {CustomEvent} */ (event).detail.frame), { signal });
    player.addEventListener("playstate", () => this.#state(), { signal });
    player.addEventListener("ready", () => this.#place(), { signal });
    player.addEventListener("whole", () => this.#followTracks(), { signal }); // another video took its place
    this.#find("[data-play]").addEventListener("click", () => void this.player.toggle(), { signal });
    this.#find("[data-slow]").addEventListener("click", () => {
      player.rate = player.rate === SLOW ? 1 : SLOW;
    }, { signal });
    document.addEventListener("click", (event) => this.#clicked(event), { signal });
  }

  /** Some button of the page wants a moment. @param {Event} event */
  #clicked(event) {
    const button = event.target instanceof Element ? event.target.closest("[data-show]") : null;
    if (!(button instanceof HTMLElement)) return;
    void this.show(button.dataset.show ?? "", Number(button.dataset.frame ?? 0));
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const box = this.getBoundingClientRect();
    if (box.top < 0 || box.bottom > innerHeight) {
      this.scrollIntoView({ behavior: still ? "auto" : "smooth", block: "start" });
    }
  }

  /** A picture is on the screen. @param {number} frame */
  #came(frame) {
    const { player } = this;
    // A busy phone may be told of no picture until the clip has played to its end.
    if (player.paused && !player.video.ended) {
      this.#before = frame;
      return;
    }
    if (frame < this.#before) this.#before = -1; // it began again
    const stop = reached(this.#stopsHere(), this.#before, frame);
    this.#before = frame;
    if (stop) void this.show(stop.clip, stop.frame);
    else if (this.#at) this.#standAt(undefined);
  }

  #stopsHere() {
    return this.#stops.filter((stop) => stop.clip === this.#clip.id);
  }

  /** @param {Clip} clip */
  #change(clip) {
    const { player } = this;
    this.#clip = clip;
    this.#before = -1;
    const { playable: src, frames_url: frames, poster, label } = clip;
    void player.open({ src, frames, poster, label });
    this.#followTracks();
    this.#find(".stage").dataset.shape = clip.height > clip.width ? "portrait" : "landscape";
    this.#drawTrack();
    this.#drawClips();
  }

  /** Which stop the clip stands at, in words beside the picture. @param {Stop|undefined} stop */
  #standAt(stop) {
    this.#at = stop;
    for (const button of this.querySelectorAll("[data-stop]")) {
      if (stop && button.getAttribute("data-stop") === String(stop.number)) button.setAttribute("aria-current", "true");
      else button.removeAttribute("aria-current");
    }
    this.#drawCaption();
  }

  /** Follow the tracks of the clip on the video that shows it now. */
  #followTracks() {
    this.#tracks?.leave();
    this.#moment = SILENT;
    this.#tracks = followTracks(this.player.video, this.#clip.tracks, (moment) => {
      this.#moment = moment;
      this.#drawCaption();
    });
  }

  /**
   * The words of this moment: of the stop it stands at, else of the note that plays. A stop's are
   * taken by its note: a cue one frame long may not have become active when the clip stops there.
   */
  #drawCaption() {
    const stop = this.#at;
    const { notes, rep } = this.#moment;
    const lines = stop ? this.#tracks?.linesOf(stop.note) : notes.at(-1)?.lines;
    const [title, ...words] = lines ?? (stop ? [`${stop.number}. ${stop.title}`] : []);
    const place = stop ? `point ${stop.number} of ${this.#stops.length}` : rep || this.#count();
    const named = h("b", {}, title ?? "");
    this.#find("[data-caption]").replaceChildren(
      h("p.named", {}, stop ? h("a", { href: `#point-${stop.number}` }, named) : named,
        h("span.muted.small", {}, place)),
      h("p.caption-text.small", {}, words.join(" ")),
    );
  }

  #count() {
    const many = this.#stopsHere().length;
    if (!many) return this.#stops.length ? "No stop on this clip" : "";
    return `Stops at ${many} ${many === 1 ? "moment" : "moments"}`;
  }

  #state() {
    const { player } = this;
    const play = this.#find("[data-play]");
    play.replaceChildren(shape(player.paused ? "play" : "pause"));
    play.setAttribute("aria-label", player.paused ? "Play from here" : "Pause");
    this.#find("[data-slow]").setAttribute("aria-pressed", String(player.rate === SLOW));
  }

  #drawTrack() {
    const calls = this.#clip.calls.map((call) =>
      h("span.rep", { "data-call": call.call, "data-rep": call.rep, title: `Rep ${call.rep}: ${VERDICTS[call.call]}` }));
    const stops = this.#stopsHere().map((stop) =>
      h("button", {
        type: "button", "data-stop": stop.number, "data-show": stop.clip, "data-frame": stop.frame,
        "aria-label": `Point ${stop.number}: ${stop.title}`,
      }, h("span", {}, String(stop.number))));
    this.#find("[data-track]").replaceChildren(...calls, ...stops);
    this.#place();
  }

  /** Put the marks where their moments lie in time; needs the clip's clock. */
  #place() {
    const { table } = this.player;
    const track = this.#find("[data-track]");
    track.toggleAttribute("data-placed", table !== null);
    if (!table || !this.#clip) return;
    const share = (/** @type {number} */ frame) => table.start(table.clamp(frame)) / table.seconds;
    for (const { rep, first_frame, last_frame } of this.#clip.calls) {
      const mark = /** @type {HTMLElement} */ (track.querySelector(`[data-rep="${rep}"]`));
      mark.style.setProperty("--from", `${100 * share(first_frame)}%`);
      mark.style.setProperty("--to", `${100 - 100 * share(last_frame)}%`);
    }
    const width = track.clientWidth;
    const places = apart(this.#stopsHere().map((stop) => share(stop.frame) * width), width, TARGET);
    this.#stopsHere().forEach((stop, at) => {
      const button = /** @type {HTMLElement} */ (track.querySelector(`[data-stop="${stop.number}"]`));
      button.style.setProperty("--at", `${places[at]}px`);
    });
  }

  /** With several clips, a button for each. */
  #drawClips() {
    const row = this.#find("[data-clips]");
    row.hidden = this.#clips.length < 2;
    row.replaceChildren(...this.#clips.map((clip) =>
      h("button.btn.dense", {
        type: "button", "aria-pressed": String(clip === this.#clip),
        onclick: () => void this.show(clip.id, this.#stops.find((stop) => stop.clip === clip.id)?.frame ?? 0),
      }, clip.label)));
  }

  /** @param {string} what @returns {HTMLElement} */
  #find(what) {
    return /** @type {HTMLElement} */ (this.querySelector(what));
  }
}

customElements.define("reply-player", ReplyPlayer);
