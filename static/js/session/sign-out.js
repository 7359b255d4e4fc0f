// @ts-check
/** Signing out leaves nothing of a log on the phone, and says first what has not been sent. */

import { shelves } from "./shelf.js";

for (const form of document.querySelectorAll("form[action$='/accounts/logout/']")) {
  warn(form);
  form.addEventListener("submit", leave, { once: true });
}

/** @param {Element} form */
function warn(form) {
  const unsent = shelves().reduce((sum, { journal }) => sum + journal.waiting.length, 0);
  if (!unsent) return;
  const line = document.createElement("p");
  line.className = "say attention";
  const what = unsent === 1 ? "1 change of your log is" : `${unsent} changes of your log are`;
  line.textContent = `${what} kept on this phone and not sent yet. Signing out deletes them here: open Today with a network first.`;
  form.prepend(line);
}

/** @param {Event} event */
async function leave(event) {
  event.preventDefault();
  for (const { name } of shelves()) localStorage.removeItem(name);
  await forget().catch(() => null); // whatever fails here must not keep anybody signed in
  /** @type {HTMLFormElement} */ (event.target).submit();
}

async function forget() {
  if (!("caches" in window)) return;
  for (const name of await caches.keys()) if (name.startsWith("training-")) await caches.delete(name);
  for (const one of await navigator.serviceWorker.getRegistrations()) await one.unregister();
}
