// @ts-check
/**
 * A plain form whose words survive a dead network, a reload and a closed page. What is typed is kept
 * in this browser until the server has it. Without a script it is the form it wraps.
 *
 * `data-name` tells forms of one page apart. `data-resend`: pressed without a network it sends itself
 * when there is one again; only for what may arrive twice and count once.
 */

import { backoff } from "../core/outbox.js";
import { drafts, keyOf, readDraft, writeDraft } from "../core/drafts.js";
import { h } from "../core/dom.js";
import { Problem, sendForm } from "../core/net.js";
import { readFields, writeFields } from "./form-fields.js";

const READER = document.querySelector('meta[name="reader"]')?.getAttribute("content") ?? "";
/** @type {Intl.DateTimeFormatOptions} */
const WHEN = { weekday: "short", day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" };
/** @type {Record<Problem["kind"], string>} */
const WHY = {
  network: "The network is gone.",
  server: "The server does not answer.",
  "signed-out": "You are signed out.",
  conflict: "",
  refused: "",
};

export class KeptForm extends HTMLElement {
  /** @type {ReturnType<typeof setTimeout>|undefined} */
  #timer;
  #tries = 0;
  #busy = false;
  #keeps = true;
  #line = h("p.form-notice.small", { role: "status" });

  connectedCallback() {
    this.form = /** @type {HTMLFormElement} */ (this.querySelector("form"));
    this.key = keyOf(READER, `${new URL(this.form.action).pathname}#${this.dataset.name ?? ""}`);
    this.form.append(this.#line);
    this.#restore();
    this.form.addEventListener("input", () => this.#typed());
    this.form.addEventListener("submit", (event) => this.#pressed(event));
    addEventListener("online", this.#again);
  }

  disconnectedCallback() {
    clearTimeout(this.#timer);
    removeEventListener("online", this.#again);
  }

  get #resends() {
    return "resend" in this.dataset;
  }

  /** @param {[string, string][]} fields @param {boolean} [pressed] */
  #keep(fields, pressed = false) {
    const action = this.form?.action ?? "";
    this.#keeps = writeDraft(this.key ?? "", { action, fields, typedAt: new Date().toISOString(), pressed });
  }

  #typed() {
    clearTimeout(this.#timer);
    this.#keep(readFields(/** @type {HTMLFormElement} */ (this.form)));
  }

  /** Lay what an earlier page could not bring in over what this one shows. */
  #restore() {
    const draft = readDraft(this.key ?? "");
    if (!draft || !this.form) return;
    const before = JSON.stringify(readFields(this.form));
    writeFields(this.form, draft.fields);
    if (draft.pressed) {
      this.#open();
      void this.#send(draft.fields);
    } else if (JSON.stringify(readFields(this.form)) !== before) {
      this.#open();
      const when = new Date(draft.typedAt).toLocaleString("en-GB", WHEN);
      const drop = h("button.btn.quiet.dense", { type: "button", onclick: () => this.#drop() }, "Drop it");
      this.#say([`What you typed here on ${when} is not sent yet. `, drop]);
      this.form.dispatchEvent(new Event("input", { bubbles: true }));
    }
  }

  #open() {
    this.closest("details")?.setAttribute("open", "");
  }

  #drop() {
    writeDraft(this.key ?? "", null);
    this.form?.reset();
    this.form?.dispatchEvent(new Event("change", { bubbles: true }));
    this.#say([]);
  }

  /** @param {SubmitEvent} event */
  #pressed(event) {
    event.preventDefault();
    const fields = sentFields(/** @type {HTMLFormElement} */ (this.form), event.submitter);
    this.#keep(fields, this.#resends);
    void this.#send(fields);
  }

  #again = () => {
    const draft = readDraft(this.key ?? "");
    if (draft?.pressed) void this.#send(draft.fields);
  };

  /** @param {[string, string][]} fields */
  async #send(fields) {
    if (this.#busy) return;
    this.#busy = true;
    clearTimeout(this.#timer);
    this.#say(["Sending"]);
    try {
      const { to, page } = await sendForm(this.form?.action ?? "", fields);
      if (!page) return this.#arrived(to);
      this.#marked(page);
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      this.#failed(error);
    }
    this.#busy = false;
  }

  /** @param {string} to where the server leads */
  #arrived(to) {
    writeDraft(this.key ?? "", null);
    const next = new URL(to, location.href);
    const isHere = next.pathname + next.search === location.pathname + location.search;
    location.assign(next);
    if (isHere && next.hash) location.reload(); // a new fragment alone would only scroll
  }

  /** The server wants something put right: its own form comes back, with the words in it. @param {Document} page */
  #marked(page) {
    const name = this.dataset.name;
    const fresh = page.querySelector(name ? `kept-form[data-name="${name}"]` : "kept-form");
    if (!fresh) {
      this.#say(["The server did not take it. What you typed is kept here: open this page again."]);
      return;
    }
    this.#typed();
    const here = document.importNode(fresh, true);
    this.replaceWith(here);
    /** @type {any} */ (window).htmx?.process(here);
    const wrong = here.querySelector('[aria-invalid="true"], .wrong input, .wrong textarea, .wrong select, [role="alert"]');
    /** @type {HTMLElement|null} */ (wrong)?.focus();
    wrong?.scrollIntoView({ block: "center" });
  }

  /** @param {Problem} problem */
  #failed({ kind, message }) {
    const what = readFields(/** @type {HTMLFormElement} */ (this.form)).length ? "What you typed" : "Your answer";
    const safe = this.#keeps ? `${what} is kept here` : "This browser keeps no copy: stay on this page";
    const why = WHY[kind] || message;
    const waits = this.#resends && (kind === "network" || kind === "server");
    this.#open();
    if (waits) {
      this.#tries += 1;
      this.#timer = setTimeout(this.#again, backoff(this.#tries));
      this.#say([`${why} ${safe} and is sent when it is back.`]);
    } else if (kind === "signed-out") this.#say([`${why} ${safe}: sign in in another tab, then press the button again.`]);
    else this.#say([`${why} ${safe}: press the button again when it is back.`]);
  }

  /** @param {(string|Node)[]} words */
  #say(words) {
    this.#line.replaceChildren(...words);
  }
}

/**
 * What the browser would send, but for the token: it is worth nothing after another sign-in.
 * @param {HTMLFormElement} form @param {HTMLElement|null} by the button that was pressed
 * @returns {[string, string][]}
 */
function sentFields(form, by) {
  const fields = [...new FormData(form, by)].filter(([name, value]) => typeof value === "string" && name !== "csrfmiddlewaretoken");
  return /** @type {[string, string][]} */ (fields);
}

/** What was pressed on another page and could not go, and whose form is not on this one. */
async function sendOthers() {
  const here = new Set([...document.querySelectorAll("kept-form")].map((form) => /** @type {KeptForm} */ (form).key));
  for (const key of drafts(READER)) {
    const draft = readDraft(key);
    if (!draft?.pressed || here.has(key)) continue;
    try {
      const { page } = await sendForm(draft.action, draft.fields);
      writeDraft(key, page ? { ...draft, pressed: false } : null);
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      return; // another page, or this one at the next sign of a network
    }
  }
}

customElements.define("kept-form", KeptForm);
if (READER) {
  void sendOthers();
  addEventListener("online", () => void sendOthers());
}
