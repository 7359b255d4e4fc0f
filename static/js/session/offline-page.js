// @ts-check
/** Makes the page open again without a network, where the browser can: over HTTPS. */

/**
 * @param {string} worker address of the worker
 * @returns {Promise<boolean>} whether this page will open without a network
 */
export async function opensOffline(worker) {
  if (!("serviceWorker" in navigator)) return false; // the browser hides it without HTTPS
  try {
    await navigator.serviceWorker.register(worker);
    const { active } = await navigator.serviceWorker.ready;
    active?.postMessage({ keep: madeOf() });
    return true;
  } catch {
    return false; // refused by a private window or by settings
  }
}

/** The page itself and everything it loaded from here. @returns {string[]} */
function madeOf() {
  const loaded = performance.getEntriesByType("resource").map(({ name }) => name);
  const ours = loaded.filter((url) => url.startsWith(`${location.origin}/`) && !url.includes("/api/"));
  return [location.pathname, ...new Set(ours)];
}
