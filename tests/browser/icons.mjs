// Draws the PNG icons anew from www/icon.svg, for systems that take no SVG:
//
//   node tests/browser/icons.mjs

import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { launchChromium, PAGE_ROOT } from "./chromium.mjs";

const drawing = await readFile(join(PAGE_ROOT, "icon.svg"), "utf8");
const browser = await launchChromium();
for (const size of [192, 512]) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(`<style>body { margin: 0 } svg { display: block }</style>${drawing}`);
  await page.screenshot({ path: join(PAGE_ROOT, `icon-${size}.png`) });
}
await browser.close();
