// @ts-check
import { h } from "../core/dom.js";
import { Problem, send } from "../core/net.js";
import { WorkbenchPart } from "./workbench-part.js";

const NETWORK_GONE = "The network is gone. Nothing is lost: try again when it is back.";

/** The one button that publishes, and beside it the reason when it cannot. */
export class SendReply extends WorkbenchPart {
  #send = /** @type {HTMLButtonElement} */ (
    h("button.btn.primary", { type: "button", onclick: () => this.go() }, "Send reply")
  );
  #claim = /** @type {HTMLButtonElement} */ (
    h("button.btn", { type: "button", hidden: true, onclick: () => void this.#take() })
  );
  #why = h("p.why.small", { id: "send-why", role: "status" });
  /** @type {HTMLFormElement|null} once it is sent */
  #next = null;
  /** Send was pressed while the last letters were still on their way to the server. */
  #sendsOnceSaved = false;

  start() {
    this.#send.setAttribute("aria-describedby", "send-why");
    this.append(h("div.foot-row", {}, this.#send, this.#claim), this.#why);
    this.on(
      ({ may_publish, save, busy, reply, message, claim }) => [
        may_publish,
        save,
        busy,
        reply,
        message,
        claim,
      ],
      () => {
        this.#draw();
        this.#sendIfSaved();
      },
    );
  }

  /** Send it; once it is sent, open the next. The key and the buttons do the same. */
  go() {
    const { save, busy, reply } = this.state;
    if (reply.published) return this.#next?.requestSubmit();
    if (busy) return;
    this.#sendsOnceSaved = true;
    if (save.state === "saving") this.#draw();
    else this.#sendIfSaved();
  }

  /** What is pressed once is done once: when it cannot go now, it does not go later by itself. */
  #sendIfSaved() {
    const { save, busy, may_publish } = this.state;
    if (!this.#sendsOnceSaved || save.state === "saving") return;
    this.#sendsOnceSaved = false;
    if (save.state === "saved" && may_publish.ok && !busy) void this.#publish();
  }

  #draw() {
    const { may_publish, save, busy, reply, message, submission, claim } = this.state;
    const unsafe = save.state === "kept" || save.state === "refused";
    this.#claim.hidden = claim !== null;
    this.#claim.textContent = reply.published ? "Change the reply" : "Claim it";
    this.#send.hidden = reply.published;
    this.#send.disabled = !may_publish.ok || unsafe || busy;
    this.#send.classList.toggle("busy", busy);
    this.#drawNext(reply.published);
    if (reply.published) return this.#drawSent(message || `Sent to ${submission.athlete.name}.`);
    // When it may go, the message is only advice: too many points, a clip that is not ready.
    const blocked = may_publish.ok && unsafe ? "It can go once everything is saved." : may_publish.why;
    const waits = this.#sendsOnceSaved && save.state === "saving";
    this.#why.textContent = message || (waits ? "It goes as soon as everything is saved." : blocked);
  }

  /** @param {string} text */
  #drawSent(text) {
    const desk = h("a", { href: this.state.urls.desk }, "Back to the desk");
    this.#why.replaceChildren(h("b", {}, text), " ", desk);
  }

  /** @param {boolean} published */
  #drawNext(published) {
    if (published && !this.#next) {
      const button = h("button.btn.primary", {}, "Open the next ", h("kbd", {}, "Ctrl Enter"));
      const token = document.querySelector('meta[name="csrf-token"]')?.getAttribute("content");
      const proof = h("input", { type: "hidden", name: "csrfmiddlewaretoken", value: token });
      this.#next = /** @type {HTMLFormElement} */ (
        h("form.foot-row", { method: "post", action: this.state.urls.next }, proof, button)
      );
      this.prepend(this.#next);
    } else if (!published && this.#next) {
      this.#next.remove();
      this.#next = null;
    }
  }

  async #publish() {
    const { urls, reply, submission } = this.state;
    const answer = await this.#ask(() => send("POST", urls.publish));
    if (!answer) return;
    this.workbench.store.set({
      reply: { ...reply, ...answer.reply, published: true },
      submission: { ...submission, status: "answered" },
      claim: null, // sending gives it back
    });
  }

  async #take() {
    const { changes } = this.workbench.actions.edits;
    await this.#ask(() => changes.claim());
    changes.sender.wake();
  }

  /** @param {() => Promise<any>} action @returns {Promise<any>} null when it was refused */
  async #ask(action) {
    const focused = document.activeElement;
    this.workbench.store.set({ busy: true, message: "" });
    try {
      return (await action()) ?? {};
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      this.workbench.store.set({ message: error.kind === "network" ? NETWORK_GONE : error.message });
      return null;
    } finally {
      this.workbench.store.set({ busy: false });
      // Fields let go of the focus while nothing could be written.
      if (focused instanceof HTMLElement && document.activeElement === document.body) focused.focus();
    }
  }
}

customElements.define("send-reply", SendReply);
