// @ts-check
/** The only caller of fetch: CSRF, JSON, problem details (RFC 9457) and honest failures. */

const PATIENCE_MS = 20000;
const TRIES = 3;

/** What went wrong, in words that can be shown. */
export class Problem extends Error {
  /**
   * @param {"network"|"server"|"signed-out"|"conflict"|"refused"} kind network and server may pass
   *   by themselves, signed-out needs a sign-in, conflict is right in itself but not as things
   *   stand (somebody else's claim), refused will be refused again
   * @param {string} text @param {number} [status]
   * @param {Record<string, any>} [errors] field name -> sentences, where a form was refused
   */
  constructor(kind, text, status = 0, errors = {}) {
    super(text);
    this.kind = kind;
    this.status = status;
    this.errors = errors;
  }
}

const TOKEN = 'meta[name="csrf-token"]';
const READER = 'meta[name="reader"]';

function token() {
  const meta = document.querySelector(TOKEN);
  return meta instanceof HTMLMetaElement ? meta.content : "";
}

/**
 * Signing in anew, in another tab, makes the token of a page that stayed open worthless, and the
 * cookie is out of a script's reach: read it from the page as the server writes it now.
 * Nobody writes in another person's name: a page of somebody else's is refused.
 * @returns {Promise<boolean>} whether there is another one to try with
 * @throws {Problem}
 */
async function renewed() {
  const older = token();
  const written = await textOf(await ask("GET", location.href));
  const page = new DOMParser().parseFromString(written, "text/html");
  const who = (/** @type {Document} */ of) => of.querySelector(READER)?.getAttribute("content");
  if (who(page) !== who(document)) {
    const other = "Somebody else is signed in now. Sign in as yourself in another tab.";
    throw new Problem("signed-out", other, 403);
  }
  const newer = page.querySelector(TOKEN)?.getAttribute("content");
  if (newer) document.querySelector(TOKEN)?.setAttribute("content", newer);
  return Boolean(newer) && newer !== older;
}

/** What a fetch threw, or the reading of its answer: none came, or it was cut off. @param {unknown} error */
function networkProblem(error) {
  return new Problem("network", error instanceof Error ? error.message : String(error));
}

/** @param {Response} response @returns {Promise<Problem>} */
async function problem(response) {
  const { status } = response;
  const type = response.headers.get("Content-Type") ?? "";
  const details = type.includes("json") ? await response.json().catch(() => ({})) : {};
  const text = details.detail || details.title || `The server answered ${status}.`;
  if (status === 401 || (status === 403 && /csrf|credential/i.test(text))) {
    return new Problem("signed-out", "You are signed out. Sign in again in another tab.", status);
  }
  if (status === 408 || status === 429 || status >= 500) return new Problem("server", text, status);
  return new Problem(status === 409 ? "conflict" : "refused", text, status, details.errors);
}

/**
 * @param {string} method @param {string} url @param {any} [body] a form as it is, anything else as JSON
 * @param {AbortSignal} [signal] in place of the usual time limit, also for reading the answer
 * @returns {Promise<Response>} an answer of the 2xx kind
 * @throws {Problem}
 */
async function ask(method, url, body, signal = AbortSignal.timeout(PATIENCE_MS)) {
  /** @type {Record<string, string>} */
  const headers = { Accept: "application/json, application/problem+json, */*" };
  const isForm = body instanceof FormData;
  if (method !== "GET") headers["X-CSRFToken"] = token();
  if (isForm) headers["X-Kept-Form"] = "1";
  else if (body !== undefined) headers["Content-Type"] = "application/json";
  let response;
  try {
    response = await fetch(url, {
      method,
      headers,
      credentials: "same-origin",
      body: body === undefined || isForm ? body : JSON.stringify(body),
      signal,
    });
  } catch (error) {
    throw networkProblem(error);
  }
  const comesBack = isForm && [400, 409, 422].includes(response.status); // a form with its errors
  if (!response.ok && !comesBack) throw await problem(response);
  if (response.redirected && (response.headers.get("Content-Type") ?? "").includes("text/html")) {
    throw new Problem("signed-out", "You are signed out. Sign in again in another tab.");
  }
  return response;
}

/** @template T @param {() => Promise<T>} read @param {AbortSignal} [signal] @returns {Promise<T>} */
async function patiently(read, signal) {
  for (let tries = 1; ; tries += 1) {
    try {
      return await read();
    } catch (error) {
      const passing =
        error instanceof Problem && (error.kind === "network" || error.kind === "server");
      if (!passing || tries === TRIES || signal?.aborted) throw error;
      await new Promise((done) => setTimeout(done, 500 * 2 ** tries));
    }
  }
}

/** @param {Response} response @returns {Promise<string>} @throws {Problem} */
async function textOf(response) {
  try {
    return await response.text();
  } catch (error) {
    throw networkProblem(error);
  }
}

/** @param {string} url @param {{limitMs?: number}} [limits] how long one attempt may take @returns {Promise<any>} */
export function getJSON(url, { limitMs = PATIENCE_MS } = {}) {
  return patiently(async () => {
    const response = await ask("GET", url, undefined, AbortSignal.timeout(limitMs));
    return JSON.parse(await textOf(response));
  });
}

/**
 * A whole file; it may take as long as it likes, but not stop coming.
 * @param {string} url @param {{signal?: AbortSignal, stallMs?: number}} [limits] how long it may send nothing
 * @returns {Promise<Blob>}
 */
export function getBlob(url, { signal, stallMs = PATIENCE_MS } = {}) {
  return patiently(() => receive(url, signal, stallMs), signal);
}

/** @param {string} url @param {AbortSignal|undefined} signal @param {number} stallMs */
async function receive(url, signal, stallMs) {
  const stop = new AbortController();
  const leave = () => stop.abort(signal?.reason);
  /** @type {ReturnType<typeof setTimeout>|undefined} */
  let stall;
  const came = () => {
    clearTimeout(stall);
    stall = setTimeout(() => stop.abort(new Problem("network", "The file stopped coming.")), stallMs);
  };
  signal?.addEventListener("abort", leave);
  came();
  try {
    const { body, headers } = await ask("GET", url, undefined, stop.signal);
    const counted = new TransformStream({
      transform(chunk, to) {
        came();
        to.enqueue(chunk);
      },
    });
    return await new Response(body?.pipeThrough(counted), { headers }).blob();
  } catch (error) {
    throw error instanceof Problem ? error : networkProblem(error);
  } finally {
    clearTimeout(stall);
    signal?.removeEventListener("abort", leave);
  }
}

/**
 * @param {string} method @param {string} url @param {any} [body]
 * @returns {Promise<Response>} as `ask`, with a new token where the page's own is worth nothing now
 */
async function askAnew(method, url, body) {
  try {
    return await ask(method, url, body);
  } catch (error) {
    const stale = error instanceof Problem && error.status === 403 && error.kind === "signed-out";
    if (!stale || !(await renewed())) throw error;
    return ask(method, url, body);
  }
}

/**
 * One attempt; whoever must not lose the change keeps it in an outbox.
 * @param {string} method @param {string} url @param {any} [body]
 * @returns {Promise<any>} the JSON answered, or null where there is none
 */
export async function send(method, url, body) {
  const response = await askAnew(method, url, body ?? undefined);
  const text = await textOf(response);
  return text ? JSON.parse(text) : null;
}

/**
 * Send a plain form. The server says in a header where it leads, since a fetch that followed would
 * use up the words that the next page has for the reader (KeptFormMiddleware).
 * @param {string} url @param {[string, string][]} fields
 * @returns {Promise<{to: string, page: Document|null}>} `page`: the form comes back, with something
 *   to be put right
 * @throws {Problem}
 */
export async function sendForm(url, fields) {
  const body = new FormData();
  for (const [name, value] of fields) body.append(name, value);
  let response;
  try {
    response = await ask("POST", url, body);
  } catch (error) {
    // A page answers a worthless token with a page, so that the reason cannot be read.
    if (!(error instanceof Problem && error.status === 403) || !(await renewed())) throw error;
    response = await ask("POST", url, body);
  }
  const to = response.headers.get("X-Location") ?? "";
  if (to) return { to, page: null };
  return { to, page: new DOMParser().parseFromString(await textOf(response), "text/html") };
}
