// @ts-check
/** The desk by keyboard: arrows move, Enter opens the one marked or the next, n the next, ? the keys. */
import { meant } from "../core/keymap.js";

const KEYS = { ArrowDown: "down", ArrowUp: "up", Enter: "open", n: "next", "?": "keys" };

/** @returns {HTMLElement[]} */
const lines = () => [...document.querySelectorAll("[data-line]")].map((line) => /** @type {HTMLElement} */ (line));

/** @param {number} step */
function move(step) {
  const all = lines();
  if (!all.length) return;
  const at = all.indexOf(/** @type {HTMLElement} */ (document.activeElement));
  const first = Math.max(all.findIndex((line) => "first" in line.dataset), 0);
  const to = at === -1 ? first : Math.min(Math.max(at + step, 0), all.length - 1);
  all[to].focus();
  all[to].scrollIntoView({ block: "nearest" });
}

function next() {
  const form = document.querySelector("[data-next]");
  if (form instanceof HTMLFormElement) form.requestSubmit();
}

function keys() {
  const list = document.querySelector("[data-keys]");
  if (!(list instanceof HTMLElement)) return;
  list.tabIndex = -1;
  list.focus();
}

/** @type {Record<string, () => void>} */
const DEEDS = { down: () => move(1), up: () => move(-1), open: next, next, keys };

/** @param {Element|null} element @returns {"free"|"typing"|"control"} */
function where(element) {
  if (!element || element === document.body) return "free";
  if (element.matches("textarea, [contenteditable], input:not([type=checkbox], [type=radio])")) return "typing";
  return element.matches("a, button, select, input, summary") ? "control" : "free";
}

/** @param {KeyboardEvent} event */
function struck(event) {
  const here = document.activeElement;
  const inQueue = here instanceof HTMLElement && "line" in here.dataset;
  // On a line Enter is the line's own; the arrows are the queue's.
  if (inQueue && event.key === "Enter") return;
  const command = meant(KEYS, event, inQueue ? "free" : where(here));
  if (!command || event.defaultPrevented) return;
  event.preventDefault();
  DEEDS[command]();
}

document.addEventListener("keydown", struck);

const tonight = document.querySelector("[data-tonight]");
tonight?.addEventListener("change", () => /** @type {HTMLFormElement} */ (tonight).requestSubmit());
