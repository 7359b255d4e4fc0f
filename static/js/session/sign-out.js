// @ts-check
/** Signing out leaves nothing of what was typed on the phone, and says first what has not been sent. */

import { keysOf } from "../core/draft-storage.js";
import { unsentChanges } from "./log-changes.js";

for (const form of document.querySelectorAll("form[action$='/accounts/logout/']")) {
  warn(form);
  form.addEventListener("submit", leave, { once: true });
}

/** @param {Element} form */
function warn(form) {
  const unsent = unsentChanges();
  const typed = keysOf("form:").length;
  if (typed) say(form, `${typed === 1 ? "A form holds" : `${typed} forms hold`} words that are kept on this device and not sent yet. Signing out deletes them here.`);
  if (!unsent) return;
  const what = unsent === 1 ? "1 change of your log is" : `${unsent} changes of your log are`;
  say(form, `${what} kept on this phone and not sent yet. Signing out deletes them here: open Today with a network first.`);
}

/** @param {Element} form @param {string} text */
function say(form, text) {
  const line = document.createElement("p");
  line.className = "say attention";
  line.textContent = text;
  form.prepend(line);
}

/** @param {Event} event */
async function leave(event) {
  event.preventDefault();
  try {
    localStorage.clear(); // all that lies there is what somebody typed
    sessionStorage.clear();
  } catch {
    // storage is off: nothing lies there
  }
  await forget().catch(() => null); // whatever fails here must not keep anybody signed in
  /** @type {HTMLFormElement} */ (event.target).submit();
}

async function forget() {
  if (!("caches" in window)) return;
  for (const name of await caches.keys()) if (name.startsWith("training-")) await caches.delete(name);
  for (const registration of await navigator.serviceWorker.getRegistrations()) await registration.unregister();
}
