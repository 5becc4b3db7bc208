// The lesson travels in the address. A good link gives the same lesson
// elsewhere; a bad one is refused in words, and the page still works.

import assert from "node:assert/strict";
import { test } from "node:test";
import { comesTo, press, stage } from "./hands.mjs";
import { screenshot, visit } from "./harness.mjs";

/** Longest link of our own scenario, characters: school platforms cut longer ones. */
const LONGEST = 300;

/** The link that Plan shows. @param {import("./harness.mjs").Page} page */
async function shownLink(page) {
  await press(page, "Plan");
  return page.locator("#plan-link").inputValue();
}

test("a changed recipe comes back from its link in another browser", async (t) => {
  const here = await visit(t);
  assert.ok((await shownLink(here.page)).length < LONGEST);
  await here.page.locator("#plan-waterMl").fill("400");
  await here.page.locator("#plan-doseMl").fill("1,5");
  await press(here.page, "Use this recipe");
  const link = await shownLink(here.page);
  assert.ok(link.length < LONGEST, `${link.length} characters`);
  assert.equal(new URL(here.page.url()).hash, new URL(link).hash, "the address bar holds the lesson as well");

  const there = await visit(t, { path: `/${new URL(link).hash}` });
  assert.ok(await there.page.locator("#trouble").isHidden());
  await press(there.page, "Plan");
  assert.equal(await there.page.locator("#plan-waterMl").inputValue(), "400");
  assert.equal(await there.page.locator("#plan-doseMl").inputValue(), "1.5");
});

/** @type {[string, (fragment: string) => string, RegExp][]} */
const DAMAGED = [
  ["with one letter changed", (it) => it.slice(0, 20) + (it[20] === "A" ? "B" : "A") + it.slice(21), /damaged/],
  ["cut in the middle", (it) => it.slice(0, Math.floor(it.length / 2)), /incomplete|damaged/],
  ["with a sign that no link has", (it) => `${it.slice(0, 12)}%20${it.slice(15)}`, /damaged/],
  ["of something else", () => "section-3", /no lesson|damaged/],
  ["ten times too long", (it) => it + "A".repeat(3000), /too long/],
  ["with nothing but signs", () => "%F0%9F%92%A5<script>alert(1)</script>", /damaged|no lesson/],
];

for (const [what, damage, expected] of DAMAGED) {
  test(`a link ${what} is refused in words, and leaves a working page`, async (t) => {
    const first = await visit(t);
    const fragment = new URL(await shownLink(first.page)).hash.slice(1);
    const { page } = await visit(t, { path: `/#${damage(fragment)}` });
    const trouble = page.locator("#trouble");
    await trouble.waitFor({ state: "visible" });
    assert.match(await trouble.innerText(), expected);
    assert.equal(await trouble.getAttribute("role"), "alert");
    if (what.startsWith("with one")) await screenshot(page, "link-damaged");
    await press(page, "Close this message");
    assert.ok(await trouble.isHidden());
    await press(page, "Start the lesson");
    await comesTo(page, "ask");
    assert.equal(await stage(page), "ask");
  });
}
