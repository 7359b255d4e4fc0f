// @ts-check
/** Whether a load is far above what is known of its movement. Pure; the server asks by the same rule. */

const KG_PER_LB = 0.45359237; // exact by definition (1959)

/**
 * @typedef {{above: string, question: string, known_kg: Record<string, string>}} Rule
 * @typedef {{load: string|null, unit: string}} Load
 */

/** @param {Load} load */
const inKg = ({ load, unit }) => Number(load) * (unit === "lb" ? KG_PER_LB : 1);

/** @param {number} kg @param {string} unit as the server writes it: no trailing zeros */
function written(kg, unit) {
  const value = unit === "lb" ? (kg / KG_PER_LB).toFixed(1) : kg.toFixed(2);
  return `${Number(value)}\u2009${unit}`;
}

/**
 * The question to ask before the load is logged; "" where there is none.
 * @param {Load} wanted @param {number} movement @param {Rule} rule
 * @param {(Load & {movement: number})[]} others sets of the same session: as heavy was meant before
 */
export function questionOf(wanted, movement, rule, others) {
  const alike = others.filter((set) => set.movement === movement && set.load !== null).map(inKg);
  const known = Math.max(Number(rule.known_kg[movement] ?? 0), ...alike);
  const kg = inKg(wanted);
  // In grams, as the server keeps it: 1.15 x 210 is a little less than 241.5 in floating point.
  const most = Math.floor(known * Number(rule.above) * 1000 + 1e-6);
  if (!known || Math.round(kg * 1000) <= most) return "";
  const percent = Math.round((kg / known - 1) * 100);
  return rule.question
    .replace("{load}", `${Number(wanted.load)}\u2009${wanted.unit}`)
    .replace("{percent}", String(percent))
    .replace("{known}", written(known, wanted.unit));
}

/** Whether the server's refusal is that question. @param {string} refused @param {Rule} rule */
export function asksAboutLoad(refused, { question }) {
  return refused !== "" && refused.endsWith(question.split(". ").at(-1) ?? question);
}
