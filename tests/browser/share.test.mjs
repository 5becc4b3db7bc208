// A lesson that is handed on: as a link, as a code for cameras, as a file; and what is no lesson, refused in words.

import assert from "node:assert/strict";
import { test } from "node:test";
import jsQR from "jsqr";
import { saved, visit, workroom } from "./harness.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** Longest link that is handed on without a warning, characters. */
const LONGEST = 2000;

/** Open the list of the doses, where it is closed. @param {Page} page */
async function openSteps(page) {
  if (await page.locator(".steps").isHidden()) await page.getByText("Doses and questions, one by one").click();
}

/** Give the lesson a title, notes, and a question of its own before the first dose. @param {Page} page @param {string} question */
async function ownLesson(page, question) {
  await page.click("[data-place=plan]");
  await page.fill("#plan-title", "Room 12, Tuesday 🧪");
  await page.fill("#plan-notes", "The big beakers are behind the door.");
  await page.fill("#plan-waterMl", "450");
  await openSteps(page);
  await page.getByRole("button", { name: "Edit: Before the first dose" }).click();
  await page.selectOption("#ask-kind", "own");
  await page.getByRole("button", { name: "Add this question" }).click();
  await page.locator(".own-question textarea").first().fill(question);
  await page.getByRole("button", { name: "Use this recipe" }).click();
  await page.click("[data-place=plan]");
}

/** What the form holds. @param {Page} page */
function typed(page) {
  return page
    .locator("#plan-place form")
    .evaluate((form) =>
      [...form.querySelectorAll("input, select, textarea")].map((field) => [
        field.id,
        /** @type {HTMLInputElement} */ (field).value,
      ]),
    );
}

test("a link carries the teacher's title and questions, and never the notes", async (t) => {
  const { page } = await visit(t);
  await ownLesson(page, "What will you tell at home?");
  const link = await page.inputValue("#plan-link");
  assert.ok(link.length < LONGEST, `${link.length} characters`);
  const there = await visit(t, { path: `/${new URL(link).hash}` });
  await there.page.click("[data-place=plan]");
  assert.equal(await there.page.inputValue("#plan-title"), "Room 12, Tuesday 🧪");
  assert.equal(await there.page.inputValue("#plan-waterMl"), "450");
  assert.equal(await there.page.inputValue("#plan-notes"), "");
  await there.page.click("[data-place=paper]");
  assert.match(await there.page.locator("#paper-place").innerText(), /What will you tell at home\?/);
  assert.doesNotMatch(await there.page.content(), /behind the door/);
});

/** Read the code on the screen with a decoder that is not ours. @param {Page} page @param {string} place */
async function scanned(page, place) {
  const code = page.locator(`${place} .qr`).first();
  // A picture comes into the page after its element.
  await code.evaluate((image) => /** @type {HTMLImageElement} */ (image).decode());
  await code.scrollIntoViewIfNeeded();
  const png = (await code.screenshot()).toString("base64");
  const decoder = await workroom();
  const { pixels, width, height } = await decoder.evaluate(async (encoded) => {
    const image = await createImageBitmap(await (await fetch(`data:image/png;base64,${encoded}`)).blob());
    const context = /** @type {OffscreenCanvasRenderingContext2D} */ (
      new OffscreenCanvas(image.width, image.height).getContext("2d")
    );
    context.drawImage(image, 0, 0);
    const { data } = context.getImageData(0, 0, image.width, image.height);
    return { pixels: [...data], width: image.width, height: image.height };
  }, png);
  return jsQR(new Uint8ClampedArray(pixels), width, height)?.data;
}

test("a link that is behind what was typed says so until it is used", async (t) => {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  const behind = page.getByText("in neither link nor file yet");
  assert.ok(await behind.isHidden());
  await page.fill("#plan-waterMl", "450");
  await behind.waitFor();
  await page.fill("#plan-waterMl", "500");
  await behind.waitFor({ state: "hidden" });
  await page.fill("#plan-waterMl", "450");
  await behind.waitFor();
  const before = await page.inputValue("#plan-link");
  await page.getByRole("button", { name: "Use this recipe" }).click();
  await page.click("[data-place=plan]");
  assert.ok(await behind.isHidden());
  assert.notEqual(await page.inputValue("#plan-link"), before);
});

test("capability 3: a lesson that nobody edited has a link of fewer than 300 characters at every level", async (t) => {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  for (const level of ["1", "2", "3", "4", "5"]) {
    await page.selectOption("#plan-level", level);
    await page.getByRole("button", { name: "Use this recipe" }).click();
    await page.click("[data-place=plan]");
    const link = await page.inputValue("#plan-link");
    assert.match(link, /^http:.*#v1\./);
    // The longest address of a school's host is left room for.
    assert.ok(link.length < 200, `level ${level}: ${link.length} characters`);
  }
});

test("the code for cameras reads back as the link, in Plan and on paper", async (t) => {
  const { page } = await visit(t, { context: { deviceScaleFactor: 2 } });
  await page.click("[data-place=plan]");
  const link = await page.inputValue("#plan-link");
  assert.equal(await scanned(page, "#plan-place"), link);
  await ownLesson(page, "What will you tell at home?");
  const own = await page.inputValue("#plan-link");
  assert.notEqual(own, link);
  assert.equal(await scanned(page, "#plan-place"), own);
  await page.click("[data-place=paper]");
  assert.equal(await scanned(page, "#paper-place"), own);
  assert.ok((await page.locator("#paper-place .link-text").innerText()).includes(own));
});

test("words beyond 2,000 characters of link are kept, with advice and the file instead of a link", async (t) => {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  await openSteps(page);
  await page.getByRole("button", { name: "Edit: Before the first dose" }).click();
  for (let number = 0; number < 6; number++) {
    await page.selectOption("#ask-kind", "own");
    await page.getByRole("button", { name: "Add this question" }).click();
    await page
      .locator(".own-question textarea")
      .nth(2 * number)
      .fill(`${number} ${"long ".repeat(75)}`);
  }
  await page.getByRole("button", { name: "Use this recipe" }).click();
  await page.click("[data-place=plan]");
  assert.match(
    await page.locator(".share").innerText(),
    /\d{4} characters.*Shorten your questions, or save the lesson as a file/s,
  );
  assert.equal(await page.locator("#plan-link, .share .qr").count(), 0);
  assert.equal(await page.evaluate(() => location.hash), "", "the address holds no other lesson");
  await page.click("[data-place=paper]");
  assert.match(await page.locator("#paper-place").innerText(), /5 long long/);
});

test("a saved file opens elsewhere as the same lesson, notes and all", async (t) => {
  const { page } = await visit(t);
  await ownLesson(page, "What will you tell at home?");
  const before = await typed(page);
  const { name, bytes } = await saved(page, () =>
    page.getByRole("button", { name: "Save the lesson in use as a file" }).click(),
  );
  const text = bytes.toString("utf8");
  assert.match(text, /"notes": "The big beakers are behind the door\."/);
  assert.match(text, /"turnback": 1/);

  const there = await visit(t);
  await there.page.click("[data-place=plan]");
  await there.page.setInputFiles("#share-file", { name, mimeType: "application/json", buffer: bytes });
  await there.page.waitForFunction(
    () => /** @type {HTMLInputElement} */ (document.querySelector("#plan-waterMl")).value === "450",
  );
  await there.page.click("[data-place=plan]");
  assert.deepEqual(await typed(there.page), before);

  // The same as pasted text, where downloads and files are blocked.
  const pasted = await visit(t);
  await pasted.page.click("[data-place=plan]");
  await pasted.page.getByText("No files here? Paste the text of one").click();
  await pasted.page.fill("#share-text", text);
  await pasted.page.getByRole("button", { name: "Open this text" }).click();
  await pasted.page.click("[data-place=plan]");
  assert.deepEqual(await typed(pasted.page), before);
});

/** @type {[string, (whole: string) => string, RegExp][]} */
const NO_LESSONS = [
  ["cut in the middle", (whole) => whole.slice(0, whole.length / 2), /no whole lesson file/],
  ["of another program", () => `{"name": "left-pad", "version": "1.0.0"}`, /another program/],
  ["that is a list", () => "[1, 2, 3]", /another program/],
  ["of a newer version", (whole) => whole.replace(`"turnback": 1`, `"turnback": 9`), /newer version/],
  ["with an amount that cannot be", (whole) => whole.replace(/"waterMl": \d+/, `"waterMl": 1e9`), /Water: Too big/],
  ["with a dose that is none", (whole) => whole.replace(`"reagent": "acid"`, `"reagent": "tea"`), /can't be used/],
  ["that is empty", () => "  \n", /no text to open/],
];

test("a file that is no lesson is refused in plain words, and nothing that was typed is lost", async (t) => {
  const { page } = await visit(t);
  await page.click("[data-place=plan]");
  const { bytes } = await saved(page, () =>
    page.getByRole("button", { name: "Save the lesson in use as a file" }).click(),
  );
  const whole = bytes.toString("utf8");
  await page.fill("#plan-waterMl", "321");
  await page.fill("#plan-notes", "Not lost.");
  for (const [what, damage, expected] of NO_LESSONS) {
    // What was said of the file before it must not be taken for what is said of this one.
    await page.locator("#plan-place section [role=alert]").evaluate((said) => said.replaceChildren());
    await page.setInputFiles("#share-file", {
      name: "lesson.json",
      mimeType: "application/json",
      buffer: Buffer.from(damage(whole)),
    });
    const said = page.locator("#plan-place section [role=alert]");
    await page.waitForFunction(
      ([source]) =>
        new RegExp(source).test(document.querySelector("#plan-place section [role=alert]")?.textContent ?? ""),
      [expected.source],
    );
    assert.match(await said.innerText(), expected, what);
    assert.equal(await page.inputValue("#plan-waterMl"), "321", what);
    assert.equal(await page.inputValue("#plan-notes"), "Not lost.", what);
  }
  await page.setInputFiles("#share-file", {
    name: "huge.json",
    mimeType: "application/json",
    buffer: Buffer.alloc(3_000_000, 32),
  });
  await page.waitForFunction(() =>
    /far too big/.test(document.querySelector("#plan-place section [role=alert]")?.textContent ?? ""),
  );

  // A good file takes the form's place, and what was typed can be brought back.
  await page.setInputFiles("#share-file", {
    name: "lesson.json",
    mimeType: "application/json",
    buffer: Buffer.from(whole),
  });
  await page.waitForFunction(
    () => /** @type {HTMLInputElement} */ (document.querySelector("#plan-waterMl")).value === "500",
  );
  await page.click("[data-place=plan]");
  await page.getByRole("button", { name: "Bring back what I had typed" }).click();
  assert.equal(await page.inputValue("#plan-waterMl"), "321");
  assert.equal(await page.inputValue("#plan-notes"), "Not lost.");
});

test("links and files of many lessons come back as they were", async (t) => {
  const { page } = await visit(t, { core: true });
  // Two cores beside the page's; a small generator with a seed makes the lessons.
  const failures = await page.evaluate(async () => {
    const { Turnback } = await import(/** @type {any} */ ("/pkg/turnback.js"));
    const [here, there] = [new Turnback().desk(), new Turnback()];
    const over = there.desk();
    let seed = 12;
    const random = () => {
      seed = (seed * 1103515245 + 12345) % 2147483648;
      return seed / 2147483648;
    };
    const pick = (/** @type {any[]} */ list) => list[Math.floor(random() * list.length)];
    const words = ["What next?", "ما هو اللون؟", "🧪 and then?", `<b>"quoted"</b> & more`, "zwei\u200bWörter"];
    const failed = [];
    for (let round = 0; round < 60; round++) {
      const lesson = here.lesson();
      lesson.title = pick(["", ...words]);
      lesson.level = String(1 + Math.floor(random() * 5));
      lesson.notes = pick(["", "Notes\nin two lines"]);
      lesson.minutes = pick(["", "45"]);
      Object.assign(lesson.recipe, {
        waterMl: String(300 + Math.floor(random() * 100)),
        doseMl: pick(["1.5", "2,0", "2.25"]),
        stirRpm: pick(["0", "300"]),
      });
      lesson.beakers = Array.from({ length: 1 + Math.floor(random() * 3) }, () =>
        pick([
          { kind: "room" },
          { kind: "bath", celsius: "4,5" },
          { kind: "ice", celsius: "20", iceG: "50" },
          { kind: "held", celsius: "30" },
        ]),
      );
      lesson.steps = Array.from({ length: 1 + Math.floor(random() * 12) }, () => ({
        reagent: pick(["acid", "acid", "base"]),
        ...pick([{}, { volumeMl: "3" }, { restS: "90" }]),
        ...pick([{}, { asks: ["atRest", { text: pick(words), choices: pick([[], ["one", "two 🧊"]]) }] }]),
      }));
      const taken = here.setLesson(lesson);
      if (!taken.ok) {
        failed.push(JSON.stringify(taken));
        continue;
      }
      const file = here.lessonFile();
      if (!over.openLessonFile(file).ok || over.lessonFile() !== file) failed.push(`file: ${file}`);
      const link = here.share().fragment;
      if (!there.openLink(link).ok || over.share().fragment !== link) failed.push(`link: ${link}`);
      const [ours, theirs] = [here.lesson(), over.lesson()].map(({ notes: _, minutes: __, ...open }) =>
        JSON.stringify(open),
      );
      if (ours !== theirs) failed.push(`${ours} came back as ${theirs}`);
    }
    return failed;
  });
  assert.deepEqual(failures, []);
});
