// Our data: the class's own times beside the model. Its recordings: recordings.test.mjs.

import assert from "node:assert/strict";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import { press } from "./hands.mjs";
import { screenshot, visit } from "./harness.mjs";

/** Invented times of a class with a bottle somewhat slower than the lesson's. */
const TIMES = `dose\tstart\tend\tseconds\tfinish\tbeaker
1\t2\t2,2\t71\tgreen\t1
2\t2,2\t2,4\t88\tgreen\t1
3\t2,4\t2,5\t108\tgreen\t1
1\t21\t21,2\t18,4\tgreen\t2
2\t21,2\t21,4\t23,5\tgreen\t2
3\t21,4\t21,5\t30\tgreen\t2
1\t34\t34\t10,9\tgreen\t3
2\t34\t34\t13,6\tgreen\t3
3\t34\t34\t17\tgreen\t3`;

test("capability 16: pasted times are fitted with their ranges, kept, and opened again from the link", async (t) => {
  const { page } = await visit(t);
  await press(page, "Our data");
  await page.fill("#data-paste", TIMES);
  await press(page, "Take the pasted rows");
  assert.equal(await page.locator(".typing tbody tr").count(), 9);
  const begin = Date.now();
  await press(page, "Fit the times");
  await page.waitForSelector("#data-result-heading");
  t.diagnostic(`fit and its pictures: ${Date.now() - begin} ms with the keyboard's way there`);
  const estimates = await page.locator("#data-place section:last-of-type table").first().innerText();
  assert.match(estimates, /acid factor[\s\S]*carbonate[\s\S]*energy/);
  assert.match(estimates, /Palandri & Kharaka 2004/);
  assert.equal(await page.locator(".pictures").first().locator("figure").count(), 3);
  // Three doses have a straight line each, drawn with its dose's number, and one slope in common, which is surer than theirs.
  const drawn = page.getByRole("img", { name: /^Straight lines of/ });
  assert.deepEqual((await drawn.locator("text").allTextContents()).slice(-3), ["1", "2", "3"]);
  const lines = page.getByRole("region", { name: /^Straight lines of/ }).locator("tbody tr");
  const widths = (await lines.locator("td:nth-child(4)").allInnerTexts()).map((range) => {
    const [low, high] = range.replaceAll("−", "-").split(" to ").map(Number);
    return high - low;
  });
  assert.equal(widths.length, 4);
  assert.ok(widths[3] < Math.min(...widths.slice(0, 3)), `${widths}`);
  assert.match(await page.locator("#data-place ul").last().innerText(), /^Coarser solid/);
  assert.deepEqual(await barriers(page), []);
  await screenshot(page, "our-data-fit");
  await press(page, "Keep these numbers with the lesson");
  const bottle = await page.locator("#data-place table").first().textContent();
  assert.match(bottle ?? "", /fitted on \d{4}-\d\d-\d\d to 9 measurements/);
});

test("capability 16: one temperature refuses the energy and says why; a bad cell is named in its row", async (t) => {
  const { page } = await visit(t);
  await press(page, "Our data");
  await page.fill("#data-paste", TIMES.split("\n").slice(0, 4).join("\n"));
  await press(page, "Take the pasted rows");
  await press(page, "Fit the times");
  const few = page.locator("#data-place .error").filter({ hasText: "cannot tell" });
  // Three times, acid factor and carbonate: just enough.
  assert.equal(await few.count(), 0);
  assert.match(await page.locator("#data-place section:last-of-type").innerText(), /less than 5 °C apart/);
  const seconds = page.getByLabel("Seconds, or m:ss, row 1");
  await seconds.fill("604800");
  await press(page, "Fit the times");
  assert.match(await page.locator(".typing tbody tr").first().innerText(), /Too big/);
  assert.equal(await seconds.inputValue(), "604800", "nothing typed is lost");
});
