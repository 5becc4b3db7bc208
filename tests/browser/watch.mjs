// What a page does while somebody looks at it: its complaints and its requests.

/** @typedef {import("playwright-core").Page} Page */

/**
 * What a page did while a test looked at it.
 * @typedef {object} Seen
 * @property {string[]} complaints console errors and warnings, exceptions, refused or failed requests
 * @property {string[]} requests every request since the page was asked for, in order
 * @property {string[]} workerRequests what the worker fetched that keeps the page for days without a network: once, as
 *   it is registered; a second time is noted among the late requests
 * @property {string[]} lateRequests the requests since everything stood that the page sets up by itself
 */

/** The driver's own style, which it wants in a page of Firefox for a picture, and the page's policy refuses. */
const DRIVERS_STYLE = "sha256-YjaKGiklmzC6wjXA513HAMmzus8VE61XCOT+SmwNZWA=";

/**
 * Note down what a page does.
 * @param {Page} page
 * @param {string} here the only origin that it may ask
 * @returns {Seen & { loaded: () => void }}
 */
export function watch(page, here) {
  let quiet = false;
  /** @type {Seen} */
  const seen = { complaints: [], requests: [], workerRequests: [], lateRequests: [] };
  const note = (/** @type {string} */ address, worker = false) => {
    // What a page carries in itself goes over no network.
    if (address.startsWith("data:") || address.startsWith("blob:")) return;
    if (!address.startsWith(`${here}/`)) seen.complaints.push(`asked another server: ${address}`);
    const isNew = !seen.workerRequests.includes(address);
    // At each load the browser itself asks whether the worker or its list has changed.
    if (worker && (isNew || /\/(sw|pkg\/served)\.js$/.test(address))) {
      if (isNew) seen.workerRequests.push(address);
      return;
    }
    seen.requests.push(address);
    if (quiet) seen.lateRequests.push(address);
  };
  page.context().on("request", (request) => note(request.url(), request.serviceWorker() !== null));
  page.on("websocket", (socket) => note(socket.url()));
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning")
      seen.complaints.push(`console ${message.type()}: ${message.text()} (${message.location().url})`);
  });
  page.on("pageerror", (error) => {
    if (!error.message.includes(DRIVERS_STYLE)) seen.complaints.push(`exception: ${error.stack ?? error.message}`);
  });
  page.context().on("requestfailed", (request) => {
    // A test may end, and its browser close, before the worker has kept everything.
    if (request.serviceWorker() !== null && request.failure()?.errorText === "net::ERR_ABORTED") return;
    seen.complaints.push(`request failed: ${request.url()} ${request.failure()?.errorText ?? ""}`);
  });
  page.context().on("response", (response) => {
    if (response.status() >= 400) seen.complaints.push(`answer ${response.status()}: ${response.url()}`);
  });
  return Object.assign(seen, {
    loaded: () => {
      quiet = true;
    },
  });
}
