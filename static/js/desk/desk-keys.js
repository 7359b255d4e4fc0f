// @ts-check
import { Commands } from "../core/commands.js";
import { listen } from "../core/keys.js";

/** The desk's keys. On a line Enter is the line's own: it opens that one. */
const KEYS = {
  ArrowDown: "line.down",
  ArrowUp: "line.up",
  Enter: "desk.next",
  n: "desk.next",
  c: "line.claim",
  g: "line.giveBack",
  h: "line.handOver",
  f: "desk.filter",
  "?": "desk.keys",
  Escape: "desk.leave",
};

const HELD = "Another coach has it. Enter opens it to read along.";
/** Why a line has no such button. @type {Record<string, string>} */
const NOT_MINE = {
  "give-back": "Claim it first, with c. Only what you hold can be given back.",
  "hand-over": "Claim it first, with c. Only what you hold can be handed over.",
};

/** Why the key did nothing; "" when it did something. @param {string} text */
function explain(text) {
  const place = document.querySelector("[data-why]");
  if (place) place.textContent = text;
}

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

/** The line that is marked, else the one that is next. @returns {HTMLElement|undefined} */
function marked() {
  const all = lines();
  return all.find((line) => line === document.activeElement) ?? all.find((line) => "first" in line.dataset);
}

/** Take it and stay here: to be opened later tonight. */
function claim() {
  const line = marked();
  if (line && !(line instanceof HTMLButtonElement)) return explain(HELD);
  if (!line?.form) return;
  const stay = Object.assign(document.createElement("input"), { type: "hidden", name: "stay", value: "yes" });
  line.form.append(stay);
  line.form.requestSubmit(line);
  stay.remove();
}

/** @param {string} what the line's own button or link, pressed @param {HTMLElement|undefined} line */
function press(what, line = marked()) {
  const found = line?.closest("li")?.querySelector(`[data-do="${what}"]`);
  if (found instanceof HTMLElement) found.click();
  else if (line) explain(line instanceof HTMLButtonElement ? NOT_MINE[what] : HELD);
}

/** Out of a list or the keys, back to the queue. */
function leave() {
  const line = marked();
  if (line) line.focus();
  else if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
}

function openNext() {
  const form = document.querySelector("[data-next]");
  if (form instanceof HTMLFormElement) form.requestSubmit();
}

function toFilter() {
  const first = document.querySelector("[data-filter]");
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
  "line.claim": ["claim it for later", claim],
  "line.giveBack": ["give it back", () => press("give-back")],
  "line.handOver": ["hand it over", () => press("hand-over")],
  "desk.next": ["open the next", openNext],
  "desk.filter": ["look at a part", toFilter],
  "desk.keys": ["the keys", showKeys],
  "desk.leave": ["back to the queue", leave],
});
document.addEventListener("keydown", () => explain(""), { capture: true });
listen(commands, KEYS);
