// Takes the picture that README.md shows, from the page as it is built.
//
//   ./build.sh build && node tests/browser/pictures.mjs

import { fileURLToPath } from "node:url";
import { serve } from "../tools/serve.mjs";
import { launchChromium, PAGE_ROOT, SCREENS } from "./chromium.mjs";
import { ANSWERS, answerCard, comesTo, startLesson } from "./hands.mjs";

const BENCH = fileURLToPath(new URL("pictures/bench.png", import.meta.url));
/** Seconds after the first pour: warm is back, cold is not, and the room's beaker is on its way. */
const AT_S = 14;

const server = await serve({ root: PAGE_ROOT });
const browser = await launchChromium();
try {
  const page = await browser.newPage({ viewport: SCREENS.laptop });
  await page.goto(server.origin);
  await comesTo(page, "brief");
  await startLesson(page);
  await answerCard(page, ANSWERS);
  await comesTo(page, "watch");
  await page.waitForFunction((words) => document.body.innerText.includes(words), `${AT_S} s after dose 1`);
  await page.locator("#hold").click();
  await page.waitForTimeout(500);
  await page.screenshot({ path: BENCH });
} finally {
  await browser.close();
  await server.close();
}
