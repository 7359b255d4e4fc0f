// @ts-check
/** One file on its way to the server: resumes by itself, pauses by hand, knows when it is stuck. */

const PIECE = 16 * 1024 * 1024; // each piece is acknowledged as safely stored; proxies need not hold more
const FIRST_WAIT = 1000;
const LAST_WAIT = 10000;
const STUCK = 30000;

/** @typedef {"waiting"|"receiving"|"finishing"|"paused"|"gone"|"server"|"failed"|"arrived"} State */

/** tus-js-client, a classic script. @returns {any} */
function client() {
  return /** @type {any} */ (globalThis).tus;
}

/** @param {any} error @returns {{status: number, detail: string}} status 0: no answer at all */
function answer(error) {
  const response = error?.originalResponse;
  const status = response?.getStatus?.() ?? 0;
  let detail = "";
  try {
    detail = JSON.parse(response?.getBody?.() || "{}").detail ?? "";
  } catch {
    detail = ""; // a proxy's page, not ours: the status has to do
  }
  return { status, detail };
}

/** Whether trying again can help. @param {number} status */
function passes(status) {
  return [0, 408, 409, 423, 429].includes(status) || (status >= 500 && status !== 507);
}

export class ClipUpload {
  /** @type {State} */
  state = "waiting";
  sent = 0;
  reason = "";
  #upload;
  #moved = 0;
  #tries = 0;
  #file;
  #changed;
  /** @type {ReturnType<typeof setTimeout>|undefined} */
  #timer;
  /** @type {ReturnType<typeof setInterval>|undefined} */
  #watch;

  /**
   * @param {{file: File, clip: string, endpoint: string, url: string|null, token: string,
   *   changed: () => void}} options `url` where an earlier part lies, or null
   */
  constructor({ file, clip, endpoint, url, token, changed }) {
    this.#file = file;
    this.#changed = changed;
    this.#upload = new (client().Upload)(file, {
      endpoint,
      uploadUrl: url,
      chunkSize: PIECE,
      retryDelays: null, // our own: it never gives up on a dead network, and says which end is silent
      storeFingerprintForResuming: false, // the server remembers where each clip stands
      metadata: { clip, filename: file.name },
      headers: { "X-CSRFToken": token },
      onProgress: (/** @type {number} */ sent) => this.#moves(sent),
      onChunkComplete: () => { this.#tries = 0; },
      onError: (/** @type {any} */ error) => this.#stumbles(error),
      onSuccess: () => this.#becomes("arrived"),
    });
  }

  get total() {
    return this.#file.size;
  }

  /** Where what is in lies, once the server has begun it. @returns {string|null} */
  get url() {
    return this.#upload.url ?? null;
  }

  get share() {
    return this.total ? this.sent / this.total : 0;
  }

  /** Still busy, or about to be: the screen should stay awake and the place in the line is taken. */
  get active() {
    return ["receiving", "finishing", "gone", "server"].includes(this.state);
  }

  start() {
    clearTimeout(this.#timer);
    this.#moved = Date.now();
    this.#becomes("receiving");
    this.#watch ??= setInterval(() => this.#look(), STUCK / 6);
    addEventListener("online", this.#online);
    addEventListener("offline", this.#offline);
    this.#upload.start();
  }

  pause() {
    this.#halt();
    this.#becomes("paused");
  }

  /** Stop for good, without a word. */
  drop() {
    this.#halt();
    this.#quiet();
  }

  #halt() {
    clearTimeout(this.#timer);
    this.#upload.abort().catch(() => undefined); // an abort of nothing is no trouble
  }

  #quiet() {
    clearInterval(this.#watch);
    this.#watch = undefined;
    removeEventListener("online", this.#online);
    removeEventListener("offline", this.#offline);
  }

  #online = () => {
    if (this.state === "gone" || this.state === "server") this.#again();
  };

  #offline = () => {
    if (this.state === "receiving" || this.state === "finishing") this.#waits("gone");
  };

  /** @param {number} sent */
  #moves(sent) {
    this.#moved = Date.now();
    this.sent = sent;
    this.#becomes(sent >= this.total ? "finishing" : "receiving");
  }

  /** A network that swallows bytes without a word gives no error event. */
  #look() {
    const busy = this.state === "receiving" || this.state === "finishing";
    if (busy && Date.now() - this.#moved > STUCK) this.#waits("gone");
  }

  /** @param {any} error */
  #stumbles(error) {
    if (this.state === "paused") return;
    const { status, detail } = answer(error);
    if (passes(status)) {
      this.#waits(status === 0 && !navigator.onLine ? "gone" : status === 0 ? "gone" : "server");
      return;
    }
    this.reason = status === 401 || status === 403
      ? "You are signed out. What is in stays in: sign in, open this page again and pick the file again."
      : detail || `The server refused this file (${status}). Pick it again, or ask your coach.`;
    this.#quiet();
    this.#becomes("failed");
  }

  /** @param {"gone"|"server"} state */
  #waits(state) {
    this.#halt();
    this.#tries += 1;
    const wait = Math.min(LAST_WAIT, FIRST_WAIT * 2 ** (this.#tries - 1));
    this.#timer = setTimeout(() => this.#again(), wait);
    this.#becomes(state);
  }

  async #again() {
    try {
      await this.#file.slice(0, 1).arrayBuffer();
    } catch {
      this.reason = "Your phone no longer gives us this file. Pick it again; what is in stays in.";
      this.#quiet();
      this.#becomes("failed");
      return;
    }
    if (this.state === "gone" || this.state === "server") this.start();
  }

  /** @param {State} state */
  #becomes(state) {
    this.state = state;
    if (state === "arrived") this.#quiet();
    this.#changed();
  }
}
