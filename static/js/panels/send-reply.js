// @ts-check
import { h } from "../dom.js";
import { Problem, send } from "../net.js";
import { BenchPart } from "./bench.js";

/** The one button that publishes, and beside it the reason when it cannot. */
export class SendReply extends BenchPart {
  #send = /** @type {HTMLButtonElement} */ (
    h("button.btn.primary", { type: "button", onclick: () => void this.#publish() }, "Send reply")
  );
  #claim = /** @type {HTMLButtonElement} */ (
    h("button.btn", { type: "button", hidden: true, onclick: () => void this.#take() }, "Claim it")
  );
  #why = h("p.why.small", { id: "send-why", role: "status" });
  /** @type {HTMLFormElement|null} once it is sent */
  #next = null;

  start() {
    this.#send.setAttribute("aria-describedby", "send-why");
    this.append(h("div.foot-row", {}, this.#send, this.#claim), this.#why);
    this.on(
      ({ may_publish, save, busy, reply, said, claim }) => [
        may_publish,
        save,
        busy,
        reply,
        said,
        claim,
      ],
      () => this.#draw(),
    );
  }

  /** Send it; once it is sent, open the next. The key and the buttons do the same. */
  go() {
    if (this.#next) this.#next.requestSubmit();
    else if (!this.#send.hidden && !this.#send.disabled) this.#send.click();
  }

  #draw() {
    const { may_publish, save, busy, reply, said, urls, submission, claim } = this.state;
    const unsaved = save.state !== "saved";
    this.#claim.hidden = claim !== null || reply.published;
    this.#send.hidden = reply.published;
    this.#send.disabled = !may_publish.ok || unsaved || busy;
    this.#send.classList.toggle("busy", busy);
    // When it may go, what is said is only advice: too many points, a clip that is not ready.
    const blocked =
      may_publish.ok && unsaved ? "It can go once everything is saved." : may_publish.why;
    const desk = h("a", { href: urls.desk }, "Back to the desk");
    if (reply.published) this.#offerNext(urls.next);
    if (reply.published)
      this.#why.replaceChildren(h("b", {}, `Sent to ${submission.athlete.name}.`), " ", desk);
    else this.#why.textContent = said || blocked;
  }

  /** @param {string} url */
  #offerNext(url) {
    if (this.#next) return;
    const button = h("button.btn.primary", {}, "Open the next ", h("kbd", {}, "Ctrl Enter"));
    const token = document.querySelector('meta[name="csrf-token"]')?.getAttribute("content");
    const proof = h("input", { type: "hidden", name: "csrfmiddlewaretoken", value: token });
    this.#next = /** @type {HTMLFormElement} */ (
      h("form.foot-row", { method: "post", action: url }, proof, button)
    );
    this.prepend(this.#next);
  }

  async #publish() {
    const { urls, reply } = this.state;
    const answer = await this.#ask(() => send("POST", urls.publish));
    if (answer) this.bench.store.set({ reply: { ...reply, ...answer.reply, published: true } });
  }

  async #take() {
    const { saver } = this.bench.deeds;
    await this.#ask(() => saver.claim());
    saver.wake();
  }

  /** @param {() => Promise<any>} deed @returns {Promise<any>} null when it was refused */
  async #ask(deed) {
    this.bench.store.set({ busy: true, said: "" });
    try {
      return (await deed()) ?? {};
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      const gone = "The network is gone. Nothing is lost: try again when it is back.";
      this.bench.store.set({ said: error.kind === "network" ? gone : error.message });
      return null;
    } finally {
      this.bench.store.set({ busy: false });
    }
  }
}

customElements.define("send-reply", SendReply);
