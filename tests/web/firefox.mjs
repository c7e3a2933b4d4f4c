// Firefox, without a window, as a test drives it: by the browser's own protocol for that (Marionette: a length, a
// colon, and [0, number, command, what] answered by [1, number, fault, result]).
//
//     const browser = await openFirefox();
//     await browser.go(address);
//     const title = await browser.run("return document.title");       // an async function's body
//     await browser.close();

import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { connect, createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

export const firefoxProgram = () => ["/usr/bin/firefox-esr", "/usr/bin/firefox"].find((path) => existsSync(path));

const rest = (time) => new Promise((resolve) => setTimeout(resolve, time));

function freePort() {
  return new Promise((resolve) => {
    const server = createServer().listen(0, "127.0.0.1", () => {
      const { port } = server.address();
      server.close(() => resolve(port));
    });
  });
}

async function connected(port) {
  for (const until = Date.now() + 120000; ;) {
    const socket = connect(port, "127.0.0.1");
    const isThere = await new Promise((resolve) => socket.once("connect", () => resolve(true)).once("error", () => resolve(false)));
    if (isThere) return socket;
    if (Date.now() > until) throw new Error("the browser does not answer");
    await rest(200);
  }
}

/** Sends commands, and resolves each to its result. */
function commands(socket) {
  const waiting = new Map();
  let held = Buffer.alloc(0);
  let count = 0;
  socket.on("data", (data) => {
    held = Buffer.concat([held, data]);
    for (let colon; (colon = held.indexOf(":")) > 0;) {
      const end = colon + 1 + Number(held.subarray(0, colon));
      if (held.length < end) return;
      const said = JSON.parse(held.subarray(colon + 1, end));
      held = held.subarray(end);
      if (!Array.isArray(said)) continue;
      const [, number, fault, result] = said;
      const { resolve, reject } = waiting.get(number);
      if (fault) reject(new Error(`${fault.error}: ${fault.message}`));
      else resolve(result);
    }
  });
  return (command, what = {}) => new Promise((resolve, reject) => {
    waiting.set(++count, { resolve, reject });
    const text = JSON.stringify([0, count, command, what]);
    socket.write(`${Buffer.byteLength(text)}:${text}`);
  });
}

export async function openFirefox() {
  const profile = mkdtempSync(join(tmpdir(), "pouchwright-firefox-"));
  const port = await freePort();
  // It asks nobody for anything by itself.
  const quiet = ["app.update.auto", "browser.aboutwelcome.enabled", "datareporting.policy.dataSubmissionEnabled",
    "network.captive-portal-service.enabled", "network.connectivity-service.enabled", "app.normandy.enabled"];
  const settings = [["marionette.port", port], ["browser.shell.checkDefaultBrowser", false], ["intl.accept_languages", "en-GB"],
    ...quiet.map((name) => [name, false])];
  writeFileSync(join(profile, "user.js"), settings.map(([name, value]) => `user_pref("${name}", ${JSON.stringify(value)});\n`).join(""));
  const process_ = spawn(firefoxProgram(), ["--headless", "--no-remote", "--marionette", "--profile", profile],
    { stdio: "ignore", env: { ...process.env, HOME: profile, LANG: "C.UTF-8" } });
  const ended = new Promise((resolve) => process_.once("exit", resolve));
  const send = commands(await connected(port));
  await send("WebDriver:NewSession");
  await send("WebDriver:SetTimeouts", { script: 240000, pageLoad: 240000 });
  return {
    go: (url) => send("WebDriver:Navigate", { url }),
    run: async (body, ...args) => (await send("WebDriver:ExecuteScript", { script: `return (async () => { ${body} }).call(null, ...arguments)`, args })).value,
    async close() {
      await send("Marionette:Quit", { flags: ["eForceQuit"] }).catch(() => {});
      await ended;
      rmSync(profile, { recursive: true, force: true });
    },
  };
}
