// Charts and their points as files.

import { chart } from "./chart.js";
import { drawing, element } from "./element.js";

/**
 * @typedef {import("./chart.js").Figure} Figure
 * @typedef {import("./i18n.js").Words} Words
 */

/** A chart in a file, px; as a picture it has so many dots per px, which prints sharply. */
const SIZE = { width: 960, height: 480 };
const DENSITY = 2;
const MARGIN = 24;
const WHITE = "#ffffff";

/**
 * A chart as a drawing that stands alone: black on white, with its title.
 * @param {Words} words
 * @param {Figure} figure
 */
function alone(words, figure) {
  const { root } = chart(words, figure, { ...SIZE, title: figure.title });
  const { width, height } = SIZE;
  const [wide, high] = [width + 2 * MARGIN, height + 2 * MARGIN];
  root.setAttribute("viewBox", `${-MARGIN} ${-MARGIN} ${wide} ${high}`);
  root.setAttribute("width", String(wide));
  root.setAttribute("height", String(high));
  root.prepend(drawing("rect", { x: -MARGIN, y: -MARGIN, width: wide, height: high, fill: WHITE }));
  return { svg: new XMLSerializer().serializeToString(root), wide, high };
}

/** @param {Words} words @param {Figure} figure @param {string} name */
export function saveSvg(words, figure, name) {
  save(new Blob([alone(words, figure).svg], { type: "image/svg+xml" }), name);
}

/** @param {Words} words @param {Figure} figure @param {string} name @throws where the browser makes no picture of it */
export async function savePng(words, figure, name) {
  const { svg, wide, high } = alone(words, figure);
  const image = new Image();
  image.src = `data:image/svg+xml,${encodeURIComponent(svg)}`;
  await image.decode();
  const canvas = element("canvas", { width: wide * DENSITY, height: high * DENSITY });
  canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
  const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
  if (!blob) throw new Error("the browser made no picture");
  save(blob, name);
}

/** @param {string} csv @param {string} name */
export function saveCsv(csv, name) {
  save(new Blob([csv], { type: "text/csv;charset=utf-8" }), name);
}

/** @param {Blob} blob @param {string} name */
function save(blob, name) {
  const address = URL.createObjectURL(blob);
  element("a", { href: address, download: name }).click();
  // The download has its own hold on the file as soon as it has begun.
  window.setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
