// A class's pH recordings in Our data: opened whoever wrote them, laid on the lesson's doses by typed seconds, keys or a drag,
// and fitted together.

import assert from "node:assert/strict";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import { finger } from "./finger.mjs";
import { enter, press, tabTo } from "./hands.mjs";
import { colourfulness, needs, SCREENS, screenshot, visit } from "./harness.mjs";
import { file, files, laid, open, recorded, unfold } from "./recorded.mjs";
import { soon } from "./waits.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

/** What is said of a recording's difference. @param {Page} page @param {number} [slot] */
function said(page, slot = 0) {
  return page
    .locator(`.recording:has(#data-${slot}-doses)`)
    .getByText(/root mean square/)
    .innerText();
}

test("capability 17: two makers' files of one recording are laid beside the model alike", async (t) => {
  const { page } = await visit(t);
  await press(page, "Our data");
  await open(
    page,
    ["comma-points.csv", "semicolon-commas.csv"].map((name) => files + name),
  );
  const told = [];
  for (const slot of [0, 1]) {
    assert.equal(await page.inputValue(`#data-${slot}-doses`), "20  80");
    await unfold(page, slot);
    await page.fill(`#data-${slot}-celsius`, "21");
    await page.locator(".recording").nth(slot).getByRole("button", { name: "Lay the model beside it" }).press("Enter");
    told.push(await said(page, slot));
  }
  assert.equal(told[0], told[1]);
  assert.match(told[0], /^Computed less recorded: /);
  await screenshot(page, "our-data-probe", { fullPage: true });
  assert.deepEqual(await barriers(page), []);
});

test("capability 17: keys move the doses as typed seconds do, and say where they lie", async (t) => {
  const { page } = await laid(t);
  const atFirst = await said(page);
  const slider = page.locator("#data-place [role=slider]");
  await slider.focus();
  assert.equal(await slider.getAttribute("aria-label"), "comma-points.csv: all doses together");
  const value = () => slider.getAttribute("aria-valuenow");
  const typed = () => page.inputValue("#data-0-doses");
  assert.equal(await value(), "20.0");
  await page.keyboard.press("ArrowRight");
  assert.deepEqual([await value(), await typed()], ["20.5", "20,5  80,5".replaceAll(",", ".")]);
  await page.keyboard.press("Shift+ArrowRight");
  await page.keyboard.press("PageUp");
  assert.deepEqual([await value(), await typed()], ["30.5", "30.5  90.5"]);
  const moved = await said(page);
  assert.notEqual(moved, atFirst, "the difference follows at once");
  const text = (await slider.getAttribute("aria-valuetext")) ?? "";
  assert.ok(text.includes("30.5 s") && text.includes(moved.split(" Compared")[0]), `who listens hears it: ${text}`);
  // Typed, it is the same.
  await enter(page, "#data-0-doses", "30,5; 90,5");
  assert.equal(await said(page), moved);
  await slider.focus();
  await page.keyboard.press("PageDown");
  await page.keyboard.press("Shift+ArrowLeft");
  await page.keyboard.press("ArrowDown");
  assert.equal(await said(page), atFirst, "and back");
  await page.keyboard.press("Home");
  assert.deepEqual([await value(), await typed()], ["0.0", "0  60"]);
  await page.keyboard.press("ArrowLeft");
  assert.equal(await typed(), "0  60", "not beyond its beginning");
  await page.keyboard.press("End");
  assert.deepEqual([await typed(), await value()], ["59.9  119.9", await slider.getAttribute("aria-valuemax")]);
  // One dose alone goes as far as its neighbours let it.
  await page.selectOption("#data-0-moves", { label: "dose 2 alone" });
  await slider.focus();
  assert.equal(await slider.getAttribute("aria-label"), "comma-points.csv: dose 2 alone");
  await page.keyboard.press("Home");
  assert.equal(await typed(), "59.9  60");
  assert.match((await slider.getAttribute("aria-valuetext")) ?? "", /^At 60.0 s/);
  // Two buttons serve who neither drags nor has keys.
  await page.locator("#data-place").getByRole("button", { name: "0.5 s later" }).press("Enter");
  assert.equal(await typed(), "59.9  60.5");
});

test("capability 17: a drag moves the doses, all or the one whose number it begins at, and can be taken back", async (t) => {
  const { page } = await laid(t);
  const typed = () => page.inputValue("#data-0-doses");
  const slider = page.locator("#data-place [role=slider]");
  await slider.scrollIntoViewIfNeeded();
  const box = await slider.boundingBox();
  assert.ok(box && box.height >= 44 && box.width > 300);
  const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  const drag = async (/** @type {{x: number, y: number}} */ from, /** @type {number} */ by) => {
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(from.x + by / 2, from.y);
    await page.mouse.move(from.x + by, from.y + 3);
  };
  await drag(middle, 40);
  const [first, second] = (await typed()).split("  ").map(Number);
  assert.ok(first > 24 && first < 60 && Math.abs(second - first - 60) < 0.11, `${first} ${second}`);
  await page.keyboard.press("Escape");
  assert.equal(await typed(), "20  80", "Escape takes it back");
  await page.mouse.up();
  assert.equal(await typed(), "20  80");
  await drag(middle, 40);
  await slider.evaluate((own) =>
    own.dispatchEvent(new PointerEvent("pointercancel", { pointerId: 1, isPrimary: true, bubbles: true })),
  );
  assert.equal(await typed(), "20  80", "so does what breaks it off");
  await page.mouse.up();
  await drag(middle, 1);
  await page.mouse.up();
  assert.equal(await typed(), "20  80", "a press is no drag");
  await drag(middle, 40);
  await page.mouse.up();
  const moved = await typed();
  assert.equal(moved, [first, second].map((at) => (Number.isInteger(at) ? at : at.toFixed(1))).join("  "));
  const dragged = await said(page);
  await page.fill("#data-0-doses", "20 80");
  await enter(page, "#data-0-doses", moved);
  assert.equal(await said(page), dragged, "typed seconds do the same");
  // At the number of a dose.
  const sign = await page.locator("#data-place .recorded-plot text[font-weight='700']").last().boundingBox();
  assert.ok(sign);
  await drag({ x: sign.x + sign.width / 2, y: sign.y + sign.height / 2 }, -30);
  await page.mouse.up();
  const [still, drawn] = (await typed()).split("  ").map(Number);
  assert.ok(still === first && drawn < second - 3, `${still} ${drawn}`);
  assert.equal(await page.locator("#data-0-moves").inputValue(), "1");
  await screenshot(page, "our-data-dragged");
});

/**
 * The plot on a phone: what a finger does on it, from its middle, and the typed seconds of the doses after that.
 * @param {import("node:test").TestContext} t
 */
async function fingered(t) {
  const { page } = await laid(t, { screen: SCREENS.phone, context: { hasTouch: true, isMobile: true } });
  const slider = page.locator("#data-place [role=slider]");
  await slider.scrollIntoViewIfNeeded();
  const box = await slider.boundingBox();
  assert.ok(box);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const hand = await finger(page);
  await page.evaluate(() => {
    const counted = /** @type {any} */ (globalThis);
    counted.ended = 0;
    for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => counted.ended++, true);
  });
  const drag = async (/** @type {[number, number][]} */ steps) => {
    await hand.down(x, y);
    for (const [right, up] of steps) await hand.move(x + right, y - up);
    await hand.up();
    // The browser tells the page of a touch when it has time to.
    await soon(async () => assert.equal(await page.evaluate(() => /** @type {any} */ (globalThis).ended), 1));
    return page.inputValue("#data-0-doses");
  };
  return { page, drag };
}

test("a finger drags along the plot on a phone", async (t) => {
  const { page, drag } = await fingered(t);
  assert.notEqual(await drag([5, 12, 20, 30].map((right) => [right, 0])), "20  80");
  const small = await page
    .locator("#data-place .recording :is(button, select, summary, input:not([type=checkbox]))")
    .evaluateAll((all) =>
      all
        .filter((one) => one.getClientRects().length > 0 && one.getBoundingClientRect().height < 44)
        .map((one) => one.outerHTML),
    );
  assert.deepEqual(small, []);
  await screenshot(page, "our-data-phone", { fullPage: true });
});

test("a finger that goes down the page over the plot leaves all as it is", needs("panning"), async (t) => {
  const { drag } = await fingered(t);
  assert.equal(await drag([5, 15, 40, 90].map((up) => [0, up])), "20  80");
});

test("capability 16: recordings of several temperatures are fitted at once; one is left out, one put away", async (t) => {
  const { page } = await visit(t);
  await press(page, "Our data");
  const doses = [20, 300];
  const made = await Promise.all(
    [2, 21, 34].map(async (celsius) => file(`beaker-${celsius}.csv`, await recorded(celsius, doses, 560, 4))),
  );
  await open(page, made);
  // A file that cannot be read takes nothing with it.
  await open(page, `${files}refused-millivolts.csv`);
  await page.getByText(/that is no pH/).waitFor();
  assert.equal(await page.locator(".recording").count(), 4);
  await press(page, "Fit the recordings");
  assert.match(await page.locator("#data-place").innerText(), /A recording still lacks something/);
  for (const [slot, celsius] of [2, 21, 34].entries()) {
    await unfold(page, slot);
    await page.fill(`#data-${slot}-celsius`, String(celsius));
  }
  await page.locator("#data-curves-strength").uncheck();
  const begin = Date.now();
  await tabTo(page, "Fit the recordings", "button");
  const pressed = Date.now();
  await page.keyboard.press("Enter");
  await page.waitForSelector("#data-result-heading");
  t.diagnostic(
    `three recordings fitted and told: ${Date.now() - pressed} ms (the keyboard's way there ${pressed - begin} ms)`,
  );
  const estimates = page.locator("section[aria-labelledby=data-result-heading] table").first();
  const rows = await estimates.locator("tbody tr").allInnerTexts();
  const energy = rows.find((row) => row.includes("activation energy"))?.split("\t") ?? [];
  const [low, high] = (energy[2] ?? "").split(" to ").map(Number);
  assert.ok(low < 59 && high > 59 && high - low < 6, `the energy that went in is 59 kJ/mol: ${energy.join(" | ")}`);
  const lag = rows.find((row) => row.includes("lag"))?.split("\t") ?? [];
  assert.ok(Math.abs(Number(lag[1]) - 4) < 0.5, lag.join(" | "));
  const left = page
    .locator("section[aria-labelledby=data-result-heading]")
    .getByRole("region", { name: /How far each recording/ });
  assert.deepEqual(
    await left.locator("tbody tr td:first-child").allInnerTexts(),
    made.map(({ name }) => name),
  );
  assert.equal(await page.getByRole("img", { name: /beaker-34\.csv: Difference/ }).count(), 1, "a picture for each");
  assert.ok(await page.locator("#data-fitted").isChecked());
  await screenshot(page, "our-data-curves", { fullPage: true });
  assert.deepEqual(await barriers(page), []);
  // The cold and the warm one left out: nothing tells the energy any more.
  await page.locator("#data-0-counted").uncheck();
  await page.locator("#data-2-counted").uncheck();
  await press(page, "Fit the recordings");
  await page.getByText(/less than 5 °C apart/).waitFor();
  assert.deepEqual(await left.locator("tbody tr td:first-child").allInnerTexts(), ["beaker-21.csv"]);
  await page.getByRole("button", { name: "Remove beaker-2.csv" }).press("Enter");
  assert.equal(await page.locator(".recording").count(), 3);
  // The free slot is taken by the next one; what was typed for the others stays.
  await open(page, `${files}comma-points.csv`);
  assert.equal(await page.locator(".recording").last().locator("input[inputmode=decimal]").inputValue(), "");
  assert.equal(await page.inputValue("#data-2-celsius"), "34");
});

test("everything of the recordings goes on in another language", async (t) => {
  const { page, seen } = await laid(t);
  await open(page, `${files}three-probes.csv`);
  await page.locator(".recording details summary").last().click();
  await page.selectOption("#data-1-ph", { index: 2 });
  await page.fill("#data-1-celsius", "34");
  await page.fill("#data-lag", "5");
  await unfold(page, 0);
  await page.fill("#data-0-doses", "21,5 82");
  await page.locator("#data-0-counted").uncheck();
  const column = await page.inputValue("#data-1-ph");
  await page.selectOption("#language", "es");
  await page
    .getByText(/de media cuadrática/)
    .first()
    .waitFor();
  assert.deepEqual(
    [
      await page.inputValue("#data-0-doses"),
      await page.inputValue("#data-1-celsius"),
      await page.inputValue("#data-lag"),
      await page.locator("#data-0-counted").isChecked(),
      await page.inputValue("#data-1-ph"),
    ],
    ["21,5 82", "34", "5", false, column],
  );
  const slider = page.locator("#data-place [role=slider]").first();
  assert.match(
    (await slider.getAttribute("aria-valuetext")) ?? "",
    /^La primera en 21,5 s\. Calculado menos registrado: /,
  );
  // The one file of its words.
  assert.equal(seen.lateRequests.splice(0).length, 1);
  await screenshot(page, "our-data-spanish", { fullPage: true });
});

/** What a teacher may open by mistake, and what the page says of it. */
const REFUSED = /** @type {[string, RegExp, RegExp][]} */ ([
  ["refused-one-row.csv", /only one reading/, /^Solo hay una lectura/],
  ["refused-no-number.csv", /No row has a time and a pH/, /Ninguna fila/],
  ["refused-backwards.csv", /run backwards at line 3/, /hacia atrás en la línea 3/],
  ["refused-millivolts.csv", /goes from 246 to 1053: that is no pH/, /de 246 a 1053/],
  ["refused-empty.csv", /nothing in this file/, /No hay nada en este archivo/],
  ["refused-one-column.csv", /a single column/, /una sola columna/],
  ["refused-a-week.csv", /more than a day/, /más de un día/],
  ["refused-picture.csv", /No row has a time and a pH/, /Ninguna fila/],
]);
const READ = ["utf-16-little.csv", "utf-16-big.csv", "utf-16-unmarked.csv", "latin-1.csv", "byte-order-mark.csv"];

for (const [at, language] of ["en", "es"].entries())
  test(`a file that is no recording is refused in a plain sentence, and nothing is lost (${language})`, async (t) => {
    const { page } = await visit(t, { path: `/?lang=${language}` });
    await press(page, ["Our data", "Nuestros datos"][at]);
    await open(page, `${files}comma-points.csv`);
    await page.fill("#data-0-celsius", "21");
    await page.fill("#data-0-doses", "19 81");
    for (const [name, ...sentences] of REFUSED) {
      await page.setInputFiles("#data-file", `${files}${name}`);
      // A file that another choice may read is listed with its form; one in which there is nothing is not.
      const mended = name !== "refused-empty.csv";
      const trouble = mended
        ? page.locator(".recording", { hasText: name }).locator("[role=alert]")
        : page.locator("#data-place [role=alert]").filter({ hasText: `${name}: ` });
      await trouble.waitFor();
      assert.match(await trouble.innerText(), sentences[at], name);
      assert.deepEqual(
        [await page.inputValue("#data-0-celsius"), await page.inputValue("#data-0-doses")],
        ["21", "19 81"],
      );
      if (name === "refused-millivolts.csv") await screenshot(page, `our-data-refused-${language}`);
      if (mended) await page.getByRole("button", { name: new RegExp(`(Remove|Quitar) ${name}`) }).press("Enter");
      assert.equal(await page.locator(".recording").count(), 1, name);
    }
    // pH from 0 to 1400, as a probe that shows tenths of millivolts would have it; then all that is read whoever wrote it.
    const rows = Array.from({ length: 200 }, (_, row) => `${row},${row * 7}`).join("\n");
    await page.setInputFiles("#data-file", [file("tenths.csv", `s,pH\n${rows}`)]);
    const tenths = page.locator(".recording", { hasText: "tenths.csv" });
    await tenths.waitFor();
    assert.match(await tenths.locator("[role=alert]").innerText(), /0 (to|a) 1393/);
    await tenths.getByRole("button").last().press("Enter");
    await open(
      page,
      READ.map((name) => files + name),
    );
    assert.equal(await page.locator(".recording").count(), 1 + READ.length);
    for (const slot of READ.keys())
      assert.equal(await page.inputValue(`#data-${slot + 1}-doses`), "20  80", READ[slot]);
    // A wrong choice is answered at its recording, and can be taken back.
    await page
      .locator(".recording")
      .nth(1)
      .evaluate((box) => {
        for (const one of [box, ...box.querySelectorAll("details")]) one.setAttribute("open", "");
      });
    await page.selectOption("#data-1-delimiter", "semicolon");
    const own = page.locator(".recording").nth(1).locator("[role=alert]");
    assert.notEqual(await own.innerText(), "");
    await page.selectOption("#data-1-delimiter", "tab");
    assert.equal(await own.innerText(), "");
    await open(
      page,
      Array.from({ length: 7 }, (_, copy) => file(`copy-${copy}.csv`, "0,9\n1,8\n2,7")),
    );
    assert.equal(await page.locator(".recording").count(), 12);
    assert.match(
      await page.locator("#data-place [role=alert]").filter({ hasText: "copy-6.csv" }).innerText(),
      [/12 recordings are open/, /Hay 12 registros/][at],
    );
  });

test("a hundred thousand readings are opened, laid and moved", async (t) => {
  const { page } = await visit(t);
  await press(page, "Our data");
  const doses = [20, 3000, 6000];
  const text = await recorded(21, doses, 10_000, 0, 0.1);
  const many = file("hundred-thousand.csv", text);
  t.diagnostic(`${many.buffer.length} bytes`);
  const begin = Date.now();
  await open(page, [many]);
  t.diagnostic(`100,000 rows opened and drawn: ${Date.now() - begin} ms`);
  assert.match(await page.locator(".recording").innerText(), /100000 readings over 166.7 minutes/);
  assert.deepEqual((await page.inputValue("#data-0-doses")).split("  ").map(Number).map(Math.round), doses);
  let since = Date.now();
  await enter(page, "#data-0-celsius", "21");
  const told = await said(page);
  t.diagnostic(`laid beside the model: ${Date.now() - since} ms`);
  assert.match(told, /Compared at 11112 of the 100000 readings/);
  const slider = page.locator("#data-place [role=slider]");
  await slider.focus();
  since = Date.now();
  for (let presses = 0; presses < 4; presses++) await page.keyboard.press("ArrowRight");
  t.diagnostic(`moved by a key: ${(Date.now() - since) / 4} ms each`);
  await slider.scrollIntoViewIfNeeded();
  const box = await slider.boundingBox();
  assert.ok(box);
  await page.mouse.move(box.x + 400, box.y + 150);
  await page.mouse.down();
  since = Date.now();
  for (let by = 1; by <= 10; by++) await page.mouse.move(box.x + 400 + 4 * by, box.y + 150);
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  t.diagnostic(`dragged: ${(Date.now() - since) / 10} ms for each move of the hand`);
  await page.mouse.up();
  await screenshot(page, "our-data-many");
});

test("the recording and the model's curve are told apart in grey", async (t) => {
  const { page } = await laid(t);
  const lines = page.locator("#data-place .recorded-plot path.data");
  const looks = await lines.evaluateAll((all) =>
    all.map((line) => [line.getAttribute("stroke-dasharray"), line.getAttribute("stroke-linecap")].join()),
  );
  assert.equal(looks.length, 2);
  assert.notEqual(looks[0], looks[1]);
  await page.locator("#data-place .recorded-plot").scrollIntoViewIfNeeded();
  assert.ok((await colourfulness(page, page.locator("#data-place .recorded-plot"))) < 16);
});
