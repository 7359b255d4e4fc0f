// @ts-check
import { meant } from "./keymap.js";

/**
 * The workbench's keys: ours, by their first letters. Space and the arrows are the platform's.
 * @type {Record<string, string>} key as written -> command
 */
export const KEYS = {
  Space: "clip.toggle",
  ArrowRight: "clip.on",
  ArrowLeft: "clip.back",
  "Shift+ArrowRight": "clip.on10",
  "Shift+ArrowLeft": "clip.back10",
  Home: "clip.first",
  End: "clip.last",
  "-": "clip.slower",
  "+": "clip.faster",
  o: "clip.other",
  PageDown: "clip.repOn",
  PageUp: "clip.repBack",
  ",": "clip.loopFrom",
  ".": "clip.loopTo",
  r: "clip.loopRep",
  z: "clip.zoomIn",
  y: "clip.zoomOut",
  0: "clip.zoomWhole",
  "Ctrl+ArrowLeft": "clip.panLeft",
  "Ctrl+ArrowRight": "clip.panRight",
  "Ctrl+ArrowUp": "clip.panUp",
  "Ctrl+ArrowDown": "clip.panDown",
  n: "note.here",
  ArrowDown: "note.next",
  ArrowUp: "note.previous",
  w: "note.write",
  l: "note.library",
  f: "note.from",
  t: "note.to",
  p: "note.point",
  g: "note.change",
  Delete: "note.remove",
  u: "page.undo",
  "Ctrl+Z": "page.undo",
  "Ctrl+Shift+Z": "page.redo",
  1: "rep.1",
  2: "rep.2",
  3: "rep.3",
  4: "rep.4",
  5: "rep.5",
  6: "rep.6",
  7: "rep.7",
  8: "rep.8",
  9: "rep.9",
  b: "rep.begins",
  e: "rep.ends",
  s: "rep.standard",
  x: "rep.not",
  c: "rep.cannotTell",
  a: "page.angle",
  d: "page.desk",
  "Ctrl+Enter": "page.send",
  "?": "page.keys",
  Escape: "page.leave",
};

const CHOICES = new Set(["radio", "range", "checkbox"]);
const PRESSED = new Set(["button", "submit", "reset"]);

/** @param {EventTarget|null} target @returns {"free"|"button"|"control"|"typing"} */
function focusOn(target) {
  if (target instanceof HTMLInputElement) {
    if (PRESSED.has(target.type)) return "button";
    return CHOICES.has(target.type) ? "control" : "typing";
  }
  if (target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement) return "typing";
  if (!(target instanceof HTMLElement)) return "free";
  if (target.isContentEditable) return "typing";
  return target.closest("button, a, summary") ? "button" : "free";
}

/**
 * @param {import("./commands.js").Commands} commands
 * @param {Record<string, string>} table the page's keys
 */
export function listen(commands, table = KEYS) {
  document.addEventListener("keydown", (event) => {
    if (event.defaultPrevented || document.querySelector("dialog[open]")) return;
    const letters = document.documentElement.dataset.letterKeys !== "off";
    const name = meant(table, event, focusOn(event.target), letters);
    if (!name) return;
    event.preventDefault();
    commands.run(name);
  });
}
