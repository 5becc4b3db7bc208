// What every browser test stands on: the page from the same server that
// `./build.sh serve` starts, in a fresh profile, with everything noted down
// that the page should not have done.

import { mkdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { after } from "node:test";
import { fileURLToPath } from "node:url";
import { bundle } from "../tools/bundle.mjs";
import { serve } from "../tools/serve.mjs";
import { BROWSER, launchChromium, PAGE_ROOT, SCREENS, slowProcessor } from "./chromium.mjs";
import { LACKING, launchFirefox, savedByFirefox, settingsFor } from "./firefox.mjs";
import { PATIENCE_MS, settled } from "./waits.mjs";
import { watch } from "./watch.mjs";

export { BROWSER, PAGE_ROOT, SCREENS, slowNetwork, slowProcessor } from "./chromium.mjs";
export { watch } from "./watch.mjs";

/** @typedef {import("playwright-core").Page} Page */
/** @typedef {import("playwright-core").Browser} Browser */

const HERE = fileURLToPath(new URL(".", import.meta.url));

const SCREENSHOTS = join(HERE, "../../target/screenshots");
const PRINTS = join(HERE, "../../target/prints");

/**
 * Options of a test that asks for what only Chromium has.
 * @param {keyof typeof LACKING} power
 */
export function needs(power) {
  return { skip: BROWSER === "firefox" ? LACKING[power] : false };
}

/**
 * So many times the page's processor is slowed, in Chromium: `TURNBACK_SLOWED=6 node tests/browser/run.mjs NAME` finds a test
 * that asks before the page can have answered, which else fails one time in a hundred, on a busy machine.
 */
const SLOWED = BROWSER === "chromium" ? Number(process.env.TURNBACK_SLOWED ?? 1) : 1;

/** @type {Promise<Browser> | undefined} */
let running;
/** @type {{ settings: string, running: Promise<Browser> } | undefined} a second Firefox, set to what was wished last */
let wished;
/** @type {Promise<{ origin: string, close: () => Promise<void> }> | undefined} */
let serverRunning;
/** @type {Promise<Page> | undefined} */
let workroomOpen;

/** Of brotli: a test waits for every file once, and none of them measures how small it can be made. */
export const SERVED_WITH = { effort: 4 };

/**
 * Joins the page's modules: one that was edited since the last build must not be tested as it was. A run of all files
 * (run.mjs) has done it once for all of them.
 * @param {string} root
 */
export async function joinedAnew(root) {
  if (!process.env.TURNBACK_JOINED) await bundle(root);
}

/** The origin of a server over `www/`, started at the first call and stopped after the file's last test. */
export async function origin() {
  serverRunning ??= joinedAnew(PAGE_ROOT).then(() => serve({ root: PAGE_ROOT, ...SERVED_WITH }));
  return (await serverRunning).origin;
}

/** The browser of this file's tests, with a profile of its own, started at the first call. @returns {Promise<Browser>} */
export function browser() {
  running ??= BROWSER === "firefox" ? launchFirefox() : launchChromium();
  return running;
}

/**
 * The browser for who has wishes: Firefox is started anew for other wishes, and the one before is then closed.
 * @param {import("playwright-core").BrowserContextOptions} wishes
 * @returns {Promise<Browser>}
 */
async function browserFor(wishes) {
  const settings = BROWSER === "firefox" ? settingsFor(wishes) : {};
  if (Object.keys(settings).length === 0) return browser();
  const written = JSON.stringify(settings);
  if (wished?.settings !== written) {
    await (await wished?.running)?.close();
    wished = { settings: written, running: launchFirefox(settings) };
  }
  return wished.running;
}

/**
 * An empty page, where a picture is decoded and measured: the tested page may load nothing more.
 * @param {Page} [front] the tested page, where it goes on afterwards: behind another it has no frames in Firefox
 * @returns {Promise<Page>}
 */
export async function workroom(front) {
  workroomOpen ??= browser().then((started) => started.newPage());
  const room = await workroomOpen;
  if (BROWSER === "firefox") await front?.bringToFront();
  return room;
}

after(async () => {
  await (await running)?.close();
  await (await wished?.running)?.close();
  await (await serverRunning)?.close();
});

/** @typedef {import("./watch.mjs").Seen} Seen */

/**
 * Open the page in a fresh profile. When the test ends, the page is closed,
 * and the test fails if there was a complaint or a request after loading.
 *
 * @param {import("node:test").TestContext} t
 * @param {object} [options]
 * @param {string} [options.path] path and fragment, "/" unless told
 * @param {{ width: number, height: number }} [options.screen] the laptop unless told
 * @param {import("playwright-core").BrowserContextOptions} [options.context] language, reduced motion, forced colours ...
 * @param {(page: Page) => Promise<unknown>} [options.beforeLoad] slow the machine, forbid storage ...
 * @param {RegExp[]} [options.expected] complaints that the test provokes on purpose
 * @param {boolean} [options.core] whether the test asks a core of its own, beside the page's: `/pkg/turnback.js` is then
 *   loaded and started, to be imported in the page
 * @param {boolean} [options.starts] false where the page can't start, and is only read
 * @returns {Promise<{ page: Page, seen: Seen, origin: string }>}
 */
export async function visit(t, options = {}) {
  const {
    path = "/",
    screen = SCREENS.laptop,
    context: contextOptions = {},
    beforeLoad,
    expected = [],
    core,
    starts = true,
  } = options;
  const here = await origin();
  const context = await (await browserFor(contextOptions)).newContext({ viewport: screen, ...contextOptions });
  context.setDefaultTimeout(PATIENCE_MS);
  const page = await context.newPage();
  const seen = watch(page, here);
  t.after(async () => {
    await context.close();
    const complaints = seen.complaints.filter((complaint) => !expected.some((pattern) => pattern.test(complaint)));
    if (complaints.length > 0) throw new Error(`the page complained:\n  ${complaints.join("\n  ")}`);
    if (seen.lateRequests.length > 0)
      throw new Error(`the page used the network after loading:\n  ${seen.lateRequests.join("\n  ")}`);
    const kept = (await keptFiles()).map((name) => `${here}/${name}`);
    const others = seen.workerRequests.filter((address) => !kept.includes(address));
    if (others.length > 0) throw new Error(`the worker fetched what it doesn't keep:\n  ${others.join("\n  ")}`);
  });
  if (SLOWED > 1) await slowProcessor(page, SLOWED);
  await beforeLoad?.(page);
  await (starts ? open(page, here + path) : page.goto(here + path, { waitUntil: "networkidle" }));
  if (core)
    await page.evaluate(async () => {
      const { default: start, startPart } = await import(/** @type {any} */ ("/pkg/turnback.js"));
      await start();
      await startPart(await fetch("/pkg/turnback_desk.wasm"));
    });
  seen.loaded();
  return { page, seen, origin: here };
}

/**
 * Looks at a page at each size of the screen in turn, and leaves it at the first: a walk to where the page stands takes
 * longer than any look at it.
 * @param {Page} page
 * @param {{ width: number, height: number }[]} screens
 * @param {(screen: { width: number, height: number }) => Promise<void>} look
 */
export async function atEach(page, screens, look) {
  const fitted = async (/** @type {{ width: number, height: number }} */ screen) => {
    await page.setViewportSize(screen);
    // The pictures follow their places in the frame after.
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  };
  for (const screen of screens) {
    await fitted(screen);
    await look(screen);
  }
  await fitted(screens[0]);
}

/** Goes to an address of the page, to the moment when everything stands. @param {Page} page @param {string} address */
export async function open(page, address) {
  await page.goto(address, { waitUntil: "load" });
  await settled(page);
}

/** Loads the page anew, to the moment when everything stands. @param {Page} page */
export async function reload(page) {
  await page.reload({ waitUntil: "load" });
  await settled(page);
}

/** @returns {Promise<string[]>} what the worker may fetch: itself, its list, and what stands in it */
export async function keptFiles() {
  const list = await readFile(join(PAGE_ROOT, "pkg/served.js"), "utf8");
  /** @type {import("../tools/served.mjs").Served} */
  const { files } = JSON.parse(list.slice(list.indexOf("{"), list.lastIndexOf("}") + 1));
  return ["sw.js", "pkg/served.js", ...files.map(([name]) => name.replace("./", ""))];
}

/**
 * What the page hands out to be saved.
 * @param {Page} page
 * @param {() => Promise<unknown>} press what makes it do so
 * @returns {Promise<{ name: string, bytes: Buffer }>}
 */
export async function saved(page, press) {
  if (BROWSER === "firefox") {
    await press();
    return savedByFirefox(page);
  }
  const [file] = await Promise.all([page.waitForEvent("download"), press()]);
  return { name: file.suggestedFilename(), bytes: await readFile(await file.path()) };
}

/**
 * Keep a picture of the page, to be looked at.
 * @param {Page} page
 * @param {string} name
 * @param {{ fullPage?: boolean }} [options]
 * @returns {Promise<string>} the file, under target/screenshots
 */
export async function screenshot(page, name, options = {}) {
  await mkdir(SCREENSHOTS, { recursive: true });
  const path = join(SCREENSHOTS, `${name}.png`);
  await page.screenshot({ path, ...options });
  return path;
}

/**
 * How much colour a part of the screen has: the largest difference between the
 * red, green and blue of one of its pixels, 0 (greys only) to 255.
 * @param {Page} page
 * @param {import("playwright-core").Locator} part
 * @returns {Promise<number>}
 */
export async function colourfulness(page, part) {
  const clip = await part.boundingBox();
  if (!clip) throw new Error("this part is not on the screen");
  const png = (await page.screenshot({ clip })).toString("base64");
  const decoder = await workroom(page);
  return decoder.evaluate(async (encoded) => {
    const image = await createImageBitmap(await (await fetch(`data:image/png;base64,${encoded}`)).blob());
    const context = /** @type {OffscreenCanvasRenderingContext2D} */ (
      new OffscreenCanvas(image.width, image.height).getContext("2d")
    );
    context.drawImage(image, 0, 0);
    const { data } = context.getImageData(0, 0, image.width, image.height);
    let largest = 0;
    for (let at = 0; at < data.length; at += 4) {
      const [red, green, blue] = data.subarray(at, at + 3);
      largest = Math.max(largest, Math.max(red, green, blue) - Math.min(red, green, blue));
    }
    return largest;
  }, png);
}

/**
 * Print the page.
 * @param {Page} page
 * @param {string} name
 * @param {"A4" | "Letter"} format
 * @returns {Promise<{ path: string, sheets: number }>} the file, under target/prints, and how many sheets it has
 */
export async function printed(page, name, format) {
  await mkdir(PRINTS, { recursive: true });
  const path = join(PRINTS, `${name}-${format}.pdf`);
  const pdf = await page.pdf({ path, format, printBackground: false });
  // Chromium writes one uncompressed page object for each sheet.
  const sheets = pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
  return { path, sheets };
}
