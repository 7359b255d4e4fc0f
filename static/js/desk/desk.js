// @ts-check
import { Commands } from "../core/commands.js";
import { listen } from "../keys.js";

/** The desk's keys. On a line Enter is the line's own: it opens that one. */
const KEYS = {
  ArrowDown: "line.down",
  ArrowUp: "line.up",
  Enter: "desk.next",
  n: "desk.next",
  f: "desk.sift",
  "?": "desk.keys",
};

/** @returns {HTMLElement[]} the names that open a submission, in the order of the queue */
function lines() {
  return [...document.querySelectorAll("[data-line]")].filter((line) => line instanceof HTMLElement);
}

/** From no line at all, the first move goes to the one that is next. @param {number} step */
function move(step) {
  const all = lines();
  if (!all.length) return;
  const at = all.findIndex((line) => line === document.activeElement);
  const next = Math.max(all.findIndex((line) => "first" in line.dataset), 0);
  const line = all[at < 0 ? next : Math.min(Math.max(at + step, 0), all.length - 1)];
  line.focus({ preventScroll: true });
  line.closest("li")?.scrollIntoView({ block: "nearest" });
}

function openNext() {
  const form = document.querySelector("[data-next]");
  if (form instanceof HTMLFormElement) form.requestSubmit();
}

function toSift() {
  const first = document.querySelector("[data-sift]");
  if (first instanceof HTMLElement) first.focus();
}

function showKeys() {
  const list = document.querySelector("[data-keys]");
  if (list instanceof HTMLElement) list.focus();
}

const commands = new Commands();
commands.add("Desk", {
  "line.down": ["the one below", () => move(1)],
  "line.up": ["the one above", () => move(-1)],
  "desk.next": ["open the next", openNext],
  "desk.sift": ["look at a part", toSift],
  "desk.keys": ["the keys", showKeys],
});
listen(commands, KEYS);
