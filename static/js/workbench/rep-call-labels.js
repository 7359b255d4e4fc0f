// @ts-check
/**
 * The three verdicts on a rep. "Can't tell" is neither a fault nor a pass.
 * @type {Record<string, {full: string, short: string, command: string}>}
 */
export const CALLS = {
  standard: { full: "To standard", short: "To standard", command: "rep.standard" },
  "not-standard": { full: "Not to standard", short: "Not to standard", command: "rep.not" },
  "cannot-tell": {
    full: "Can't tell from this angle",
    short: "Can't tell",
    command: "rep.cannotTell",
  },
};
