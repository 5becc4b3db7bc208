// Starts the page: the words, the core, the lesson of the link. What can't start says so in words.

import { placePatterns } from "./chip.js";
import { byId } from "./element.js";
import { Engine } from "./engine.js";
import { Words } from "./i18n.js";
import { Page } from "./page.js";

/** Starts, in this order, so that each trouble can be told by what is there already. */
async function begin() {
  const words = await Words.load("en");
  words.fill(document);
  /** @type {Engine} */
  let engine;
  try {
    engine = await Engine.start();
  } catch (error) {
    console.warn(error);
    byId("waiting").textContent = words.t(
      typeof WebAssembly === "undefined" ? "before.noWebAssembly" : "before.noCore",
    );
    return;
  }
  placePatterns();
  const page = new Page(engine, words);
  if (location.hash.length > 1) page.open(location.hash);
  window.addEventListener("hashchange", () => {
    if (location.hash.length > 1 && location.hash.slice(1) !== engine.link().replace(/^#/, ""))
      page.open(location.hash);
  });
}

begin();
