// About the model: every number that the core names has its words, and nothing is told twice.

import assert from "node:assert/strict";
import { test } from "node:test";
import { barriers } from "./axe.mjs";
import { press } from "./hands.mjs";
import { screenshot, visit } from "./harness.mjs";

test("the model is told with its equations, numbers, sources and gaps", async (t) => {
  const { page } = await visit(t);
  await press(page, "About");
  const place = page.locator("#about-place");
  await screenshot(page, "about-1", { fullPage: true });
  for (const summary of await place.locator("summary").all()) await summary.click();
  const text = await place.innerText();
  // A key without a sentence shows by its name.
  assert.doesNotMatch(text, /\b(about|constant|standing)\.\w/);
  const rows = await place
    .locator("details tbody tr")
    .evaluateAll((found) => found.map((row) => [...row.children].map((cell) => cell.textContent ?? "")));
  assert.ok(rows.length > 70, `${rows.length} numbers`);
  for (const [name, value, known] of rows) {
    assert.ok(name.trim(), "each has a name");
    assert.match(value, /^−?\d/, `${name}: ${value}`);
    assert.ok(known, `${name}: how it is known`);
  }
  /** @param {string} name @returns {string} */
  const written = (name) => rows.find(([own]) => own === name)?.[1].replaceAll("\u00a0", " ") ?? "";
  // CODATA 2018; Palandri & Kharaka 2004, table 32; the bottle's default.
  assert.equal(written("Gas constant"), "8.31446 J/(mol K)");
  assert.equal(written("Activation energy of the acid branch"), "59000 J/mol");
  assert.equal(written("Acid factor of the bottle"), "6");
  assert.equal(written("Diffusion of H⁺"), "9.311 × 10⁻⁹ m²/s");
  const invented = await place.locator("table").first().innerText();
  for (const name of ["Acid factor of the bottle", "Carbonate in the solid", "New solid from clear liquid"])
    assert.ok(invented.includes(name), `${name} is said to be no measurement`);
  assert.ok(!invented.includes("Gas constant"));
  assert.deepEqual(await barriers(page), []);
});
