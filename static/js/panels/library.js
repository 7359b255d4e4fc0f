// @ts-check
import { getJSON } from "../net.js";

/**
 * The library entries of a lift family, as the finder shows them.
 * @param {string} url
 * @returns {Promise<import("../core/types.js").Entry[]>}
 */
export async function readLibrary(url) {
  const answer = await getJSON(url);
  return answer.entries ?? answer.results ?? answer;
}
