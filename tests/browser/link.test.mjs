// The lesson travels in the address. A good link gives the same lesson
// elsewhere; a bad one is refused in words, and the page still works.

import assert from "node:assert/strict";
import { test } from "node:test";
import { press, stage, startLesson } from "./hands.mjs";
import { needs, screenshot, visit } from "./harness.mjs";
import { openLink } from "./waits.mjs";

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
  assert.equal(
    await here.page.evaluate(() => location.hash),
    new URL(link).hash,
    "the address bar holds the lesson as well",
  );

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
  ["of a newer release", (it) => it.replace(/^v1\./, "v7."), /newer version/],
  ["of something else", () => "section-3", /no lesson|damaged/],
  ["ten times too long", (it) => it + "A".repeat(3000), /too long/],
  ["with nothing but signs", () => "%F0%9F%92%A5<script>alert(1)</script>", /damaged|no lesson/],
];

test("a link that is damaged in any way is refused in words, and leaves a working page", async (t) => {
  const first = await visit(t);
  const fragment = new URL(await shownLink(first.page)).hash.slice(1);
  for (const [what, damage, expected] of DAMAGED) {
    const { page } = await visit(t, { path: `/#${damage(fragment)}` });
    const trouble = page.locator("#trouble");
    await trouble.waitFor({ state: "visible" });
    assert.match(await trouble.innerText(), expected, what);
    assert.equal(await trouble.getAttribute("role"), "alert");
    if (what.startsWith("with one")) await screenshot(page, "link-damaged");
    await press(page, "Close this message");
    assert.ok(await trouble.isHidden());
    await startLesson(page);
    assert.equal(await stage(page), "ask", what);
    await page.context().close();
  }
});

test("a link that is opened in the same tab takes its place, a bad one leaves the lesson as it is", async (t) => {
  const { page } = await visit(t);
  const ours = new URL(await shownLink(page)).hash;
  await page.fill("#plan-doseMl", "4.0");
  await page.getByRole("button", { name: "Use this recipe" }).click();
  const other = new URL(await shownLink(page)).hash;
  assert.notEqual(other, ours);
  assert.equal(await page.evaluate(() => location.hash), other, "the address holds the lesson in use");
  await openLink(page, ours);
  assert.equal(await page.inputValue("#plan-doseMl"), "2.0");
  await openLink(page, "#v1.broken");
  assert.ok(await page.locator("#trouble").isVisible());
  assert.equal(await page.inputValue("#plan-doseMl"), "2.0");
});

test(
  "the copy button puts the whole link on the clipboard, and says what to do where that is forbidden",
  needs("clipboard"),
  async (t) => {
    const { page } = await visit(t, { context: { permissions: ["clipboard-read", "clipboard-write"] } });
    await press(page, "Plan");
    await page.getByRole("button", { name: "Copy the link" }).click();
    await page.waitForFunction(() => document.querySelector("#plan-link-said")?.textContent === "Copied.");
    assert.equal(await page.evaluate(() => navigator.clipboard.readText()), await page.inputValue("#plan-link"));

    const barred = await visit(t, {
      beforeLoad: async (target) => {
        await target.addInitScript(() => {
          Object.defineProperty(navigator, "clipboard", { value: undefined });
        });
      },
    });
    await press(barred.page, "Plan");
    await barred.page.getByRole("button", { name: "Copy the link" }).click();
    await barred.page.waitForFunction(() =>
      /selected/.test(document.querySelector("#plan-link-said")?.textContent ?? ""),
    );
  },
);
