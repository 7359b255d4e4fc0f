// @ts-check
/** @param {string} text for comparing: lower case, accents off */
function plain(text) {
  return text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
}

/**
 * Entries that a few letters could mean. A start of the name beats a start of a word in it,
 * which beats letters anywhere; equals keep the order they came in (most useful first).
 * @template {{name: string}} T
 * @param {T[]} entries @param {string} letters @param {number} [most]
 * @returns {{entry: T, from: number, to: number}[]} and which letters of the name matched
 */
export function find(entries, letters, most = 8) {
  const wanted = plain(letters.trim());
  if (!wanted) return [];
  const found = [];
  for (const entry of entries) {
    const name = plain(entry.name);
    const from = name.indexOf(wanted);
    if (from < 0) continue;
    const word = name.search(new RegExp(`(?<![\\p{L}\\p{N}])${escaped(wanted)}`, "u"));
    const at = word >= 0 ? word : from;
    found.push({
      entry,
      from: at,
      to: at + wanted.length,
      worth: from === 0 ? 0 : word >= 0 ? 1 : 2,
    });
  }
  found.sort((a, b) => a.worth - b.worth);
  return found.slice(0, most).map(({ entry, from, to }) => ({ entry, from, to }));
}

/** @param {string} text */
function escaped(text) {
  return text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
}
