// Keeps the page for the days without a network, and offers a newer version when no lesson would be lost by it.

import { byId, element } from "./element.js";

/** @typedef {import("./i18n.js").Words} Words */

/**
 * Starts keeping. Where the browser can't or mayn't, the page works as before: with a network.
 * @param {Words} words
 * @param {() => boolean} busy whether a lesson or something typed would be lost now
 * @param {(sentence: string) => void} say speaks to those who listen
 * @returns {Promise<Updates | null>} null where nothing is kept
 */
export async function keepOffline(words, busy, say) {
  // A page from a folder is here already; one from an unsafe address has no service worker.
  if (!location.protocol.startsWith("http") || !navigator.serviceWorker) return null;
  try {
    return new Updates(words, busy, say, await navigator.serviceWorker.register("sw.js"));
  } catch (reason) {
    console.info("not kept for use without a network:", reason);
    return null;
  }
}

/** Newer versions of the page: offered, never forced. */
export class Updates {
  /**
   * @param {Words} words
   * @param {() => boolean} busy
   * @param {(sentence: string) => void} say
   * @param {ServiceWorkerRegistration} registration
   */
  constructor(words, busy, say, registration) {
    this.words = words;
    this.busy = busy;
    this.say = say;
    this.registration = registration;
    this.box = byId("update");
    const follow = () => registration.installing?.addEventListener("statechange", () => this.offer());
    registration.addEventListener("updatefound", follow);
    // The browser looks by itself when the page is opened, and may have found it before the desk had come.
    follow();
    this.offer();
  }

  /**
   * The offer in another language, for the page that goes on in it.
   * @param {Words} words
   * @param {() => boolean} busy
   * @param {(sentence: string) => void} say
   */
  speak(words, busy, say) {
    Object.assign(this, { words, busy, say });
    this.box.hidden = true;
    this.offer();
  }

  /** Makes the offer, or takes it back while a lesson runs. */
  offer() {
    const { waiting } = this.registration;
    // The first version is the one that is shown already.
    const offered = !this.busy() && waiting !== null && navigator.serviceWorker.controller !== null;
    if (offered === !this.box.hidden) return;
    this.box.hidden = !offered;
    if (!offered) return;
    this.say(this.words.t("update.here"));
    const take = () => {
      navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
      waiting.postMessage("");
    };
    this.box.replaceChildren(
      element("p", {}, this.words.t("update.here")),
      element("button", { type: "button", click: take }, this.words.t("update.take")),
    );
  }
}
