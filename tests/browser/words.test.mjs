// Every language says everything: the same keys and holes, nothing left in English, no key that nobody has words for.

import assert from "node:assert/strict";
import { test } from "node:test";
import { core, holes, readWords, source, stem, tags } from "./words.mjs";

const ENGLISH = "en";
/** What may be alike in two languages: formulas, units, names of people and books, words that both have. */
const ALIKE = [
  /^language\.direction$/,
  /^(unit|notch|short)\./,
  /\.(celsius|seconds|ph|dissolved|source)$/,
  /^safety\.source\./,
  /^reagent\.base$|^forecast\.need\.base$/,
  /^plan\.heading$|^place\.plan$/,
  /\.fileName$|^trace\.save\.|^data\.encoding\.|\.ph\.file$/,
];
/** Words that no sentence of another language has, outside of the titles of English books. */
const ENGLISH_WORDS =
  /\b(the|and|of|with|you|your|this|that|is|are|was|what|which|how|from|it|its|not|each|dose|beaker|solid|colour|guess|left|take|type|choose|load)\b/i;
const TITLES = /^safety\.source\.|\.source$|\.fileName$/;

/** Most words of a sentence that a pupil reads. */
const MOST_WORDS = 15;
/** Whose sentences may be longer, and why. */
const LONGER = [
  [/^(plan|share|forecast|prep|data|tally)\./, "the teacher's own places"],
  [/^paper\.key/, "the teacher's key to the sheets"],
  [/^(about|constant|standing)\./, "what the model computes with, for whoever checks it"],
  [/^network\./, "the page for whoever looks after the network"],
  [/^misconception\.\w+\.source$/, "where it was found: a citation"],
];
/** A number is read as one word with its unit. */
const UNIT = /(\{\w+\}|\d)[ \u00a0](%|°C|K|s|min|mL|mg|g|L|mmol|mol|kJ|pH)(\/(mL|L|mol))?(?![\p{Letter}\d])/gu;

/** @type {Map<string, { sentences: Record<string, string>, keys: string[] }>} */
const all = new Map();
for (const tag of await tags()) all.set(tag, await readWords(tag));
const english = /** @type {{ sentences: Record<string, string>, keys: string[] }} */ (all.get(ENGLISH));
const others = [...all.keys()].filter((tag) => tag !== ENGLISH);

test("there are English and Spanish, and each file says its name, its direction and its decimal mark", () => {
  assert.ok(others.includes("es"));
  for (const [tag, { sentences }] of all) {
    assert.match(sentences["language.name"], /\p{Letter}{2}/u, tag);
    assert.match(sentences["language.direction"], /^(ltr|rtl)$/, tag);
    assert.equal([...sentences["number.mark"]].length, 1, tag);
  }
  assert.equal(all.get("es")?.sentences["number.mark"], ",");
});

test("no key stands twice in a file", () => {
  for (const [tag, { keys, sentences }] of all) {
    assert.deepEqual(
      keys.filter((key, index) => keys.indexOf(key) !== index),
      [],
      tag,
    );
    assert.equal(keys.length, Object.keys(sentences).length, `${tag}: one key on each line`);
  }
});

for (const tag of others) {
  const { sentences } = /** @type {{ sentences: Record<string, string> }} */ (all.get(tag));

  test(`${tag} has a sentence for every key of ${ENGLISH}, with every plural form that it needs, and no other key`, () => {
    const forms = new Intl.PluralRules(tag).resolvedOptions().pluralCategories.filter((form) => form !== "many");
    const counted = Object.keys(english.sentences).filter((key) => stem(key) !== key);
    const isCounted = (/** @type {string} */ key) =>
      counted.some((other) => stem(other) === stem(key) && stem(key) !== key);
    const wanted = new Set(Object.keys(english.sentences));
    // A language with more forms than one and other has them all.
    for (const key of counted.filter((one) => one.endsWith(".other") && `${stem(one)}.one` in english.sentences))
      for (const form of forms) wanted.add(`${stem(key)}.${form}`);
    assert.deepEqual(
      [...wanted].filter((key) =>
        // What is empty in English stays empty: nothing is said there.
        english.sentences[key] === "" ? sentences[key] !== "" : !sentences[key]?.trim(),
      ),
      [],
      "missing",
    );
    assert.deepEqual(
      Object.keys(sentences).filter((key) => !wanted.has(key) && !isCounted(key)),
      [],
      "unknown",
    );
  });

  test(`${tag} has the holes of ${ENGLISH} in each sentence`, () => {
    const wrong = Object.keys(english.sentences)
      .filter((key) => key in sentences)
      .filter((key) => String(holes(sentences[key])) !== String(holes(english.sentences[key])));
    assert.deepEqual(wrong, []);
  });

  test(`${tag} has nothing left in English`, () => {
    const same = Object.keys(sentences)
      .filter((key) => sentences[key] === english.sentences[key])
      .filter((key) => !ALIKE.some((pattern) => pattern.test(key)))
      // Holes, signs and units alone have no language.
      .filter((key) =>
        /\p{Letter}{2}/u.test(sentences[key].replace(/\{\w+\}|mmol|mol|min|pH|Mg|HCl|NaOH|ln|CSV/g, "")),
      );
    assert.deepEqual(same, [], "the same sentence in both");
    const mixed = Object.keys(sentences)
      .filter((key) => !TITLES.test(key) && ENGLISH_WORDS.test(sentences[key].replace(/\{\w+\}/g, "")))
      .map((key) => `${key}: ${sentences[key]}`);
    assert.deepEqual(mixed, [], "English words in it");
  });

  test(`numbers inside the sentences of ${tag} have its decimal mark`, () => {
    const other = sentences["number.mark"] === "," ? "." : ",";
    const wrong = Object.keys(sentences)
      // Where a number may be typed in either way both ways are told.
      .filter((key) => !TITLES.test(key) && !key.endsWith(".notANumber"))
      .filter((key) => new RegExp(`\\d\\${other}\\d`).test(sentences[key]));
    assert.deepEqual(wrong, []);
  });
}

/** How many words each sentence of a text has; a hole counts as one, signs alone as none. @param {string} text */
function lengths(text) {
  return text
    .replace(UNIT, "$1")
    .split(/(?<=[.!?…]["”»)]*)\s+/)
    .map((sentence) => sentence.split(/\s+/).filter((word) => /[\p{Letter}\d{]/u.test(word)).length);
}

test(`no sentence that a pupil reads has more than ${MOST_WORDS} words`, () => {
  assert.deepEqual(lengths("At {n} °C it took 3.5 s. Mg + 2 H: why, {who}?"), [5, 5], "words are counted");
  for (const [tag, { sentences }] of all) {
    const read = Object.keys(sentences).filter(
      (key) => !LONGER.some(([whose]) => /** @type {RegExp} */ (whose).test(key)),
    );
    assert.ok(read.length > 800, `${read.length} are read by pupils`);
    const long = read.filter((key) => Math.max(...lengths(sentences[key])) > MOST_WORDS);
    assert.deepEqual(long, [], tag);
  }
});

test("each term of the glossary stands in what pupils are told", () => {
  for (const [tag, { sentences }] of all) {
    const told = Object.keys(sentences)
      .filter((key) => /^(brief|see|why|explain|end|whatIf|level|misconception)\./.test(key))
      .map((key) => sentences[key])
      .join(" ");
    const terms = Object.keys(sentences).filter((key) => /^term\.\w+\.forms$/.test(key));
    assert.ok(terms.length > 10, tag);
    const unread = terms.filter((key) => !new RegExp(`(?<!\\p{L})(${sentences[key]})(?!\\p{L})`, "iu").test(told));
    assert.deepEqual(unread, [], tag);
  }
});

test("the page asks for no key that has no sentence, and no sentence is never asked for", async () => {
  const text = await source();
  const keys = Object.keys(english.sentences);
  const roots = new Set(keys.map((key) => key.split(".")[0]));
  // The beginning of a key may be asked for as well, to be completed elsewhere.
  const beginnings = keys.flatMap((key) =>
    key.split(".").map((_, index, parts) => parts.slice(0, index + 1).join(".")),
  );
  const known = new Set([...keys, ...beginnings]);
  const plain = [...text.matchAll(/["'`]([a-z]\w*(?:\.\w+)+)["'`]/g)].map(([, key]) => key);
  const asked = new Set(plain.filter((key) => roots.has(key.split(".")[0])));
  assert.ok(asked.size > 200, `${asked.size} keys found`);
  const files = /\.(js|css|json|html|svg|png|wasm|webmanifest|csv|txt)$/;
  assert.deepEqual(
    [...asked].filter((key) => !known.has(key) && !files.test(key)),
    [],
  );

  // Keys that are put together: each hole of a template stands for anything.
  const templates = [...text.matchAll(/`([^`]*)`/g)]
    .map(([, template]) => template)
    .filter((template) => /^[a-z]\w*\.[\w.]*\$\{|^[a-z]\w*\.\$\{|^\$\{\w+\}\./.test(template))
    .map((template) => template.replace(/\$\{[^}]*\}/g, "\0"));
  const patterns = templates.map(
    (template) => new RegExp(`^${template.replace(/\./g, "\\.").replaceAll("\0", ".+")}$`),
  );
  for (const [index, pattern] of patterns.entries())
    if (roots.has(templates[index].split(".")[0]))
      assert.ok(
        [...known].some((key) => pattern.test(key)),
        `no sentence for ${templates[index].replaceAll("\0", "*")}`,
      );
  const unasked = keys.filter(
    (key) =>
      !text.includes(`"${key}"`) &&
      !text.includes(`"${stem(key)}"`) &&
      !patterns.some((one) => one.test(key) || one.test(stem(key))),
  );
  // The direction is read by the build.
  assert.deepEqual(
    unasked.filter((key) => !/^language\.(name|direction)$/.test(key)),
    [],
  );
});

test("everything that the core names has its words", async () => {
  const turnback = await core();
  /** @type {string[]} */
  const wanted = [];
  for (const { level, expected, shows, reasons, moments } of turnback.desk().levels()) {
    for (const part of ["name", "goal", "lead"]) wanted.push(`level.${level}.${part}`);
    for (let sight = 1; sight <= expected; sight++) wanted.push(`level.${level}.expect.${sight}`);
    for (const shown of shows) wanted.push(`shows.${shown}`);
    for (const reason of reasons) wanted.push(`why.${reason}`);
    for (const { card, choices } of moments) {
      for (const prediction of card) wanted.push(`predict.${prediction}`, `ask.${prediction}`);
      for (const { key, choices: options } of choices) {
        wanted.push(`level.${key}`, `level.${key}.because`);
        for (const { key: option, idea } of options) {
          wanted.push(`level.${key}.${option}`);
          if (idea) for (const part of ["name", "idea", "followUp"]) wanted.push(`misconception.${idea}.${part}`);
        }
      }
    }
  }
  for (const { key } of turnback.fields().fields ?? turnback.fields()) wanted.push(`field.${key}`);
  const { always, materials, sources } = turnback.desk().safety("", "");
  wanted.push(...always.map((/** @type {string} */ key) => `safety.always.${key}`));
  wanted.push(...sources.map((/** @type {string} */ key) => `safety.source.${key}`));
  for (const { key, cautions } of materials)
    wanted.push(
      `safety.material.${key}`,
      ...cautions.map((/** @type {string} */ caution) => `safety.caution.${caution}`),
    );
  assert.ok(wanted.length > 150, `${wanted.length} keys`);
  for (const [tag, { sentences }] of all)
    assert.deepEqual(
      [...new Set(wanted)].filter((key) => !(key in sentences)),
      [],
      tag,
    );
});
