// @ts-check
/**
 * What goes wrong with a passkey, in a sentence. allauth's own script runs the ceremony and sends
 * `allauth.error` when it fails; without this the page would stay silent.
 */

const UNSUPPORTED =
  "This browser offers no passkeys on this page. They need HTTPS, or this very machine. " +
  "Your password works.";
const SENTENCES = {
  NotAllowedError: "No passkey was used: it was cancelled or took too long. Try again, or use your password.",
  InvalidStateError: "This device already holds a passkey for your account.",
  SecurityError: UNSUPPORTED,
};
const OTHERWISE = "The passkey did not work. Nothing has changed. Try again, or use your password.";
const BUTTONS =
  "#passkey_login, #mfa_webauthn_add, #mfa_webauthn_authenticate, #mfa_webauthn_reauthenticate";

/** @param {string} sentence */
function say(sentence) {
  const place = document.querySelector("[data-passkey-trouble]");
  const line = place?.querySelector("p");
  if (!(place instanceof HTMLElement) || !line) return;
  line.textContent = sentence;
  place.hidden = false;
}

document.addEventListener("allauth.error", (event) => {
  event.preventDefault();
  const name = /** @type {CustomEvent} */ (event).detail?.exception?.name;
  say(SENTENCES[/** @type {keyof typeof SENTENCES} */ (name)] ?? OTHERWISE);
});

if (!("PublicKeyCredential" in window)) {
  for (const button of document.querySelectorAll(BUTTONS)) button.setAttribute("disabled", "");
  say(UNSUPPORTED);
}
