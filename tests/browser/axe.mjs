// The accessibility checker axe-core, run inside a page.

import axe from "axe-core";
import { BROWSER } from "./chromium.mjs";

/** Leaves `axe` in the page. */
const LOAD = /** @type {() => void} */ (new Function(axe.source));

/**
 * What axe-core finds wrong with the page as it stands: WCAG 2.2 up to AA, and
 * its own list of best practices.
 *
 * @param {import("playwright-core").Page} page
 * @returns {Promise<string[]>} one line for each finding, empty when there is none
 */
export async function barriers(page) {
  // Evaluated by the driver, so that the page's own policy need not allow it; once, since it is half a megabyte.
  if (await page.evaluate(() => !("axe" in globalThis))) {
    // Firefox 140 dies where two worlds ask one element for this: axe-core's, and the driver's, which looks for labels. The
    // page itself never asks; without it axe-core follows the attribute.
    if (BROWSER === "firefox")
      await page.evaluate(() => Reflect.deleteProperty(Element.prototype, "ariaLabelledByElements"));
    await page.evaluate(LOAD);
  }
  return page.evaluate(async () => {
    const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
    // @ts-expect-error axe is the page's only while it is tested
    const { violations } = await globalThis.axe.run(document, {
      runOnly: { type: "tag", values: tags },
      // What passes is not told node by node, only what doesn't.
      resultTypes: ["violations"],
    });
    return violations.flatMap((/** @type {import("axe-core").Result} */ violation) =>
      violation.nodes.map((node) => `${violation.id}: ${violation.help}: ${node.target.join(" ")}: ${node.html}`),
    );
  });
}
