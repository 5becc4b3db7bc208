// What was drawn, read from a picture of the screen: contrasts as an eye meets them, not as a stylesheet promises them.

import { workroom } from "./harness.mjs";

/** @typedef {import("playwright-core").Page} Page */
/** @typedef {{ words: string, x: number, y: number, width: number, height: number }} Piece a piece of text and where it stands */

/**
 * The pieces of text that can be read on the screen now, but for those of switched-off controls.
 * @param {Page} page
 * @returns {Promise<Piece[]>}
 */
export function pieces(page) {
  return page.evaluate(() => {
    /** @type {{ words: string, x: number, y: number, width: number, height: number }[]} */
    const found = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const parent = node.parentElement;
      const words = node.textContent?.trim() ?? "";
      if (!parent || !words || !parent.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
      if (parent.closest(".unseen, [aria-disabled=true], option, noscript, .skip")) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      for (const { x, y, width, height } of range.getClientRects()) {
        const [middleX, middleY] = [x + width / 2, y + height / 2];
        if (width < 4 || height < 6 || x < 0 || y < 0 || x + width > innerWidth || y + height > innerHeight) continue;
        // What is scrolled away or lies under something else can't be read.
        const top = document.elementFromPoint(middleX, middleY);
        if (!top || !(parent.contains(top) || top.contains(parent) || parent.closest("label")?.contains(top))) continue;
        found.push({ words: words.slice(0, 40), x, y, width, height });
      }
    }
    return found;
  });
}

/**
 * The contrast of each piece of the screen: of its commonest colour against that one of its colours which differs most
 * from it (WCAG 2.2, "contrast ratio", W3C 2023).
 * @param {Page} page
 * @param {Piece[]} parts
 * @returns {Promise<{ words: string, ratio: number }[]>}
 */
export async function contrasts(page, parts) {
  const png = (await page.screenshot({ animations: "disabled" })).toString("base64");
  const decoder = await workroom(page);
  return decoder.evaluate(
    async ({ encoded, places }) => {
      const image = await createImageBitmap(await (await fetch(`data:image/png;base64,${encoded}`)).blob());
      const context = /** @type {OffscreenCanvasRenderingContext2D} */ (
        new OffscreenCanvas(image.width, image.height).getContext("2d", { willReadFrequently: true })
      );
      context.drawImage(image, 0, 0);
      const linear = (/** @type {number} */ part) =>
        part <= 0.04045 * 255 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4;
      const luminance = (/** @type {number} */ rgb) =>
        0.2126 * linear(rgb >> 16) + 0.7152 * linear((rgb >> 8) & 255) + 0.0722 * linear(rgb & 255);
      return places.map(({ words, x, y, width, height }) => {
        const { data } = context.getImageData(x, y, Math.ceil(width), Math.ceil(height));
        /** @type {Map<number, number>} */
        const counts = new Map();
        for (let at = 0; at < data.length; at += 4) {
          const rgb = (data[at] << 16) | (data[at + 1] << 8) | data[at + 2];
          counts.set(rgb, (counts.get(rgb) ?? 0) + 1);
        }
        const [ground] = [...counts].sort((one, other) => other[1] - one[1])[0];
        const base = luminance(ground) + 0.05;
        const ratios = [...counts.keys()].map((rgb) => {
          const ink = luminance(rgb) + 0.05;
          return Math.max(ink, base) / Math.min(ink, base);
        });
        return { words, ratio: Math.max(...ratios) };
      });
    },
    { encoded: png, places: parts },
  );
}

/**
 * How much of a part of the screen differs between two pictures of it by a contrast of 3:1 or more.
 * @param {Page} page
 * @param {Buffer} one PNG
 * @param {Buffer} other PNG of the same size
 * @returns {Promise<number>} pixels
 */
export async function changed(page, one, other) {
  const decoder = await workroom(page);
  return decoder.evaluate(
    async (pictures) => {
      const [first, second] = await Promise.all(
        pictures.map(async (encoded) => {
          const image = await createImageBitmap(await (await fetch(`data:image/png;base64,${encoded}`)).blob());
          const context = /** @type {OffscreenCanvasRenderingContext2D} */ (
            new OffscreenCanvas(image.width, image.height).getContext("2d")
          );
          context.drawImage(image, 0, 0);
          return context.getImageData(0, 0, image.width, image.height).data;
        }),
      );
      const linear = (/** @type {number} */ part) =>
        part <= 0.04045 * 255 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4;
      let different = 0;
      for (let at = 0; at < first.length; at += 4) {
        const [a, b] = [first, second].map(
          (data) => 0.2126 * linear(data[at]) + 0.7152 * linear(data[at + 1]) + 0.0722 * linear(data[at + 2]) + 0.05,
        );
        if (Math.max(a, b) / Math.min(a, b) >= 3) different++;
      }
      return different;
    },
    [one.toString("base64"), other.toString("base64")],
  );
}
