// The recordings of a class's pH probes: opened, listed, each with its own form, all with one electrode.

import { element } from "./element.js";
import { NumberField } from "./field.js";
import { pouredIn, Recording } from "./recording.js";

/** The core's own limits; a file beyond them is not even read. */
const MOST_BYTES = 16_000_000;
const MOST_RECORDINGS = 12;
/** No electrode is slower than this, s. */
const MOST_LAG_S = 600;

/** The form. */
export class ProbeForm {
  /**
   * @param {import("./deskengine.js").DeskEngine} engine
   * @param {import("./i18n.js").Words} words
   * @param {(refusal: import("./class-shapes.js").DataRefusal) => string} sentence
   * @param {(sentence: string, topic?: string) => void} say speaks to those who listen
   */
  constructor(engine, words, sentence, say) {
    this.engine = engine;
    this.words = words;
    this.sentence = sentence;
    this.say = say;
    const t = words.t.bind(words);
    /** @type {Recording[]} */
    this.recordings = [];
    this.file = element("input", {
      type: "file",
      id: "data-file",
      multiple: true,
      accept: ".csv,.txt,.tsv,text/*",
      change: () => this.open([...(this.file.files ?? [])]),
    });
    this.trouble = element("p", { class: "error", role: "alert" });
    this.lag = new NumberField("data-lag", t("data.lag"), "0", "s", t("data.lagHint"));
    this.lag.input.addEventListener("change", () => this.lay());
    this.fitted = element("input", { type: "checkbox", id: "data-fitted", change: () => this.lay() });
    this.fittedLine = element(
      "p",
      { class: "option-line", hidden: true },
      this.fitted,
      element("label", { for: "data-fitted" }, t("data.withFitted")),
    );
    this.list = element("div", { class: "recordings" });
    this.shared = element("div", { hidden: true }, this.lag.root, this.fittedLine);
    this.root = element(
      "div",
      {},
      element("p", { class: "field" }, element("label", { for: "data-file" }, t("data.file")), this.file),
      this.trouble,
      this.list,
      this.shared,
    );
    /** @type {import("./recording.js").Room} */
    this.room = {
      engine,
      words,
      sentence,
      say,
      lagS: () => (this.lag.value >= 0 && this.lag.value <= MOST_LAG_S ? this.lag.value : 0),
      fitted: () => this.fitted.checked,
      remove: (recording) => this.remove(recording),
    };
  }

  /** Whether a recording lies open. */
  get filled() {
    return this.recordings.length > 0;
  }

  /** What another place may draw. @returns {import("./overlaid.js").Measured} */
  get measured() {
    const { length } = this.recordings;
    const lesson = length > 0 ? pouredIn(this.engine.lesson()) : "";
    return { open: length, lesson, laid: this.recordings.flatMap(({ laid }) => laid ?? []) };
  }

  /** @param {ProbeForm} before */
  goOnFrom(before) {
    this.lag.input.value = before.lag.typed;
    this.fitted.checked = before.fitted.checked;
    this.fittedLine.hidden = before.fittedLine.hidden;
    for (const other of before.recordings) {
      const recording = new Recording(this.room, other.slot, other.name, other.bytes);
      recording.goOnFrom(other);
      this.add(recording);
    }
  }

  /** Opens files; one that cannot be read says why, and nothing else is lost by it. @param {File[]} files */
  async open(files) {
    /** @type {string[]} */
    const troubles = [];
    const told = [];
    for (const file of files) {
      const refused = (/** @type {string} */ sentence) =>
        troubles.push(this.words.t("data.ofFile", { name: file.name, sentence }));
      if (file.size > MOST_BYTES) {
        refused(this.words.t("data.refused.tooLarge", { first: file.size / 1e6, second: 0 }));
        continue;
      }
      let bytes;
      try {
        bytes = new Uint8Array(await file.arrayBuffer());
      } catch {
        refused(this.words.t("data.refused.notThere"));
        continue;
      }
      // Only now: another file may have come while this one was read.
      const slot = Array.from({ length: MOST_RECORDINGS }, (_, at) => at).find(
        (at) => !this.recordings.some((recording) => recording.slot === at),
      );
      if (slot === undefined) {
        refused(this.words.t("data.refused.tooManyRecordings", { first: MOST_RECORDINGS }));
        continue;
      }
      const recording = new Recording(this.room, slot, file.name, bytes);
      const refusal = recording.take();
      if (refusal && !Recording.mayBeMended(refusal)) {
        refused(this.sentence(refusal));
        continue;
      }
      // The new one is looked at; the others stay, folded.
      for (const other of this.recordings) other.root.open = false;
      this.add(recording);
      if (!refusal) told.push(`${file.name}: ${recording.told.textContent}`);
    }
    this.trouble.textContent = troubles.join(" ");
    if (told.length > 0) this.say(told.join(" "));
    // The same file can be opened again, mended.
    this.file.value = "";
    this.root.dispatchEvent(new Event("input", { bubbles: true }));
  }

  /** @param {Recording} recording */
  add(recording) {
    this.recordings.push(recording);
    this.list.append(recording.root);
    this.shared.hidden = false;
  }

  /** @param {Recording} recording */
  remove(recording) {
    this.engine.dropProbe(recording.slot);
    this.recordings = this.recordings.filter((other) => other !== recording);
    recording.root.remove();
    this.shared.hidden = !this.filled;
    this.say(this.words.t("data.removed", { name: recording.name }));
    this.file.focus();
    this.root.dispatchEvent(new Event("input", { bubbles: true }));
  }

  /** Lays the model beside every recording whose temperature is known. */
  lay() {
    const { lag, words } = this;
    const limits = words.limits({ min: 0, max: MOST_LAG_S, unit: "s" });
    const { typed, value } = lag;
    if (typed.trim() !== "" && !(value >= 0 && value <= MOST_LAG_S)) {
      lag.complain(words.t(`error.${Number.isNaN(value) ? "notANumber" : value < 0 ? "tooSmall" : "tooBig"}`, limits));
      return;
    }
    lag.complain("");
    for (const recording of this.recordings) if (recording.celsius.typed.trim() !== "") recording.lay();
  }

  /** Lays it anew where another lesson is in use. */
  arrive() {
    if (!this.filled) return;
    const lesson = pouredIn(this.engine.lesson());
    for (const recording of this.recordings) if (recording.laid && recording.laid.lesson !== lesson) recording.lay();
  }

  /** The recordings that are to be fitted, as the core takes them; none where one of them says what is missing. */
  toFit() {
    const counted = this.recordings.filter((recording) => recording.read && recording.counted.checked);
    const laid = counted.map((recording) => {
      const lies = recording.lay();
      if (!lies) recording.root.open = true;
      return lies;
    });
    return laid.every(Boolean) ? counted : null;
  }

  /** Lays the fitted model beside every recording. @param {string | null} lag of the electrode as it was fitted */
  useFit(lag) {
    if (lag !== null) this.lag.input.value = lag;
    this.fittedLine.hidden = false;
    this.fitted.checked = true;
    this.lay();
  }
}
