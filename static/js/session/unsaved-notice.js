// @ts-check
/** Where the log stands: all sent, or kept on this phone and why. */

import { h } from "../core/dom.js";
import { symbol } from "../upload/draft-fields.js";
import { counted } from "./labels.js";

const WHY = {
  network: "They are sent when the network is back.",
  server: "The server does not answer; they are sent when it does.",
  "signed-out": "You are signed out. They are sent as soon as you sign in again.",
  conflict: "They are sent again in a moment.",
  refused: "",
};

/** @param {HTMLElement} line @param {import("./log-changes.js").LogChanges} changes @param {string} login address */
export function drawUnsavedNotice(line, { journal, sender }, login) {
  const { waiting } = journal;
  const { keeps } = sender;
  const trouble = sender.trouble?.kind;
  const sets = waiting.filter(({ kind }) => kind === "set").length;
  const what = sets ? counted(sets, "set") : counted(waiting.length, "change");
  let text = "";
  if (waiting.length && trouble) text = `Kept on this phone: ${what}. ${WHY[trouble]}`;
  else if (waiting.length) text = `Sending ${what}`;
  else if (journal.entries.size && !journal.refused.length) text = "All sent";
  if (waiting.length && !keeps) text += " This browser keeps no copy: stay on this page until everything is sent.";
  if (line.dataset.text === text) return;
  line.dataset.text = text;
  line.className = `small unsaved-notice${waiting.length && trouble ? " waits" : ""}`;
  const shape = waiting.length && trouble ? "paused" : text === "All sent" ? "done" : "";
  const door = trouble === "signed-out" && waiting.length ? [" ", h("a", { href: login }, "Sign in")] : [];
  line.replaceChildren(...(shape ? [symbol(shape)] : []), h("span", {}, text, ...door));
}
