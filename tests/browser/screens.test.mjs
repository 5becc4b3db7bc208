// Pictures of the six moments of a lesson, for people to look at: target/screenshots.

import { test } from "node:test";
import { SCREENS, screenshot, visit } from "./harness.mjs";
import { coverIsUp, lockGuess, playDose, startLesson, toRest } from "./student.mjs";

for (const screen of [SCREENS.laptop, SCREENS.phone]) {
  test(`the six moments of a lesson at ${screen.width} x ${screen.height}`, async (t) => {
    const { page } = await visit(t, { screen });
    /** @param {string} moment */
    const keep = async (moment) => {
      await page.evaluate(() => scrollTo(0, 0));
      await page.waitForTimeout(400);
      await screenshot(page, `${moment}-${screen.width}x${screen.height}`);
    };
    await startLesson(page);
    await page.waitForTimeout(900);
    await keep("1-before-the-lock");
    await lockGuess(page);
    await coverIsUp(page);
    await page.waitForTimeout(1000);
    await page.click("#hold");
    await keep("2-one-second-after-the-pour");
    await page.click("#hold");
    await page.focus("#stage");
    // The first two events are the warm beaker and the room's; the cold one is still on its way.
    await page.keyboard.press("n");
    await page.keyboard.press("n");
    await page.click("#hold");
    await keep("3-half-way-back");
    await page.click("#hold");
    await toRest(page);
    await keep("4-at-rest");
    const { saySeen, goOn } = await import("./student.mjs");
    await saySeen(page);
    await goOn(page);
    for (let dose = 2; dose <= 6; dose++) await playDose(page);
    await lockGuess(page, { atRest: "red", clarity: "clear", seconds: "never", first: "none" });
    await toRest(page);
    await keep("5-at-the-end-point");
    await saySeen(page, { atRest: "red", clarity: "clear", first: "none" });
    await goOn(page);
    await lockGuess(page, { atOnce: "violet", atRest: "violet" });
    await toRest(page);
    await keep("6-after-the-base");
  });
}
