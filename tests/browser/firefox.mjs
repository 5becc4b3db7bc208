// A second engine: the system's Firefox, over WebDriver BiDi.

import puppeteer from "puppeteer-core";
import { origin, SCREENS } from "./harness.mjs";

/**
 * Start Firefox with an empty page. When the test ends, the browser is closed,
 * and the test fails if there was an error in the console.
 *
 * @param {import("node:test").TestContext} t
 * @returns {Promise<import("puppeteer-core").Page>}
 */
export async function launchFirefox(t) {
  const browser = await puppeteer.launch({
    browser: "firefox",
    executablePath: "/usr/bin/firefox-esr",
    headless: true,
    defaultViewport: SCREENS.laptop,
    extraPrefsFirefox: {
      // Nothing but the page: no look-ups of its maker's servers.
      "app.update.enabled": false,
      "browser.region.network.url": "",
      "network.captive-portal-service.enabled": false,
      "network.connectivity-service.enabled": false,
    },
  });
  /** @type {string[]} */
  const complaints = [];
  t.after(async () => {
    await browser.close();
    if (complaints.length > 0) throw new Error(`the page complained in Firefox:\n  ${complaints.join("\n  ")}`);
  });
  const page = await browser.newPage();
  page.on("console", (message) => {
    if (message.type() === "error") complaints.push(`console error: ${message.text()}`);
  });
  page.on("pageerror", (error) => complaints.push(`exception: ${error instanceof Error ? error.stack : error}`));
  return page;
}

/**
 * Open the page in Firefox, as `launchFirefox` starts it.
 *
 * @param {import("node:test").TestContext} t
 * @param {{ path?: string }} [options]
 * @returns {Promise<import("puppeteer-core").Page>}
 */
export async function visitFirefox(t, { path = "/" } = {}) {
  const page = await launchFirefox(t);
  await page.goto((await origin()) + path, { waitUntil: "load" });
  return page;
}
