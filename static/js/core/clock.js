// @ts-check
/** The time of day in a zone. Whoever reads meets one zone on every page: that of their profile. */

/** @type {Intl.DateTimeFormatOptions} */
const CLOCK = { hour: "2-digit", minute: "2-digit", hourCycle: "h23" };

/** "14:02" in an IANA zone, or in the browser's where it does not know this one. @param {Date} moment @param {string} [zone] */
export function timeIn(moment, zone) {
  try {
    return moment.toLocaleTimeString("en-GB", { ...CLOCK, timeZone: zone || undefined });
  } catch {
    return moment.toLocaleTimeString("en-GB", CLOCK);
  }
}

/** The reader's zone, as the page was written for. @returns {string|undefined} */
export function readersZone() {
  return document.documentElement.dataset.zone;
}
