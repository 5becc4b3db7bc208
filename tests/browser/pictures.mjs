// Takes the pictures that README.md shows, from the page as it is built.
//
//   ./build.sh build && node tests/browser/pictures.mjs

import { mkdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { serve } from "../tools/serve.mjs";
import { launchChromium, PAGE_ROOT, SCREENS } from "./chromium.mjs";
import { answerCard, comesTo, goOn, press, toRest } from "./hands.mjs";

const PICTURES = fileURLToPath(new URL("pictures", import.meta.url));
const GUESS = { atOnce: "red", atRest: "teal", clarity: "cloudy", seconds: "25", first: "2", why: "" };
/** The lesson's second after the pour of dose 2 at which the picture is taken: warm is back, cold is not. */
const AT_S = 17;

await mkdir(PICTURES, { recursive: true });
const server = await serve({ root: PAGE_ROOT });
const browser = await launchChromium();
try {
  const page = await browser.newPage({ viewport: SCREENS.laptop });
  await page.goto(server.origin);
  await comesTo(page, "brief");
  await press(page, "Start the lesson");
  await comesTo(page, "ask");
  await answerCard(page, GUESS);
  await comesTo(page, "watch");
  await toRest(page);
  await answerCard(page, GUESS);
  await comesTo(page, "explain");
  await goOn(page);
  await comesTo(page, "ask");
  await answerCard(page, GUESS);
  await comesTo(page, "watch");
  await page.getByRole("radio", { name: "Whole lesson" }).check();
  await page.waitForFunction(
    (seconds) => new RegExp(`\\b(${seconds}|${seconds + 1}) s after dose 2`).test(document.body.innerText),
    AT_S,
  );
  await page.locator("#hold").click();
  await page.waitForTimeout(500);
  await page.screenshot({ path: `${PICTURES}/bench.png` });
} finally {
  await browser.close();
  await server.close();
}
