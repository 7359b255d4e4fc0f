// @ts-check
/** Which plates make a load. Pure; in thousandths of the unit, so that 1.25 is exact. */

/** @typedef {{unit: string, bar: string, pairs: [string, number][]}} Plates heaviest first */

/** @param {string|number} value */
const whole = (value) => Math.round(Number(value) * 1000);

/**
 * The plates of one side, heaviest first; null where these plates cannot make the load.
 * @param {string|number} load @param {Plates} plates @returns {string[]|null}
 */
export function oneSide(load, { bar, pairs }) {
  const both = whole(load) - whole(bar);
  if (both < 0 || both % 2) return null;
  return fill(both / 2, pairs);
}

/** @param {number} left @param {[string, number][]} pairs @returns {string[]|null} */
function fill(left, pairs) {
  if (left === 0) return [];
  if (!pairs.length) return null;
  const [[weight, count], ...rest] = pairs;
  for (let n = Math.min(count, Math.floor(left / whole(weight))); n >= 0; n -= 1) {
    const more = fill(left - n * whole(weight), rest);
    if (more) return [...Array(n).fill(weight), ...more];
  }
  return null;
}

/** What one press of a stepper adds: the smallest pair at hand. @param {Plates} plates @param {string} unit */
export function stepOf(plates, unit) {
  const smallest = Math.min(...plates.pairs.map(([weight]) => Number(weight)));
  if (plates.unit !== unit || !Number.isFinite(smallest)) return unit === "lb" ? 5 : 2.5;
  return 2 * smallest;
}

/** "25, 25, 10 a side, 20 kg bar". @param {string[]} side @param {Plates} plates */
export function sideLabel(side, { bar, unit }) {
  return side.length ? `${side.join(", ")} a side, ${bar}\u2009${unit} bar` : `the empty ${bar}\u2009${unit} bar`;
}
