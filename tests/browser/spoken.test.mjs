// Level 2 to its end, twice: by keyboard alone, and by one who only hears the page. The second reads nothing but the
// accessibility tree, as a screen reader would, and acts only on what it finds there.

import assert from "node:assert/strict";
import { test } from "node:test";
import { ANSWERS, comesTo, focused, playDose, press, stage, startLesson, tabTo, toSummary } from "./hands.mjs";
import { needs, visit } from "./harness.mjs";
import { PATIENCE_MS, soon } from "./waits.mjs";

/** @typedef {import("playwright-core").Page} Page */
/** @typedef {{ role: string, name: string, checked: boolean, node: number }} Told */

/** Buttons that lead on, the first that is there is pressed. */
const ONWARD = [
  "Lock my guess",
  "Next question",
  "Show me why",
  "Next dose",
  "Finish",
  "Why",
  "Go on",
  "Start the lesson",
  "Next event",
];

test("capability 6: the mouse unplugged, level 2 is played to its end", async (t) => {
  const { page } = await visit(t);
  // Two doses of acid and one of base, planned by keyboard: the whole of a lesson, and not eleven times the same.
  await press(page, "Plan");
  for (const [field, count] of [
    ["Acid doses", "2"],
    ["Base doses after them", "1"],
  ]) {
    await tabTo(page, field, "text");
    await page.keyboard.press("Control+A");
    await page.keyboard.type(count);
  }
  await press(page, "Use this recipe");
  await comesTo(page, "brief");
  for (let tabs = 0; (await page.evaluate(() => document.activeElement?.id)) !== "level"; tabs++) {
    assert.ok(tabs < 120);
    await page.keyboard.press("Tab");
  }
  await page.keyboard.press("2");
  await soon(async () => {
    assert.equal(await page.locator("#level").inputValue(), "2");
    assert.equal(await page.evaluate(() => document.activeElement?.id), "level", "the keyboard stays where it was");
  });
  // A trade term has its sentence, and nothing moves to make room for it.
  const places = () =>
    page
      .locator("#card :is(p, button, select)")
      .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON()));
  await tabTo(page, "antacid", "button");
  const before = await places();
  await page.keyboard.press("Enter");
  assert.deepEqual(await focused(page), {
    name: "An antacid is a medicine that takes up acid in the stomach.",
    type: "span",
    value: "",
  });
  assert.equal(await page.locator(".term[aria-expanded=true]").innerText(), "antacid");
  assert.deepEqual(await places(), before);
  // On a slow machine the scrolling that brought the keyboard to the word is told only now.
  await page.locator("#card .card-body").dispatchEvent("scroll");
  assert.equal(await page.locator(".term-note").count(), 1, "the note stays where its word has not moved");
  await page.keyboard.press("Escape");
  assert.equal((await focused(page)).name, "antacid", "the keyboard is back at the word");
  assert.equal(await page.locator(".term-note").count(), 0);
  await startLesson(page);
  for (let dose = 1; dose <= 3; dose++) {
    assert.equal(await stage(page), "ask");
    await playDose(page, ANSWERS);
  }
  await toSummary(page);
  assert.match(await page.locator("#card").innerText(), /2 doses of acid and 1 doses? of base/);
  assert.notEqual((await focused(page)).name, "", "the keyboard stands somewhere");
});

/**
 * Runs in the page, on its live region: takes down what it says.
 * @this {Element}
 */
function listenIn() {
  /** @type {string[]} */
  const heard = [];
  Object.assign(globalThis, { heard });
  new MutationObserver(() => heard.push(this.textContent ?? "")).observe(this, {
    childList: true,
    characterData: true,
    subtree: true,
  });
}

/** One who hears the page. */
class Listener {
  /** @param {import("playwright-core").CDPSession} session @param {Page} page */
  constructor(session, page) {
    this.session = session;
    this.page = page;
  }

  /** @param {Page} page */
  static async to(page) {
    const session = await page.context().newCDPSession(page);
    await session.send("Accessibility.enable");
    // What the tree calls the live region is listened to all the time: a sentence may have gone before one looks again.
    const { nodes } = await session.send("Accessibility.getFullAXTree");
    const region = nodes.find(({ role }) => role?.value === "status");
    assert.ok(region?.backendDOMNodeId, "nothing is told of a live region");
    const { object } = await session.send("DOM.resolveNode", { backendNodeId: region.backendDOMNodeId });
    await session.send("Runtime.callFunctionOn", {
      objectId: object.objectId,
      functionDeclaration: String(listenIn),
    });
    return new Listener(session, page);
  }

  /** Everything that the live region has said. @returns {Promise<string[]>} */
  heard() {
    return this.page.evaluate(() => /** @type {any} */ (globalThis).heard);
  }

  /** Waits until the newest that the live region says has these words. @param {string} words */
  async hears(words) {
    await this.page.waitForFunction((wanted) => /** @type {any} */ (globalThis).heard.at(-1)?.includes(wanted), words, {
      timeout: PATIENCE_MS,
    });
  }

  /** What is told now, in its order. @returns {Promise<Told[]>} */
  async tree() {
    const { nodes } = await this.session.send("Accessibility.getFullAXTree");
    const byId = new Map(nodes.map((node) => [node.nodeId, node]));
    // As it is read: each node before what is in it, and that before what follows.
    /** @param {string[]} ids @returns {typeof nodes} */
    const read = (ids) =>
      ids.flatMap((id) => {
        const node = byId.get(id);
        return node ? [node, ...read(node.childIds ?? [])] : [];
      });
    return (
      read([nodes[0].nodeId])
        .filter((node) => !node.ignored)
        // What is told to be switched off is left alone.
        .filter((node) => !node.properties?.some(({ name, value }) => name === "disabled" && value.value === true))
        .map((node) => ({
          role: String(node.role?.value ?? ""),
          name: String(node.name?.value ?? "").trim(),
          checked: node.properties?.some(({ name, value }) => name === "checked" && value.value === "true") ?? false,
          node: node.backendDOMNodeId ?? 0,
        }))
    );
  }

  /** Everything that can be read, as one text. */
  async text() {
    return (await this.tree())
      .filter(({ role }) => role === "StaticText")
      .map(({ name }) => name)
      .join(" ");
  }

  /** Goes to something that was told. @param {Told} told */
  async goTo({ node }) {
    await this.session.send("DOM.focus", { backendNodeId: node });
  }

  /** @param {string} role @param {string} name */
  async find(role, name) {
    const found = (await this.tree()).find((told) => told.role === role && told.name === name);
    assert.ok(found, `nothing is told of a ${role} "${name}"`);
    return found;
  }

  /** @param {string} name */
  async press(name) {
    await this.goTo(await this.find("button", name));
    await this.page.keyboard.press("Enter");
  }

  /** @param {string} name @param {string} typed */
  async type(name, typed) {
    await this.goTo(await this.find("textbox", name));
    await this.page.keyboard.press("Control+A");
    await this.page.keyboard.type(typed);
  }
}

test(
  "capability 6: with the screen off, level 2 is played to its end, and what happened can be told",
  needs("accessibilityTree"),
  async (t) => {
    const { page } = await visit(t);
    const listener = await Listener.to(page);
    await listener.press("Plan");
    await listener.type("Acid doses", "2");
    await listener.type("Base doses after them", "1");
    await listener.press("Use this recipe");
    await listener.goTo(await listener.find("combobox", "Level"));
    await page.keyboard.press("2");
    await soon(async () => assert.equal(await page.inputValue("#level"), "2"));
    /** @type {Set<string>} */
    const headings = new Set();
    let explained = "";
    let watched = false;
    for (let steps = 0; ; steps++) {
      assert.ok(steps < 400, `no way on; told: ${[...headings].join(", ")}`);
      const tree = await listener.tree();
      for (const { role, name } of tree) if (role === "heading") headings.add(name);
      const words = await listener.text();
      if (headings.has("What happened, and why")) explained += words;
      if (/Check code of this run/.test(words)) break;
      const radios = tree.filter(({ role, name }) => role === "radio" && !/×$|^This dose$|^Whole lesson$/.test(name));
      if (radios.length > 0 && !radios.some(({ checked }) => checked)) {
        // Who only hears waits until the region has said why a card stands there: what is not said by then is dropped.
        if (watched) await listener.hears("At rest");
        watched = false;
        // "never" needs no number beside it.
        await listener.goTo(radios.find(({ name }) => name === "never") ?? radios[0]);
        await page.keyboard.press("Space");
        continue;
      }
      const onward = ONWARD.map((name) => tree.find((told) => told.role === "button" && told.name === name)).find(
        Boolean,
      );
      assert.ok(onward, `no button leads on: ${tree.filter(({ role }) => role === "button").map(({ name }) => name)}`);
      watched ||= onward.name === "Next event";
      await listener.goTo(onward);
      await page.keyboard.press("Enter");
      await page.waitForTimeout(onward.name === "Lock my guess" || onward.name === "Next event" ? 350 : 60);
    }
    const heard = await listener.heard();
    const all = heard.join(" ");
    t.diagnostic(heard.join("\n"));
    assert.match(all, /Acid dose 1 poured/);
    assert.match(all, /turned back/);
    assert.match(all, /At rest/);
    assert.match(explained, /Only [\d.]+ mmol of base was dissolved/, "why red first");
    const end = await listener.text();
    assert.match(end, /2 doses of acid and 1 doses? of base/);
    assert.match(end, /[0-9A-Z]{4}-[0-9A-Z]{4}/, "the check code is told");
  },
);
