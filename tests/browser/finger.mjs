// A finger on a page that has been told of one (`hasTouch`). In Firefox the driver has none: there elderfox.mjs makes one of the
// middle button of its mouse.

import { BROWSER } from "./chromium.mjs";

/** @typedef {import("playwright-core").Page} Page */

/** Touches the middle of a control with a finger. @param {import("playwright-core").Locator} control */
export function touch(control) {
  return BROWSER === "firefox" ? control.click({ button: "middle" }) : control.tap();
}

/** A finger on the screen. @param {Page} page */
export async function finger(page) {
  if (BROWSER === "firefox")
    return {
      down: async (/** @type {number} */ x, /** @type {number} */ y) => {
        await page.mouse.move(x, y);
        await page.mouse.down({ button: "middle" });
      },
      move: (/** @type {number} */ x, /** @type {number} */ y) => page.mouse.move(x, y),
      up: () => page.mouse.up({ button: "middle" }),
    };
  const session = await page.context().newCDPSession(page);
  const send = (/** @type {"touchStart" | "touchMove" | "touchEnd"} */ type, /** @type {number[][]} */ ...points) =>
    session.send("Input.dispatchTouchEvent", { type, touchPoints: points.map(([x, y]) => ({ x, y })) });
  return {
    down: (/** @type {number} */ x, /** @type {number} */ y) => send("touchStart", [x, y]),
    move: (/** @type {number} */ x, /** @type {number} */ y) => send("touchMove", [x, y]),
    up: () => send("touchEnd"),
  };
}
