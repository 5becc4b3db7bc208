// What comes out of the printer: the page as PDF through the browser, its text page by page, and its pages as grey pictures.

import assert from "node:assert/strict";
import { execFile } from "node:child_process";
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { printed } from "./harness.mjs";

/** @typedef {import("./harness.mjs").Page} Page */

const run = promisify(execFile);
/** Fine enough to see a letter at the edge, coarse enough to be quick. */
const DOTS_PER_INCH = 50;

/**
 * One printed page.
 * @typedef {object} Printed
 * @property {string} text what stands on it, from top to bottom
 * @property {number} width px @property {number} height px
 * @property {Uint8Array} grey one byte for each pixel, 0 is black
 */

/**
 * Print what the page shows, and look at the paper.
 * @param {Page} page
 * @param {string} name
 * @param {"A4" | "Letter"} format
 * @returns {Promise<Printed[]>}
 */
export async function onPaper(page, name, format) {
  const { path, sheets } = await printed(page, name, format);
  const { stdout } = await run("pdftotext", ["-layout", path, "-"], { maxBuffer: 1e8 });
  // A form feed ends each page.
  const texts = stdout.split("\f").slice(0, -1);
  const directory = await mkdtemp(join(tmpdir(), "paper-"));
  try {
    await run("pdftoppm", ["-gray", "-r", String(DOTS_PER_INCH), path, join(directory, "page")]);
    const files = (await readdir(directory)).sort();
    assert.equal(files.length, sheets, "as many pictures as pages");
    assert.equal(texts.length, sheets, "as many texts as pages");
    return await Promise.all(
      files.map(async (file, index) => ({ text: texts[index], ...picture(await readFile(join(directory, file))) })),
    );
  } finally {
    await rm(directory, { recursive: true });
  }
}

/** A portable greymap, as pdftoppm writes it: "P5 width height 255" and the pixels. @param {Buffer} file */
function picture(file) {
  const [, width, height] = /^P5\s(\d+)\s(\d+)\s255\s/.exec(file.subarray(0, 40).toString("latin1")) ?? [];
  assert.ok(width && height, "a grey picture");
  const grey = file.subarray(file.length - Number(width) * Number(height));
  return { width: Number(width), height: Number(height), grey };
}

/**
 * How far the ink stays from the edges of a page, mm: left, right, top, bottom.
 * @param {Printed} page
 */
export function margins({ width, height, grey }) {
  const edges = { left: width, right: width, top: height, bottom: height };
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if (grey[y * width + x] < 200) {
        edges.left = Math.min(edges.left, x);
        edges.right = Math.min(edges.right, width - 1 - x);
        edges.top = Math.min(edges.top, y);
        edges.bottom = Math.min(edges.bottom, height - 1 - y);
      }
  return Object.fromEntries(Object.entries(edges).map(([edge, dots]) => [edge, (dots * 25.4) / DOTS_PER_INCH]));
}

/** The darkest grey of a page: black ink comes out dark even at a coarse look. @param {Printed} page */
export function darkest({ grey }) {
  return grey.reduce((least, value) => Math.min(least, value), 255);
}
