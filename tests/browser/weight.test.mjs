// The page stays light enough for a school's line.

import assert from "node:assert/strict";
import { test } from "node:test";
import { DESK, sums, weights } from "./weights.mjs";

/**
 * The goal, bytes, with brotli: what must have come before a lesson can begin, and the compiled core's share of it. The whole
 * page had the same goal before the desk came after the bench.
 */
const GOAL = { bench: 250_000, core: 150_000 };
/**
 * What holds meanwhile, bytes: little more than the page weighs today, so that nothing grows unseen: what the bench waits for,
 * its core, and all that is ever loaded. Lower these as the page loses weight; never raise them for less than a whole new
 * place of the page. The same core weighs up to 200 bytes more or less in another folder: its functions stand in another order.
 */
const LIMITS = {
  gzip: { bench: 274_300, core: 182_200, all: 403_700 },
  brotli: { bench: 229_900, core: 149_000, all: 339_700 },
};
/** A page below this cannot be the whole page, bytes. */
const LEAST = 10_000;

test("neither the bench nor the whole page grows heavier, compressed with gzip or brotli", async (t) => {
  const files = await weights();
  for (const { name, plain, gzip, brotli } of files)
    t.diagnostic(`${DESK.test(name) ? "desk" : "bench"}: ${name}: ${plain} bytes, gzip ${gzip}, brotli ${brotli}`);
  for (const way of /** @type {const} */ (["gzip", "brotli"])) {
    const weighed = sums(files, way);
    t.diagnostic(
      `${way}: bench ${weighed.bench} bytes (goal ${GOAL.bench}), its core ${weighed.core} (goal ${GOAL.core})`,
    );
    t.diagnostic(`${way}: ${weighed.all} bytes in all`);
    for (const part of /** @type {const} */ (["bench", "core", "all"])) {
      assert.ok(weighed[part] > LEAST, `${part}: ${weighed[part]} bytes: the page is not complete`);
      assert.ok(
        weighed[part] <= LIMITS[way][part],
        `${way}: ${part} has ${weighed[part]} bytes, more than ${LIMITS[way][part]}`,
      );
    }
  }
});
