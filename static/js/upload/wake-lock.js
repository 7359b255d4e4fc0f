// @ts-check
/**
 * Keep the screen on while bytes move: a phone that sleeps stops its uploads. Only where the
 * browser can (a secure context); elsewhere the upload resumes when the page is opened again.
 */
export class WakeLock {
  /** @type {WakeLockSentinel|null} */
  #lock = null;
  #wanted = false;

  constructor() {
    // The system takes the lock whenever the page is hidden.
    document.addEventListener("visibilitychange", () => this.#follow());
  }

  /** @param {boolean} wanted */
  set(wanted) {
    if (wanted === this.#wanted) return;
    this.#wanted = wanted;
    this.#follow();
  }

  async #follow() {
    if (!this.#wanted) {
      await this.#lock?.release();
      this.#lock = null;
    } else if ("wakeLock" in navigator && document.visibilityState === "visible" && (!this.#lock || this.#lock.released)) {
      // Refused on a low battery: the upload goes on all the same.
      this.#lock = await navigator.wakeLock.request("screen").catch(() => null);
    }
  }
}
