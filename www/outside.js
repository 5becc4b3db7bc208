// What the page hears from outside of its own parts: keys anywhere, the way past the head, the tab that is hidden or left.

import { byId } from "./element.js";

/**
 * Listens until the page is over.
 * @param {import("./page.js").Page} page
 * @param {AbortSignal} signal ends it
 */
export function listenOutside(page, signal) {
  document.addEventListener(
    "keydown",
    (event) => {
      if (page.places.here === "bench") page.teach.pressed(event);
    },
    { signal },
  );
  byId("bench-place").addEventListener("resized", () => page.clock.resize(), { signal });
  // By script, because the part of the address after # belongs to the lesson.
  document.querySelector(".skip")?.addEventListener(
    "click",
    (event) => {
      event.preventDefault();
      page.places.go("bench", true);
    },
    { signal },
  );
  document.addEventListener("visibilitychange", () => page.clock.wake(), { signal });
  window.addEventListener(
    "beforeunload",
    (event) => {
      // A device may be wiped when somebody signs out, and what is typed into a plan or a ledger lives in this tab only: leaving
      // a slip that was not handed in, or what was not saved, asks first.
      if (page.unsaved()) event.preventDefault();
    },
    { signal },
  );
}
