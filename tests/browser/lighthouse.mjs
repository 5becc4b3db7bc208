// Lighthouse against the served page: the load as on a slow phone (its mobile preset), then each place as it stands. The
// places share one address and one load, so that performance is judged once and the rest at each.
//
//   node tests/browser/lighthouse.mjs      over the last build; the report lies in target/lighthouse/

import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { startFlow } from "lighthouse";
import puppeteer from "puppeteer-core";
import { bundle } from "../tools/bundle.mjs";
import { serve } from "../tools/serve.mjs";
import { PAGE_ROOT } from "./chromium.mjs";

const REPORT = fileURLToPath(new URL("../../target/lighthouse", import.meta.url));
const WANTED = ["performance", "accessibility", "best-practices"];

await bundle(PAGE_ROOT);
const server = await serve({ root: PAGE_ROOT });
const browser = await puppeteer.launch({
  executablePath: "/usr/bin/chromium",
  headless: true,
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"],
});
let isWhole = true;
try {
  const page = await browser.newPage();
  const flow = await startFlow(page, {
    name: "Turnback",
    config: { extends: "lighthouse:default", settings: { onlyCategories: WANTED } },
  });
  await flow.navigate(`${server.origin}/`, { name: "load, Bench" });
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
}
process.exitCode = isWhole ? 0 : 1;
