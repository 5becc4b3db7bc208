// Starts the page: the words, the core, the lesson of the link. What can't start says so in words.

import { breath } from "./breath.js";
import { placePatterns } from "./chip.js";
import { byId } from "./element.js";
import { Engine } from "./engine.js";
import { Words } from "./i18n.js";
import { Journal } from "./journal.js";
import { Keep } from "./keep.js";
import { dress, keep as keepLanguage, language, languageChoice } from "./language.js";
import { Page } from "./page.js";

/** Starts; what is there already tells what is missing. */
async function begin() {
  const spoken = language();
  // All are on their way at once: on a school's line the wait is the distance, not the weight.
  const journal = Journal.open();
  const [sentences, core] = await Promise.allSettled([Words.load(spoken), Engine.start()]);
  // Without the words the page can say nothing new. What it says before scripts run stays: load it again.
  if (sentences.status === "rejected") return console.warn(sentences.reason);
  const words = sentences.value;
  words.fill(document);
  if (core.status === "rejected") {
    console.warn(core.reason);
    byId("waiting").textContent = words.t(
      typeof WebAssembly === "undefined" ? "before.noWebAssembly" : "before.noCore",
    );
    return;
  }
  const engine = core.value;
  placePatterns();
  const opened = await Journal.inTime(journal);
  await breath();
  const kept = new Keep(engine, opened.journal, opened.entries);
  await breath();
  let page = new Page(engine, words, kept);
  await breath();
  page.stand();
  await breath();
  page.show();
  /** What was chosen last: its words may come before those that were chosen earlier. */
  let wished = spoken;
  /** @param {Words} words @param {import("./language.js").Language} spoken */
  const offer = (words, spoken) => {
    document.querySelector(".masthead .language")?.remove();
    document.querySelector(".masthead")?.append(
      languageChoice(words.t("language.label"), spoken, async (chosen) => {
        wished = chosen;
        try {
          const others = await Words.load(chosen);
          if (wished !== chosen) return;
          keepLanguage(chosen);
          dress(chosen);
          others.fill(document);
          page = page.inOtherWords(others);
          offer(others, chosen);
          page.announcer.say(others.t("language.now"));
        } catch (reason) {
          console.warn(reason);
          if (wished !== chosen) return;
          offer(words, spoken);
          page.trouble.say("language.failed");
        }
        byId("language").focus();
      }),
    );
  };
  offer(words, spoken);
  page.opening.begin(location.hash);
  window.addEventListener("hashchange", () => {
    if (location.hash.length > 1 && location.hash.slice(1) !== engine.link().replace(/^#/, ""))
      page.opening.open(location.hash);
  });
}

begin();
