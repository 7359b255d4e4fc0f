// @ts-check
/** Whether what was typed is safe, and where: the line under the title, and the one by the button. */

import { symbol } from "./draft-fields.js";

/** @type {Record<string, string>} */
const KEPT = {
  network: "The network is gone. What you type is kept on this phone and saved when it is back.",
  server: "The server does not answer. What you type is kept on this phone and saved when it does.",
  "signed-out": "You are signed out. What you type is kept on this phone: sign in and open this page again.",
};

/** @param {string} kind of problem @returns {string} why the question did not go, and what to do */
export function whyNot(kind) {
  if (kind === "signed-out") return KEPT[kind];
  const who = kind === "network" ? "The network is gone" : "The server does not answer";
  return `${who}. Your question is kept: press Send when it is back.`;
}

/** @param {HTMLElement|null} line @param {import("./draft-changes.js").DraftChanges|null} changes */
export function drawSaved(line, changes) {
  if (!line || !changes) return;
  const { state, trouble } = changes.sender;
  const text = {
    saved: "Saved",
    saving: "Saving",
    kept: KEPT[trouble?.kind ?? ""] ?? KEPT.server,
    refused: "Saved, except what is marked below. It is kept on this phone.",
  }[state];
  line.className = `small saved ${state}`;
  if (line.textContent === text) return;
  const shape = state === "saving" ? [] : [symbol(state === "saved" ? "done" : "attention")];
  line.replaceChildren(...shape, text);
}
