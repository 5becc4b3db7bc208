// Share: the lesson as a link, as a code to photograph, and as a file that can be read, kept and mended.

import { element } from "./element.js";
import { FROM_FOLDER, linkField, wholeLink } from "./link.js";

/**
 * @typedef {import("./deskengine.js").DeskEngine} Engine
 * @typedef {import("./i18n.js").Words} Words
 */

/** A lesson's file is a few kilobytes; more than this is something else, and reading it would take long. */
const FILE_MAX_BYTES = 2_000_000;

/** The part of Plan that hands the lesson on. */
export class Share {
  /**
   * @param {Engine} engine
   * @param {Words} words
   * @param {{open: (text: string) => string, saved: () => void}} turns takes the text of a file, or says why not; knows that the lesson was saved
   * @param {(sentence: string) => void} say speaks to those who listen
   */
  constructor(engine, words, { open, saved }, say) {
    this.engine = engine;
    this.words = words;
    this.open = open;
    this.saved = saved;
    this.say = say;
    const t = words.t.bind(words);
    this.link = element("div");
    this.code = element("div");
    this.behind = element("p", { class: "warn", hidden: true }, t("share.behind", { use: t("plan.use") }));
    this.said = element("p", { class: "quiet" });
    this.trouble = element("p", { class: "error", role: "alert" });
    this.file = element("input", {
      type: "file",
      id: "share-file",
      accept: ".json,.txt,application/json",
      change: () => this.read(),
    });
    this.text = element("textarea", { id: "share-text", rows: 4, spellcheck: "false", dir: "ltr" });
    this.root = element(
      "section",
      { "aria-labelledby": "share-heading" },
      element("h3", { id: "share-heading" }, t("plan.share")),
      element("p", {}, t("plan.shareLead")),
      this.behind,
      element("div", { class: "share" }, element("div", {}, this.link), this.code),
      element("h3", {}, t("share.file")),
      element("p", {}, t("share.fileLead")),
      element(
        "p",
        { class: "buttons" },
        element("button", { type: "button", click: () => this.save() }, t("share.save")),
        element("button", { type: "button", click: () => this.asText() }, t("share.asText")),
      ),
      this.said,
      element("p", { class: "words-field" }, element("label", { for: "share-file" }, t("share.open")), this.file),
      element(
        "details",
        {},
        element("summary", {}, t("share.paste")),
        element(
          "p",
          { class: "words-field" },
          element("label", { for: "share-text" }, t("share.pasteLabel")),
          this.text,
        ),
        element("button", { type: "button", click: () => this.take(this.text.value) }, t("share.openText")),
      ),
      this.trouble,
    );
  }

  /** Shows the link of the lesson in use, or what to do where it would be too long. */
  refresh() {
    const { words } = this;
    const made = this.engine.share();
    if (!made.ok) {
      this.link.replaceChildren(
        element("p", { class: "warn" }, words.t("share.linkTooLong", { chars: made.chars, max: made.max })),
      );
      this.code.replaceChildren();
      return;
    }
    const link = wholeLink(made.fragment);
    this.link.replaceChildren(
      linkField(words, link, "plan", this.say),
      element("p", { class: "quiet" }, words.t("share.length", { chars: link.length })),
    );
    // A code of a folder's address would open nothing.
    if (FROM_FOLDER) return this.code.replaceChildren();
    const code = qrCode(this.engine, words, link);
    this.code.replaceChildren(
      ...(code
        ? [code, element("p", { class: "quiet" }, words.t("share.scan"))]
        : [element("p", { class: "quiet" }, words.t("share.noCode"))]),
    );
  }

  /** Hands the lesson out as a file. */
  save() {
    const text = this.engine.lessonFile();
    const address = URL.createObjectURL(new Blob([text], { type: "application/json" }));
    element("a", { href: address, download: this.words.t("share.fileName") }).click();
    // The download has its own hold on the file as soon as it has begun.
    window.setTimeout(() => URL.revokeObjectURL(address), 10_000);
    this.tell("share.savedAs");
    this.saved();
  }

  /** Shows the file's text, for where downloads are blocked. */
  async asText() {
    this.text.value = this.engine.lessonFile();
    const box = this.text.closest("details");
    if (box) box.open = true;
    this.text.select();
    try {
      await navigator.clipboard.writeText(this.text.value);
      this.tell("link.copied");
    } catch {
      this.text.focus();
      this.tell("share.selected");
    }
    this.saved();
  }

  /** Reads the chosen file. */
  async read() {
    const file = this.file.files?.[0];
    if (!file) return;
    if (file.size > FILE_MAX_BYTES) this.refuse(this.words.t("share.tooLong"));
    else {
      try {
        this.take(await file.text());
      } catch {
        this.refuse(this.words.t("share.unreadable"));
      }
    }
    // The same file may be chosen again once it is mended.
    this.file.value = "";
  }

  /** Opens a file's text. @param {string} text */
  take(text) {
    const whole = text.replace(/^\uFEFF/, "");
    const refused = whole.trim() === "" ? this.words.t("share.empty") : this.open(whole);
    if (refused) return this.refuse(refused);
    this.trouble.textContent = "";
    this.text.value = "";
  }

  /** @param {string} sentence */
  refuse(sentence) {
    this.trouble.textContent = sentence;
    this.said.textContent = "";
  }

  /** @param {string} key */
  tell(key) {
    this.trouble.textContent = "";
    this.said.textContent = this.words.t(key);
    this.say(this.said.textContent);
  }
}

/**
 * A link as a code to photograph; nothing where it is too long for one.
 * @param {Engine} engine
 * @param {Words} words
 * @param {string} link
 * @returns {Element | null}
 */
export function qrCode(engine, words, link) {
  const svg = engine.qr(link);
  if (!svg) return null;
  // The core draws it; as a picture of its own it can hold nothing but its lines.
  return element("img", {
    class: "qr",
    alt: words.t("share.codeLabel"),
    src: `data:image/svg+xml,${encodeURIComponent(svg)}`,
  });
}
