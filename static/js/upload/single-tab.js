// @ts-check
/**
 * One tab at a time works on a draft: two would overwrite each other's words without a sign. The one
 * that was open first goes on; another says where the work is, and can take it over.
 */

import { newId } from "../core/ids.js";

export class SingleTab {
  #id = newId();
  #works = true;
  #channel;
  #taking;
  #stop;

  /** @param {string} draft @param {() => void} stop called once when another tab has the work */
  constructor(draft, stop) {
    this.#taking = `take:${draft}`;
    this.#stop = stop;
    this.#channel = new BroadcastChannel(`draft:${draft}`);
    this.#channel.addEventListener("message", ({ data }) => this.#hear(data));
    this.#say(sessionStorage.getItem(this.#taking) ? "taken" : "opened");
    sessionStorage.removeItem(this.#taking);
  }

  /** Work here from now on, with what the server and this browser hold by then. */
  take() {
    sessionStorage.setItem(this.#taking, "yes");
    location.reload();
  }

  /** @param {"opened"|"taken"|"works"} what @param {string} [to] */
  #say(what, to = "") {
    this.#channel.postMessage({ what, to, from: this.#id });
  }

  /** @param {{what: string, to: string, from: string}} message */
  #hear({ what, to, from }) {
    if (!this.#works) return;
    if (what === "opened") this.#say("works", from);
    else if (what === "taken" || to === this.#id) {
      this.#works = false;
      this.#stop();
    }
  }
}
