#!/usr/bin/env node
// Stands between the driver and Firefox as Debian has it: started in Firefox's place, it starts Firefox and hands every
// message of WebDriver BiDi on, but for three things. The driver is younger than this Firefox: a wish that is not known yet is
// granted where nothing hangs on it (firefox.mjs tells what a test then has to do without). And the driver has its functions
// read by eval, which the page's policy forbids in Firefox and rightly so: they are put into the message instead. And it has no
// finger in Firefox, which has: the middle button of its mouse is one, for the page has no use for that.

import { spawn } from "node:child_process";
import { createInterface } from "node:readline";
import { Script } from "node:vm";
import { WebSocket, WebSocketServer } from "ws";

const FIREFOX = "/usr/bin/firefox-esr";
const LISTENING = /^(WebDriver BiDi listening on )(ws:\/\/\S+)$/;
/** What may be missing (Firefox 140 lacks them all), and what is answered instead. @type {Record<string, object>} */
const GRANTED = {
  "browser.setDownloadBehavior": {},
  "emulation.setLocaleOverride": {},
  "emulation.setMediaFeaturesOverride": {},
  "emulation.setScreenOrientationOverride": {},
  "emulation.setScreenSettingsOverride": {},
  "emulation.setUserAgentOverride": {},
  "network.addDataCollector": { collector: "none" },
};

/** The number of the button that is a finger. */
const MIDDLE = 1;

/** What the driver calls with each function of a test, and of its own. */
const CALL = "(utilityScript, ...args) => utilityScript.evaluate(...args)";

/** @typedef {{ type: string, value?: any }} Value as WebDriver BiDi writes it */

/**
 * The texts in a call that the driver would have read by eval.
 * @param {Value} value
 * @returns {string[]}
 */
function texts({ type, value }) {
  if (type === "array") return value.flatMap(texts);
  if (type !== "object") return [];
  /** @type {Record<string, Value>} */
  const entry = Object.fromEntries(value.map((/** @type {any[]} */ [key, one]) => [key.value ?? key, one]));
  if (entry.v?.type === "string" && entry.k?.value === "expression") return [entry.v.value];
  if (entry.v?.type === "string" && entry.k?.value === "functionText") return [`(${entry.v.value})`];
  // A part that the driver adds to itself.
  if (entry.v?.type === "string" && entry.k?.value === "source")
    return [
      `\n    (() => {\n      const module = {};\n      ${entry.v.value}\n      return module.exports.default();\n    })()`,
    ];
  return Object.values(entry).flatMap(texts);
}

/** @param {string} text */
function isExpression(text) {
  try {
    new Script(`(${text}\n)`);
    return true;
  } catch {
    return false;
  }
}

/** A call that needs no eval. @param {Value[]} given what the driver's call is given @returns {string} */
function spelledOut(given) {
  const [, , , expression, ...rest] = given;
  const known = [...new Set([String(expression.value), ...rest.flatMap(texts)])].filter(isExpression);
  const entries = known.map((text) => `[${JSON.stringify(text)}, () => (${text}\n)]`);
  return `(utilityScript, ...args) => {
    const known = new Map([${entries.join(",")}]);
    const real = globalThis.eval;
    globalThis.eval = (text) => known.has(text) ? known.get(text)() : real(text);
    try { return utilityScript.evaluate(...args); } finally { globalThis.eval = real; }
  }`;
}

/** Where the driver's mouse stands, and whether it is a finger now. */
const mouse = { x: 0, y: 0, isFinger: false };

/** What the driver's mouse does, by a finger from when its middle button goes down until it is up. @param {any} source */
function byHand(source) {
  const { type, button, x, y } = source.actions[0];
  if (type === "pointerMove") Object.assign(mouse, { x, y });
  if (type === "pointerDown") mouse.isFinger = button === MIDDLE;
  if (!mouse.isFinger) return source;
  mouse.isFinger = type !== "pointerUp";
  const there = { type: "pointerMove", x: mouse.x, y: mouse.y };
  return {
    type: "pointer",
    id: "finger",
    parameters: { pointerType: "touch" },
    actions: type === "pointerMove" ? [there] : [there, { type, button: 0 }],
  };
}

/** Hands messages on between a driver and Firefox. @param {WebSocket} driver @param {string} address Firefox's */
function between(driver, address) {
  const firefox = new WebSocket(address, { maxPayload: 2 ** 30, perMessageDeflate: false });
  /** @type {Map<number, object>} */
  const wishes = new Map();
  /** @type {string[] | null} */
  let early = [];
  firefox.on("open", () => {
    for (const message of early ?? []) firefox.send(message);
    early = null;
  });
  driver.on("message", (data) => {
    const wish = JSON.parse(String(data));
    if (wish.method in GRANTED) wishes.set(wish.id, GRANTED[wish.method]);
    if (wish.params?.functionDeclaration === CALL) wish.params.functionDeclaration = spelledOut(wish.params.arguments);
    if (wish.method === "input.performActions" && wish.params.actions[0].type === "pointer")
      wish.params.actions = wish.params.actions.map(byHand);
    const message = JSON.stringify(wish);
    if (early) early.push(message);
    else firefox.send(message);
  });
  firefox.on("message", (data) => {
    let message = String(data);
    // The answers that matter here are short.
    if (wishes.size > 0 && message.length < 10_000) {
      const { id, error } = JSON.parse(message);
      const granted = wishes.get(id);
      wishes.delete(id);
      if (granted && error === "unknown command") message = JSON.stringify({ type: "success", id, result: granted });
    }
    driver.send(message);
  });
  firefox.on("close", () => driver.close());
  driver.on("close", () => firefox.close());
  firefox.on("error", () => driver.close());
}

const firefox = spawn(FIREFOX, process.argv.slice(2), {
  stdio: ["ignore", "inherit", "pipe"],
  // The driver would have all of Firefox end with the first tab that crashes.
  env: { ...process.env, MOZ_CRASHREPORTER_SHUTDOWN: undefined },
});
firefox.on("exit", (code) => process.exit(code ?? 1));
for (const signal of /** @type {const} */ (["SIGTERM", "SIGINT", "SIGHUP"]))
  process.on(signal, () => firefox.kill(signal));
createInterface(firefox.stderr).on("line", (line) => {
  const [, words, address] = LISTENING.exec(line) ?? [];
  if (!address) return console.error(line);
  const server = new WebSocketServer({ host: "127.0.0.1", port: 0, maxPayload: 2 ** 30, perMessageDeflate: false });
  server.on("connection", (driver, { url }) => between(driver, new URL(url ?? "/", address).href));
  server.on("listening", () => {
    const { port } = /** @type {import("node:net").AddressInfo} */ (server.address());
    console.error(`${words}ws://127.0.0.1:${port}`);
  });
});
