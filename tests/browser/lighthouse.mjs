// Lighthouse against the release, served as a host serves it: the load as on a slow phone (its mobile preset), then each
// place as it stands. The places share one address and one load, so that performance is judged once and the rest at each.
//
//   node tests/browser/lighthouse.mjs            over the last build; the report lies in target/lighthouse/
//   node tests/browser/lighthouse.mjs devtools   the line and the processor really slowed, where it else computes from a
//                                                quick load what a slow one would have been

import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { startFlow } from "lighthouse";
import puppeteer from "puppeteer-core";
import { release } from "../tools/release.mjs";
import { serve } from "../tools/serve.mjs";
import { PAGE_ROOT } from "./chromium.mjs";

const REPORT = fileURLToPath(new URL("../../target/lighthouse", import.meta.url));
const WANTED = ["performance", "accessibility", "best-practices"];
/** How the load is slowed: Lighthouse's own name for the way. */
const SLOWED_BY = /** @type {"simulate" | "devtools"} */ (process.argv[2] ?? "simulate");
/** On a busy machine the browser's trace of a load is lost now and then: so often it is loaded at most. */
const LOADS = 3;

/** @typedef {import("lighthouse").UserFlow} Flow */

/**
 * Opens a page and loads ours as on a slow phone.
 * @param {import("puppeteer-core").Browser} browser
 * @param {string} address
 * @returns {Promise<{page: import("puppeteer-core").Page, flow: Flow}>}
 * @throws where no load could be traced
 */
async function load(browser, address) {
  for (let loads = 1; ; loads++) {
    // A context of its own: nothing is kept of a load before it.
    const context = await browser.createBrowserContext();
    const page = await context.newPage();
    const flow = await startFlow(page, {
      name: "Turnback",
      config: { extends: "lighthouse:default", settings: { onlyCategories: WANTED, throttlingMethod: SLOWED_BY } },
    });
    await flow.navigate(address, { name: "load, Bench" });
    const { lhr } = (await flow.createFlowResult()).steps[0];
    if (lhr.categories.performance.score !== null) return { page, flow };
    const { errorMessage } = lhr.audits["first-contentful-paint"];
    console.log(`load ${loads} of ${LOADS} at most gave no trace that can be read: ${errorMessage}`);
    if (loads === LOADS) throw new Error("no load could be traced: run this again on a machine with less to do");
    await context.close();
  }
}

const folder = await mkdtemp(join(tmpdir(), "turnback-lighthouse-"));
await release(PAGE_ROOT, folder);
const server = await serve({ root: folder });
const browser = await puppeteer.launch({
  executablePath: "/usr/bin/chromium",
  headless: true,
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"],
});
let isWhole = true;
try {
  const { page, flow } = await load(browser, `${server.origin}/`);
  const places = await page.$$eval("#places button", (signs) => signs.map((sign) => sign.dataset.place ?? ""));
  for (const place of places) {
    // The Ledger and what else a level keeps for later have no sign yet.
    if (!(await page.$eval(`[data-place=${place}]`, (sign) => sign.checkVisibility()))) continue;
    await page.$eval(`[data-place=${place}]`, (sign) => /** @type {HTMLElement} */ (sign).click());
    await new Promise((done) => setTimeout(done, 500));
    await flow.snapshot({ name: place });
  }
  const { steps } = await flow.createFlowResult();
  for (const { name, lhr } of steps) {
    // Speed belongs to the load alone: a place that stands there already has none.
    const categories = Object.entries(lhr.categories).filter(
      ([key]) => key !== "performance" || lhr.gatherMode === "navigation",
    );
    const scores = categories.map(([key, { score }]) => `${key} ${Math.round((score ?? 0) * 100)}`);
    console.log(`${name}: ${scores.join(", ")}`);
    for (const [key, { score, auditRefs }] of categories) {
      if (score !== null && score < 1) isWhole = false;
      for (const { id, weight } of auditRefs) {
        const audit = lhr.audits[id];
        if (weight > 0 && audit.score !== null && audit.score < 1)
          console.log(`  ${key}: ${audit.title} (${audit.score}) ${audit.displayValue ?? ""}`);
      }
    }
    const shifts = lhr.audits["layout-shifts"]?.details;
    if (shifts?.type === "table")
      for (const { node, score } of shifts.items)
        console.log(`  moved by itself: ${/** @type {any} */ (node)?.selector} ${score}`);
  }
  await mkdir(REPORT, { recursive: true });
  await writeFile(join(REPORT, "report.html"), await flow.generateReport());
  console.log(`the report: ${join(REPORT, "report.html")}`);
} finally {
  await browser.close();
  await server.close();
  await rm(folder, { recursive: true });
}
process.exitCode = isWhole ? 0 : 1;
