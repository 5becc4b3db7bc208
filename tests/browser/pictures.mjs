// Pictures of the six moments of a lesson, on a laptop and on a phone, for people to look at: target/screenshots. The one of
// the laptop half way back is the one that README.md shows.
//
//   ./build.sh build && node tests/browser/pictures.mjs

import { copyFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { serve } from "../tools/serve.mjs";
import { launchChromium, PAGE_ROOT, SCREENS } from "./chromium.mjs";
import { ANSWERS, answerCard, comesTo, coverIsUp, goOn, playDose, startLesson, toRest } from "./hands.mjs";
import { runsTo, still } from "./waits.mjs";

const INTO = fileURLToPath(new URL("../../target/screenshots", import.meta.url));
const README = fileURLToPath(new URL("pictures/bench.png", import.meta.url));

const server = await serve({ root: PAGE_ROOT });
const browser = await launchChromium();
try {
  const page = await browser.newPage({ viewport: SCREENS.laptop });
  await page.goto(server.origin);
  await comesTo(page, "brief");
  /** @param {string} moment */
  const keep = async (moment) => {
    for (const screen of [SCREENS.phone, SCREENS.laptop]) {
      await page.setViewportSize(screen);
      await page.evaluate(() => scrollTo(0, 0));
      await still(page);
      await page.screenshot({ path: `${INTO}/${moment}-${screen.width}x${screen.height}.png` });
    }
  };
  await startLesson(page);
  await keep("1-before-the-lock");
  await answerCard(page, ANSWERS);
  await coverIsUp(page);
  await runsTo(page, 1);
  await page.click("#hold");
  await keep("2-one-second-after-the-pour");
  await page.click("#hold");
  await page.focus("#stage");
  // The first two events are the warm beaker and the room's; the cold one is still on its way.
  await page.keyboard.press("n");
  await page.keyboard.press("n");
  await page.click("#hold");
  await keep("3-half-way-back");
  const { width, height } = SCREENS.laptop;
  await copyFile(`${INTO}/3-half-way-back-${width}x${height}.png`, README);
  await page.click("#hold");
  await toRest(page);
  await keep("4-at-rest");
  await answerCard(page, ANSWERS);
  await goOn(page);
  for (let dose = 2; dose <= 6; dose++) await playDose(page);
  await answerCard(page, { ...ANSWERS, atRest: "red", clarity: "clear", seconds: "never", first: "none" });
  await toRest(page);
  await keep("5-at-the-end-point");
  await answerCard(page, { ...ANSWERS, atRest: "red", clarity: "clear", first: "none" });
  await goOn(page);
  await answerCard(page, { ...ANSWERS, atOnce: "violet", atRest: "violet" });
  await toRest(page);
  await keep("6-after-the-base");
} finally {
  await browser.close();
  await server.close();
}
