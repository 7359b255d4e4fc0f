// @ts-check
import { drawPlates } from "./plates-drawing.js";

/** @param {ParentNode} root @param {string} query @returns {HTMLElement} */
function find(root, query) {
  const element = root.querySelector(query);
  if (!(element instanceof HTMLElement)) throw new Error(`The page has no ${query}.`);
  return element;
}

/** @param {ParentNode} root @param {string} name @param {string} value */
function fill(root, name, value) {
  for (const field of root.querySelectorAll(`.programme-actions [name="${name}"]`)) {
    if (field instanceof HTMLInputElement || field instanceof HTMLSelectElement) field.value = value;
  }
}

/**
 * Show what is picked above the grid, and aim the forms below at its session, line and week.
 * @param {HTMLElement} page @param {HTMLElement} cell
 */
export function showSelection(page, cell) {
  const { text = "", note = "", how = "", side = "", closed = "", week = "" } = cell.dataset;
  const line = /** @type {HTMLElement} */ (cell.closest("tr"));
  const movement = line.querySelector("th.mv")?.firstChild?.textContent ?? "";
  const session = sessionOf(cell);
  const day = session?.textContent?.split(",")[0] ?? "";
  const panel = find(page, "[data-panel]");
  panel.hidden = false;
  find(panel, "[data-title]").textContent = `${day}, ${movement}`;
  const fields = /** @type {HTMLInputElement[]} */ ([find(panel, "[data-text]"), find(panel, "[data-note]")]);
  fields[0].value = cell.dataset.typed ?? text;
  fields[1].value = note;
  for (const field of fields) field.readOnly = Boolean(closed);
  /** @type {HTMLButtonElement} */ (find(panel, "[data-clear]")).disabled = Boolean(closed) || !text;
  find(panel, "[data-unsaved]").hidden = !cell.classList.contains("wrong");
  find(panel, "[data-how]").textContent = closed ? `${capital(how)} ${closed}` : capital(how) || "Nothing is prescribed here.";
  const plates = side ? side.split(" ") : [];
  const { bar = "", plateUnit = "kg", hasPlates } = page.dataset;
  const assumed = hasPlates === "yes" ? "" : " A common set: no plates are told yet.";
  const each = plates.length ? `Each side ${plates.join(", ")}` : "Nothing on it";
  find(panel, "[data-loading]").textContent = cell.hasAttribute("data-side") ? `${each}, on a ${bar} ${plateUnit} bar.${assumed}` : "";
  find(panel, "[data-rule-text]").textContent = line.dataset.rule ? `Rule of the line: ${line.dataset.rule}.` : "";
  const why = /** @type {HTMLAnchorElement} */ (find(panel, "[data-why-link]"));
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
  const labels = { session: day, row: movement, week: `week ${week}` };
  for (const [what, label] of Object.entries(labels)) {
    const place = page.querySelector(`[data-of="${what}"]`);
    if (place) place.textContent = label;
  }
  fill(page, "session", session?.dataset.session ?? "");
  fill(page, "row", line.dataset.row ?? "");
  fill(page, "week", week);
  fill(page, "day", session?.dataset.day ?? "");
  fill(page, "from_day", session?.dataset.day ?? "");
  const about = page.querySelector('[name="do"][value="describe-session"]')?.closest("form");
  for (const [name, value] of [["name", session?.dataset.name], ["note", session?.dataset.sessionNote]]) {
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

/** @param {string} text */
function capital(text) {
  return text ? `${text[0].toUpperCase()}${text.slice(1)}.` : "";
}
