// A second engine: the system's Firefox, driven as Chromium is.

import { mkdtemp, readdir, readFile, readlink, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { firefox } from "playwright-core";
import { SCREENS } from "./chromium.mjs";

/** What Firefox cannot do for a test, and why. Each test that needs it names it (`needs` in harness.mjs). */
export const LACKING = {
  accessibilityTree: "what a screen reader is told is asked over Chromium's own protocol",
  manifest: "how a browser reads what it may install is asked over Chromium's own protocol",
  panning: "a finger of Firefox's over WebDriver BiDi moves no page",
  paper: "how pages break on paper is checked in what Chromium prints",
  slowing: "a slow processor is Chromium's own protocol",
  work: "how much a page works is told over Chromium's own protocol",
  workersRequests: "Firefox tells nobody over WebDriver BiDi what a page's worker asks for",
};

/** The system's Firefox, in the driver's words. */
const ELDERFOX = {
  channel: "moz-firefox",
  executablePath: fileURLToPath(new URL("elderfox.mjs", import.meta.url)),
};
/** Nothing but the page: no look-ups of its maker's servers. */
const ALONE = {
  "app.update.enabled": false,
  "browser.region.network.url": "",
  "network.captive-portal-service.enabled": false,
  "network.connectivity-service.enabled": false,
};

/**
 * Its own colours in place of the page's. A machine that forces colours has a pair that stands out for what is chosen; Firefox
 * without a window takes white on a light blue (2.9:1). This is the pair of Windows' "High Contrast White" (from memory).
 */
const FORCED = {
  "browser.display.document_color_use": 2,
  "ui.highlight": "#37006e",
  "ui.highlighttext": "#ffffff",
};

/** @typedef {Record<string, string | number | boolean>} Settings Firefox's own, by name */

/** @type {WeakMap<import("playwright-core").Browser, string>} where a Firefox saves */
const downloads = new WeakMap();

/**
 * What Firefox must be set to where a person or a machine has wishes, since it cannot be told over WebDriver BiDi: unlike what
 * the driver is told, it holds for a whole browser.
 * @param {import("playwright-core").BrowserContextOptions} wishes
 * @returns {Settings}
 */
export function settingsFor({ locale, reducedMotion, forcedColors, contrast, hasTouch, javaScriptEnabled }) {
  return {
    ...(javaScriptEnabled === false && { "javascript.enabled": false }),
    ...(locale && { "intl.accept_languages": locale }),
    ...(reducedMotion === "reduce" && { "ui.prefersReducedMotion": 1 }),
    ...(forcedColors === "active" && FORCED),
    ...(contrast === "more" && { "ui.useAccessibilityTheme": 1 }),
    ...(hasTouch && { "ui.primaryPointerCapabilities": 1, "ui.allPointerCapabilities": 1 }),
  };
}

/**
 * The system's Firefox, without a window and with a profile of its own.
 * @param {Settings} [settings]
 * @returns {Promise<import("playwright-core").Browser>}
 */
export async function launchFirefox(settings = {}) {
  const saved = await mkdtemp(join(tmpdir(), "turnback-downloads-"));
  const browser = await firefox.launch({
    ...ELDERFOX,
    firefoxUserPrefs: {
      ...ALONE,
      // Firefox 140 tells nobody over WebDriver BiDi what it saves.
      "browser.download.folderList": 2,
      "browser.download.dir": saved,
      "browser.download.useDownloadDir": true,
      "browser.download.always_ask_before_handling_new_types": false,
      // Its list of downloads would open and take the next key.
      "browser.download.alwaysOpenPanel": false,
      // A test may read the clipboard.
      "dom.events.testing.asyncClipboard": true,
      ...settings,
    },
  });
  downloads.set(browser, saved);
  browser.on("disconnected", () => rm(saved, { recursive: true, force: true }));
  return browser;
}

/**
 * A Firefox that keeps its profile, as a device does, and can be killed as by the loss of power.
 * @param {string} profile a directory
 * @returns {ReturnType<typeof import("./chromium.mjs").launchDevice>}
 */
export async function launchFoxDevice(profile) {
  const context = await firefox.launchPersistentContext(profile, {
    ...ELDERFOX,
    firefoxUserPrefs: ALONE,
    viewport: SCREENS.laptop,
  });
  const gone = new Promise((done) => context.once("close", done));
  // Firefox locks its profile with its process; the driver has given it a group of its own.
  const [, running] = (await readlink(join(profile, "lock"))).split("+");
  const [, group] = /\) \S \d+ (\d+) /.exec(await readFile(`/proc/${running}/stat`, "utf8")) ?? [];
  const signal = (/** @type {NodeJS.Signals} */ sent) => {
    process.kill(-Number(group), sent);
  };
  return {
    page: context.pages()[0],
    signal,
    kill: async () => {
      signal("SIGKILL");
      await gone;
    },
  };
}

/**
 * The file that a page's Firefox saves next, once it is whole.
 * @param {import("playwright-core").Page} page
 * @returns {Promise<{ name: string, bytes: Buffer }>}
 */
export async function savedByFirefox(page) {
  const browser = /** @type {import("playwright-core").Browser} */ (page.context().browser());
  const saved = /** @type {string} */ (downloads.get(browser));
  for (let tries = 0; tries < 6000; tries++) {
    const names = await readdir(saved);
    const [name] = names;
    // While it is written there is a second file beside it.
    if (names.length === 1 && !name.endsWith(".part")) {
      const bytes = await readFile(join(saved, name));
      if (bytes.length > 0) {
        await rm(join(saved, name));
        return { name, bytes };
      }
    }
    await new Promise((done) => setTimeout(done, 20));
  }
  throw new Error("Firefox saved nothing");
}
