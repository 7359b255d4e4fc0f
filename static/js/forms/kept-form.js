// @ts-check
/**
 * A plain form whose words survive a dead network, a reload and a closed page. What is typed is kept
 * in this browser until the server has it. Without a script it is the form it wraps.
 *
 * `data-name` tells forms of one page apart. `data-resend`: pressed without a network it sends itself
 * when there is one again; only for what may arrive twice and count once.
 */

import { h } from "../core/dom.js";
import { DraftStorage, READER } from "../core/draft-storage.js";
import { Problem, sendForm } from "../core/net.js";
import { Outbox } from "../core/outbox.js";
import { Sender } from "../core/sender.js";
import { readFields, writeFields } from "./form-fields.js";

const KIND = "form";
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
  /** What is shown once the answer has been dealt with. @type {(() => void)|null} */
  #next = null;
  #notice = h("p.form-notice.small", { role: "status" });

  connectedCallback() {
    this.form = /** @type {HTMLFormElement} */ (this.querySelector("form"));
    this.draftName = `${new URL(this.form.action).pathname}#${this.dataset.name ?? ""}`;
    const storage = new DraftStorage(KIND, this.draftName);
    this.outbox = new Outbox(storage.read());
    // Nobody knows whether it arrived, and it may not arrive twice: its writer decides.
    for (const change of this.outbox.changes) if (change.once) this.outbox.park(change);
    this.sender = new Sender(this.outbox, storage, {
      deliver: ([change]) => this.#deliver(change),
      changed: () => this.#changed(),
    });
    this.form.append(this.#notice);
    this.#restore();
    this.form.addEventListener("input", () => this.#typed());
    this.form.addEventListener("submit", (event) => this.#pressed(event));
  }

  disconnectedCallback() {
    this.sender?.stop();
  }

  get #resends() {
    return "resend" in this.dataset;
  }

  /** @param {[string, string][]} body @returns {import("../core/outbox.js").NewChange} */
  #change(body) {
    const { action: url } = /** @type {HTMLFormElement} */ (this.form);
    return { key: "form", method: "POST", url, body, at: new Date().toISOString(), once: !this.#resends };
  }

  #typed() {
    this.outbox?.park(this.#change(readFields(/** @type {HTMLFormElement} */ (this.form))));
    this.sender?.save();
  }

  /** Lay what an earlier page could not bring in over what this one shows. */
  #restore() {
    const { form, outbox } = this;
    if (!form || !outbox) return;
    const [pressed] = outbox.changes;
    const draft = pressed ?? outbox.parked[0];
    if (!draft) return;
    const before = JSON.stringify(readFields(form));
    writeFields(form, draft.body);
    if (pressed) {
      this.#open();
      this.sender?.wake();
    } else if (JSON.stringify(readFields(form)) !== before) {
      this.#open();
      const when = new Date(draft.at ?? "").toLocaleString("en-GB", WHEN);
      const drop = h("button.btn.quiet.dense", { type: "button", onclick: () => this.#drop() }, "Drop it");
      this.#say([`What you typed here on ${when} is not sent yet. `, drop]);
      form.dispatchEvent(new Event("input", { bubbles: true }));
    }
  }

  #open() {
    this.closest("details")?.setAttribute("open", "");
  }

  #drop() {
    this.form?.reset();
    this.form?.dispatchEvent(new Event("change", { bubbles: true }));
    this.outbox?.forget("form");
    this.sender?.save();
    this.#say([]);
  }

  /** @param {SubmitEvent} event */
  #pressed(event) {
    event.preventDefault();
    if (this.outbox?.sending.length) return;
    const fields = sentFields(/** @type {HTMLFormElement} */ (this.form), event.submitter);
    this.outbox?.put(this.#change(fields), Date.now());
    this.sender?.save();
    this.sender?.wake();
  }

  /** @param {import("../core/outbox.js").Change} change */
  async #deliver(change) {
    this.#say(["Sending"]);
    try {
      const { to, page } = await sendForm(change.url, change.body);
      if (page) return this.#park(() => this.#showErrors(page));
      this.outbox?.forget("form");
      this.#next = () => follow(to);
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      if (this.#waits(error)) throw error;
      this.#park(() => this.#showProblem(error));
    }
  }

  /** It is not sent again by itself. @param {() => void} next */
  #park(next) {
    this.outbox?.park(this.#change(readFields(/** @type {HTMLFormElement} */ (this.form))));
    this.#next = next;
  }

  /** @param {Problem} problem */
  #waits({ kind }) {
    return this.#resends && (kind === "network" || kind === "server");
  }

  #changed() {
    const next = this.#next;
    this.#next = null;
    if (next) next();
    else if (this.sender?.trouble && !this.outbox?.sending.length) this.#showProblem(this.sender.trouble);
  }

  /** The server wants something put right: its own form comes back, with the words in it. @param {Document} page */
  #showErrors(page) {
    const name = this.dataset.name;
    const fresh = page.querySelector(name ? `kept-form[data-name="${name}"]` : "kept-form");
    if (!fresh) {
      this.#say(["The server did not take it. What you typed is kept here: open this page again."]);
      return;
    }
    const here = document.importNode(fresh, true);
    this.replaceWith(here);
    /** @type {any} */ (window).htmx?.process(here);
    const wrong = here.querySelector('[aria-invalid="true"], .wrong input, .wrong textarea, .wrong select, [role="alert"]');
    /** @type {HTMLElement|null} */ (wrong)?.focus();
    wrong?.scrollIntoView({ block: "center" });
  }

  /** @param {Problem} problem */
  #showProblem(problem) {
    const what = readFields(/** @type {HTMLFormElement} */ (this.form)).length ? "What you typed" : "Your answer";
    const safe = this.sender?.keeps ? `${what} is kept here` : "This browser keeps no copy: stay on this page";
    const why = WHY[problem.kind] || problem.message;
    this.#open();
    if (this.#waits(problem)) this.#say([`${why} ${safe} and is sent when it is back.`]);
    else if (problem.kind === "signed-out") this.#say([`${why} ${safe}: sign in in another tab, then press the button again.`]);
    else this.#say([`${why} ${safe}: press the button again when it is back.`]);
  }

  /** @param {(string|Node)[]} content */
  #say(content) {
    this.#notice.replaceChildren(...content);
  }
}

/** @param {string} to where the server leads */
function follow(to) {
  const next = new URL(to, location.href);
  const isHere = next.pathname + next.search === location.pathname + location.search;
  location.assign(next);
  if (isHere && next.hash) location.reload(); // a new fragment alone would only scroll
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
function sendOthers() {
  const here = new Set([...document.querySelectorAll("kept-form")].map((form) => /** @type {KeptForm} */ (form).draftName));
  for (const name of DraftStorage.names(KIND).filter((other) => !here.has(other))) {
    const storage = new DraftStorage(KIND, name);
    const outbox = new Outbox(storage.read());
    if (!outbox.changes.some(({ once }) => !once)) continue;
    const deliver = async (/** @type {import("../core/outbox.js").Change[]} */ [change]) => {
      const isTaken = await sendForm(change.url, change.body).then(({ page }) => !page, (error) => {
        if (error.kind !== "refused") throw error;
      });
      if (!isTaken) outbox.park(change); // its writer meets it on the form's own page
    };
    new Sender(outbox, storage, { deliver, changed: () => {} }).wake();
  }
}

customElements.define("kept-form", KeptForm);
if (READER) sendOthers();
