// One beaker on the bench: its name, its picture, and the same in words.

import { BANDS, letterScale } from "./chip.js";
import { element } from "./element.js";
import { FlashGuard } from "./flash.js";
import { anyDigits, longest, Plate, write } from "./plate.js";

/**
 * @typedef {import("./engine.js").Engine} Engine
 * @typedef {import("./lesson-shapes.js").Label} Label
 * @typedef {import("./i18n.js").Words} Words
 */

/** More pixels than this cost time on a slow machine and are not seen from the third row. */
const MOST_PIXELS = 150_000;
/** Screens with more than this many dots per pixel are painted as if they had this many. */
const MOST_DENSITY = 2;
/** The side of a picture that nobody sees. */
const WARM_UP_PIXELS = 32;
/** Less ice than this, g, is not worth a word. */
const LEAST_ICE_G = 0.05;
/** A dose's rest lasts for hundreds of seconds. */
const SECONDS_DIGITS = 3;
/** All that is said of how clear a liquid is, and of what a torch shows in it. */
const CLEARNESS = ["clarity.clear", "clarity.hazy", "clarity.cloudy", "clarity.milky"];
const TORCH = ["torch.nothing", "torch.beam", "torch.glow"];

/** A picture of one beaker with its text twin. */
export class Beaker {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {number} index
   * @param {string} name how sentences call it
   */
  constructor(engine, words, index, name) {
    this.engine = engine;
    this.words = words;
    this.index = index;
    this.name = name;
    this.guard = new FlashGuard();
    /** What the picture shows: a time, s, and how often something had been done. */
    this.painted = { time: Number.NaN, actions: 0 };
    /** The same of the pixels that were computed last, and whether these still wait to be shown. */
    this.computed = { time: Number.NaN, actions: 0 };
    this.isReady = false;
    /** Whether the first picture is on its way. */
    this.isAwaited = false;
    this.paintedAt = -Infinity;
    this.share = 1;
    /** The size that the page's layout gives the picture, CSS pixels. */
    this.box = { width: 0, height: 0 };
    /** The pixels that the next picture is to have. */
    this.size = { width: 1, height: 1 };
    /** The picture's pixels, kept from frame to frame: making them anew takes as long as painting them. */
    this.pixels = new ImageData(1, 1);

    this.canvas = element("canvas", { role: "img", width: 1, height: 1 });
    this.context = /** @type {CanvasRenderingContext2D} */ (this.canvas.getContext("2d", { alpha: false }));
    this.celsius = element("span", { class: "large" });
    this.surroundings = element("span", { class: "quiet" });
    this.colourWord = element("strong", { class: "large colour-word" });
    this.scale = letterScale();
    this.detail = element("span", { class: "detail" });
    this.when = element("span", { class: "detail" });
    this.title = new Plate("figcaption", { class: "beaker-name" }, this.celsius, " ", this.surroundings);
    this.colour = new Plate("span", { class: "colour" }, this.colourWord);
    this.details = new Plate("span", { class: "details" }, this.detail, this.when);
    this.glass = element("div", { class: "glass" }, this.canvas);
    this.root = element(
      "figure",
      { class: "beaker" },
      this.title.root,
      this.glass,
      element("p", { class: "beaker-words" }, this.colour.root, this.scale, this.details.root),
    );
    this.colour.hold(longest([...colours(words), words.t("beaker.covered")]));
    this.keptFor = "";
    // The picture follows the size that the page's layout gives it, in whole pixels.
    new ResizeObserver(([{ contentRect }]) => {
      this.box = contentRect;
      if (this.resize()) this.glass.dispatchEvent(new CustomEvent("resized", { bubbles: true }));
    }).observe(this.glass);
  }

  /** Lets the next picture have the pixels of its place. @returns {boolean} whether they are others */
  resize() {
    const density = Math.min(window.devicePixelRatio || 1, MOST_DENSITY);
    const { box } = this;
    const pixels = Math.max(1, box.width * box.height * density * density);
    const shrink = Math.sqrt(Math.min(1, MOST_PIXELS / pixels) * this.share);
    const width = Math.max(1, Math.round(box.width * density * shrink));
    const height = Math.max(1, Math.round(box.height * density * shrink));
    if (width === this.size.width && height === this.size.height) return false;
    this.size = { width, height };
    this.painted.time = Number.NaN;
    this.isReady = false;
    return true;
  }

  /** Paints with this share of the pixels from now on. @param {number} share */
  setShare(share) {
    this.share = share;
    this.resize();
  }

  /**
   * Whether the picture of a time is there already.
   * @param {number} time s
   * @param {number} actions how often something was done that the picture depends on
   * @returns {boolean}
   */
  shows(time, actions) {
    const { size, painted } = this;
    return (painted.time === time && painted.actions === actions) || size.width < 8 || size.height < 8;
  }

  /** Paints a picture that nobody sees, so that all that paints is compiled before one is wanted. @param {number} time s */
  warmUp(time) {
    this.engine.paint(this.index, time, new ImageData(WARM_UP_PIXELS, WARM_UP_PIXELS), true);
  }

  /**
   * Computes the picture of a time; nobody sees it yet.
   * @param {number} time s
   * @param {number} actions
   * @param {boolean} reducedMotion
   */
  compute(time, actions, reducedMotion) {
    const { width, height } = this.size;
    if (this.pixels.width !== width || this.pixels.height !== height) this.pixels = new ImageData(width, height);
    this.engine.paint(this.index, time, this.pixels, reducedMotion);
    this.computed = { time, actions };
    this.isReady = true;
  }

  /** Shows the picture that was computed last, unless that would be one flash too many. */
  show() {
    this.isReady = false;
    const { width, height, data } = this.pixels;
    const middle = 4 * (Math.floor(0.7 * height) * width + Math.floor(0.4 * width));
    if (!this.guard.allows(data[middle], data[middle + 1], data[middle + 2], performance.now())) return;
    // Only with its new picture: other pixels blank a canvas, and a slow machine would show it black for a while.
    if (this.canvas.width !== width || this.canvas.height !== height) Object.assign(this.canvas, { width, height });
    this.context.putImageData(this.pixels, 0, 0);
    this.painted = this.computed;
    this.paintedAt = performance.now();
  }

  /**
   * Paints the beaker as it is at a time.
   * @param {number} time s
   * @param {number} actions
   * @param {boolean} reducedMotion
   */
  paint(time, actions, reducedMotion) {
    this.compute(time, actions, reducedMotion);
    this.show();
  }

  /**
   * Says what the beaker shows.
   * @param {Label} label
   * @param {string} when "72 s after dose 2"
   * @param {import("./lesson-shapes.js").WhatIfKey[]} changes what is changed in it on the free bench
   * @param {{celsius: boolean, ph: boolean}} shows what the level shows
   */
  tell(label, when, changes, shows) {
    const { t, number } = bound(this.words);
    const colour = shownColour(this.words, label);
    const changed = changes.map((key) => t(`whatIf.${key}`));
    if (label.stirRpm === 0) changed.push(t("beaker.stirrerOff"));
    this.call(label, changed, shows.celsius);
    this.keepRoom(label, shows.ph, when);
    write(this.colourWord, colour);
    this.markLetter(label.dyed ? label.band : "");
    const sight = label.torch ? t(`torch.${label.torch}`) : t(`clarity.${label.clarity}`);
    const parts = [sight];
    if (shows.ph) parts.push(t("beaker.ph", { ph: number(label.ph, 1) }));
    if (label.iceG > LEAST_ICE_G) parts.push(t("beaker.ice", { grams: number(label.iceG, 0) }));
    write(this.detail, parts.join(" \u00b7 "));
    write(this.when, when);
    // The label changes with the words only, so that a screen reader is not told the same again and again.
    this.describe(t("beaker.picture", { name: this.name, colour, clarity: sight }));
  }

  /**
   * Says that the beaker stands behind the card, and what was there before.
   * @param {Label} before
   * @param {{celsius: boolean, ph: boolean}} shows what the level shows
   */
  tellCovered(before, shows) {
    const { t } = bound(this.words);
    this.call(before, [], shows.celsius);
    this.keepRoom(before, shows.ph, this.words.t("when.acid", { seconds: 0, number: 1 }));
    write(this.colourWord, t("beaker.covered"));
    this.markLetter("");
    write(
      this.detail,
      t("beaker.before", {
        colour: shownColour(this.words, before),
        clarity: t(`clarity.${before.clarity}`),
      }),
    );
    write(this.when, "");
    this.describe(t("beaker.pictureCovered", { name: this.name }));
  }

  /**
   * Calls the beaker by its temperature, or by its name, and says what it stands in.
   * @param {Label} label @param {string[]} changed @param {boolean} inCelsius
   */
  call(label, changed, inCelsius) {
    const { t, number } = bound(this.words);
    const name = inCelsius ? t("unit.celsius", { value: number(label.celsius, 1) }) : this.name;
    const bath = inCelsius ? bathWord(this.words, label) : t(`bath.${label.bathKind}`);
    const surroundings = [bath, ...changed].join(" \u00b7 ");
    write(this.celsius, name);
    write(this.surroundings, surroundings);
    this.title.hold(anyDigits(name), ` ${surroundings}`);
  }

  /**
   * Keeps room for the longest that may be said of a liquid in this light.
   * @param {Label} label @param {boolean} withPh @param {string} when
   */
  keepRoom({ torch, iceG }, withPh, when) {
    const hasIce = iceG > LEAST_ICE_G;
    // The seconds come first and grow; a dose's number stays as long as it is.
    const timed = anyDigits(when).replace(/0+/, (digits) => digits.padStart(SECONDS_DIGITS, "0"));
    const wanted = `${Boolean(torch)} ${withPh} ${hasIce} ${timed}`;
    if (wanted === this.keptFor) return;
    this.keptFor = wanted;
    const { t } = bound(this.words);
    const clearness = CLEARNESS.map((key) => t(key));
    const sight = longest(torch ? TORCH.map((key) => t(key)) : clearness);
    const parts = [sight];
    if (withPh) parts.push(t("beaker.ph", { ph: "00.0" }));
    if (hasIce) parts.push(t("beaker.ice", { grams: "000" }));
    const running = parts.join(" \u00b7 ");
    const covered = t("beaker.before", { colour: longest(colours(this.words)), clarity: longest(clearness) });
    if (covered.length > running.length + timed.length) this.details.hold(covered);
    else this.details.hold(running, timed);
  }

  /** Says what the picture shows. @param {string} label */
  describe(label) {
    if (this.canvas.getAttribute("aria-label") !== label) this.canvas.setAttribute("aria-label", label);
  }

  /** @param {string} band */
  markLetter(band) {
    for (const letter of this.scale.children)
      letter.classList.toggle("here", letter.getAttribute("data-band") === band);
  }
}

/**
 * How sentences call a beaker: by its temperature, or by its place where two have the same; without a number where the level
 * shows none.
 * @param {Words} words
 * @param {import("./lesson-shapes.js").BeakerSetup[]} beakers
 * @param {number} index from 0
 * @returns {string}
 */
export function beakerName(words, beakers, index) {
  const { celsius, name } = beakers[index];
  if (name) return words.t(`beaker.name.${name}`, { place: index + 1 });
  const shared = beakers.filter((other) => other.celsius === celsius).length > 1;
  const value = words.number(celsius, Number.isInteger(celsius) ? 0 : 1);
  return words.t(shared ? "beaker.nameByPlace" : "beaker.nameByCelsius", { value, place: index + 1 });
}

/** A bath colder or warmer than this, °C, is called so; between them it is a water bath. */
const COLD_BATH_C = 10;
const WARM_BATH_C = 28;

/**
 * What a beaker stands in or on.
 * @param {Words} words
 * @param {Label} label
 * @returns {string}
 */
function bathWord(words, { bathKind, celsius }) {
  if (bathKind !== "bath") return words.t(`bath.${bathKind}`);
  return words.t(celsius < COLD_BATH_C ? "bath.cold" : celsius > WARM_BATH_C ? "bath.warm" : "bath.bath");
}

/**
 * A colour in words, "pale" before it where the liquid is.
 * @param {Words} words
 * @param {string} band
 * @param {boolean} pale
 * @returns {string}
 */
export function colourWord(words, band, pale) {
  return pale ? words.t(`pale.${band}`) : words.t(`colour.${band}`);
}

/**
 * The colour that a beaker shows, in words; without a dye it is white with solid, and colourless without.
 * @param {Words} words
 * @param {Label} label
 * @returns {string}
 */
function shownColour(words, { dyed, band, pale, clarity }) {
  if (dyed) return colourWord(words, band, pale);
  return words.t(clarity === "clear" ? "colour.none" : "colour.white");
}

/** @param {Words} words @returns {string[]} all that a liquid can be called by its colour */
function colours(words) {
  const keys = [...BANDS.flatMap(({ key }) => [`colour.${key}`, `pale.${key}`]), "colour.none", "colour.white"];
  return keys.map((key) => words.t(key));
}

/** @param {Words} words */
function bound(words) {
  return { t: words.t.bind(words), number: words.number.bind(words) };
}
