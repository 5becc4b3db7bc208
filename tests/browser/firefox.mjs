// A second engine: the system's Firefox, driven as Chromium is.

import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { firefox } from "playwright-core";

/** What Firefox cannot do for a test, and why. Each test that needs it names it (`needs` in harness.mjs). */
export const LACKING = {
  accessibilityTree: "what a screen reader is told is asked over Chromium's own protocol",
  clipboard: "Firefox lets no test grant the reading of the clipboard",
  contrast: "Firefox 140 cannot be told over WebDriver BiDi that more contrast is wished",
  forcedColours: "Firefox 140 cannot be told over WebDriver BiDi to force colours",
  greyscale: "the eye that sees no colours is Chromium's own protocol",
  language: "Firefox 140 cannot be told over WebDriver BiDi which language one of its pages speaks",
  killing: "a device whose browser is killed, stopped or made to crash is Chromium's",
  manifest: "how a browser reads what it may install is asked over Chromium's own protocol",
  noScripts: "Firefox cannot be told over WebDriver BiDi to run no scripts",
  paper: "how pages break on paper is checked in what Chromium prints",
  reducedMotion: "Firefox 140 cannot be told over WebDriver BiDi that less motion is wished",
  slowing: "a slow processor is Chromium's own protocol",
  touch: "Firefox cannot be told over WebDriver BiDi to be a phone",
  work: "how much a page works is told over Chromium's own protocol",
  workersRequests: "Firefox tells nobody over WebDriver BiDi what a page's worker asks for",
};

/** @type {string} where Firefox saves */
let downloads;

/** The system's Firefox, without a window and with a profile of its own. @returns {Promise<import("playwright-core").Browser>} */
export async function launchFirefox() {
  downloads = await mkdtemp(join(tmpdir(), "turnback-downloads-"));
  const browser = await firefox.launch({
    channel: "moz-firefox",
    executablePath: fileURLToPath(new URL("elderfox.mjs", import.meta.url)),
    firefoxUserPrefs: {
      // Nothing but the page: no look-ups of its maker's servers.
      "app.update.enabled": false,
      "browser.region.network.url": "",
      "network.captive-portal-service.enabled": false,
      "network.connectivity-service.enabled": false,
      // Firefox 140 tells nobody over WebDriver BiDi what it saves.
      "browser.download.folderList": 2,
      "browser.download.dir": downloads,
      "browser.download.useDownloadDir": true,
      "browser.download.always_ask_before_handling_new_types": false,
      // Its list of downloads would open and take the next key.
      "browser.download.alwaysOpenPanel": false,
    },
  });
  browser.on("disconnected", () => rm(downloads, { recursive: true, force: true }));
  return browser;
}

/** The file that Firefox saves next, once it is whole. @returns {Promise<{ name: string, bytes: Buffer }>} */
export async function savedByFirefox() {
  for (let tries = 0; tries < 6000; tries++) {
    const names = await readdir(downloads);
    const [name] = names;
    // While it is written there is a second file beside it.
    if (names.length === 1 && !name.endsWith(".part")) {
      const bytes = await readFile(join(downloads, name));
      if (bytes.length > 0) {
        await rm(join(downloads, name));
        return { name, bytes };
      }
    }
    await new Promise((done) => setTimeout(done, 20));
  }
  throw new Error("Firefox saved nothing");
}
