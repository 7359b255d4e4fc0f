// @ts-check
import { drawPlates } from "./plates-drawing.js";

/** @param {ParentNode} root @param {string} query @returns {HTMLElement} */
function one(root, query) {
  const found = root.querySelector(query);
  if (!(found instanceof HTMLElement)) throw new Error(`The page has no ${query}.`);
  return found;
}

/** @param {ParentNode} root @param {string} name @param {string} value */
function fill(root, name, value) {
  for (const field of root.querySelectorAll(`.deeds [name="${name}"]`)) {
    if (field instanceof HTMLInputElement || field instanceof HTMLSelectElement) field.value = value;
  }
}

/**
 * Show what is picked above the grid, and aim the forms below at its session, line and week.
 * @param {HTMLElement} page @param {HTMLElement} cell
 */
export function showPicked(page, cell) {
  const { text = "", note = "", how = "", side = "", closed = "", week = "" } = cell.dataset;
  const line = /** @type {HTMLElement} */ (cell.closest("tr"));
  const movement = line.querySelector("th.mv")?.firstChild?.textContent ?? "";
  const session = sessionOf(cell);
  const day = session?.textContent?.split(",")[0] ?? "";
  const panel = one(page, "[data-panel]");
  panel.hidden = false;
  one(panel, "[data-title]").textContent = `${day}, ${movement}`;
  const fields = /** @type {HTMLInputElement[]} */ ([one(panel, "[data-text]"), one(panel, "[data-note]")]);
  fields[0].value = cell.dataset.typed ?? text;
  fields[1].value = note;
  for (const field of fields) field.readOnly = Boolean(closed);
  /** @type {HTMLButtonElement} */ (one(panel, "[data-clear]")).disabled = Boolean(closed) || !text;
  one(panel, "[data-how]").textContent = closed ? `${capital(how)} ${closed}` : capital(how) || "Nothing is prescribed here.";
  const plates = side ? side.split(" ") : [];
  const { bar = "", plateUnit = "kg", told } = page.dataset;
  const assumed = told === "yes" ? "" : " A common set: no plates are told yet.";
  const each = plates.length ? `Each side ${plates.join(", ")}` : "Nothing on it";
  one(panel, "[data-loading]").textContent = cell.hasAttribute("data-side") ? `${each}, on a ${bar} ${plateUnit} bar.${assumed}` : "";
  one(panel, "[data-rule-said]").textContent = line.dataset.rule ? `Rule of the line: ${line.dataset.rule}.` : "";
  const why = /** @type {HTMLAnchorElement} */ (one(panel, "[data-why-link]"));
  why.hidden = !cell.dataset.why;
  why.href = cell.dataset.why ?? "";
  const svg = panel.querySelector("[data-plates]");
  if (svg instanceof SVGElement) drawPlates(svg, plates, plateUnit);
  aim(page, { line, session, week, movement, day });
}

/** The head cell of the session that a cell belongs to. @param {HTMLElement} cell @returns {HTMLElement|null} */
export function sessionOf(cell) {
  const band = cell.closest("tbody");
  return band?.querySelector(`.when[data-week="${cell.dataset.week}"][data-session]`) ?? null;
}

/**
 * @param {HTMLElement} page
 * @param {{line: HTMLElement, session: HTMLElement|null, week: string, movement: string, day: string}} picked
 */
function aim(page, { line, session, week, movement, day }) {
  const said = { session: day, row: movement, week: `week ${week}` };
  for (const [what, words] of Object.entries(said)) {
    const place = page.querySelector(`[data-of="${what}"]`);
    if (place) place.textContent = words;
  }
  fill(page, "session", session?.dataset.session ?? "");
  fill(page, "row", line.dataset.row ?? "");
  fill(page, "week", week);
  fill(page, "day", session?.dataset.day ?? "");
  fill(page, "from_day", session?.dataset.day ?? "");
  const about = page.querySelector('[name="do"][value="describe-session"]')?.closest("form");
  for (const [name, value] of [["name", session?.dataset.name], ["note", session?.dataset.said]]) {
    const field = about?.querySelector(`[name="${name}"]`);
    if (field instanceof HTMLInputElement) field.value = value ?? "";
  }
  const other = page.querySelector("#r-movement");
  if (other instanceof HTMLSelectElement) other.value = line.dataset.movement ?? "";
  aimRule(page, line.dataset, week);
}

/** @param {HTMLElement} page @param {DOMStringMap} rule @param {string} week */
function aimRule(page, rule, week) {
  const values = {
    from_week: rule.fromWeek ?? week,
    amount: rule.amount ?? "2.5",
    step: rule.step ?? "amount",
    deload_every: rule.deloadEvery ?? "",
    deload_percent: rule.deloadPercent ?? "85",
  };
  const form = page.querySelector("[data-rule-form]");
  for (const [name, value] of Object.entries(values)) {
    const field = form?.querySelector(`[name="${name}"]`);
    if (field instanceof HTMLInputElement || field instanceof HTMLSelectElement) field.value = value;
  }
  page.querySelector("[data-drop-rule]")?.toggleAttribute("hidden", !rule.rule);
}

/** @param {string} words */
function capital(words) {
  return words ? `${words[0].toUpperCase()}${words.slice(1)}.` : "";
}
