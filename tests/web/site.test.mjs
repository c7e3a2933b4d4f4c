// The folder for a web host: the browser keeps the page as an app, opens it when the host is away, and takes a newer
// version when the host has one.
//
// POUCHWRIGHT_SITE names the folder. Sources: the manifest and service worker standards, as a browser applies them.

import assert from "node:assert/strict";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { fragmentOf, number, openBrowser, settled, top } from "../browser/support.mjs";

const site = process.env.POUCHWRIGHT_SITE;
const sample = readFileSync(`${top}/patterns/heron-quay.toml`, "utf8");
const kTypes = { html: "text/html", js: "text/javascript", png: "image/png", webmanifest: "application/manifest+json" };

/** A host that hands out `folder` and nothing else. */
async function hosted(folder, port = 0) {
  const asked = [];
  const server = createServer((request, response) => {
    asked.push(request.url);
    const name = request.url.slice(1);
    try {
      response.writeHead(200, { "Content-Type": kTypes[name.split(".").at(-1)] }).end(readFileSync(join(folder, name)));
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise((resolve) => server.listen(port, "127.0.0.1", resolve));
  const close = () => new Promise((resolve) => (server.close(resolve), server.closeAllConnections()));
  return { asked, close, port: server.address().port, home: `http://127.0.0.1:${server.address().port}/pouchwright.html` };
}

async function opened(home) {
  const browser = await openBrowser();
  const context = await browser.newContext({ locale: "en-GB" });
  context.setDefaultTimeout(120000);
  const page = await context.newPage();
  page.wrong = [];
  page.on("pageerror", (error) => page.wrong.push(error.message));
  page.on("console", (said) => said.type() === "error" && page.wrong.push(said.text()));
  await page.goto(home + fragmentOf(sample));
  await settled(page);
  return { browser, page };
}

const kept = (page) => page.evaluate(async () => {
  await navigator.serviceWorker.ready;
  while (!navigator.serviceWorker.controller) await new Promise((resolve) => setTimeout(resolve, 20));
  return caches.keys();
});

test("it can be kept as an app, and asks its host for nothing but itself", async () => {
  const host = await hosted(site);
  const { browser, page } = await opened(host.home);
  await kept(page);
  const client = await page.context().newCDPSession(page);
  const { url, errors, data } = await client.send("Page.getAppManifest");
  assert.match(url, /\/pouchwright\.webmanifest$/);
  assert.deepEqual(errors, []);
  assert.equal(JSON.parse(data).start_url, "pouchwright.html");
  const { installabilityErrors } = await client.send("Page.getInstallabilityErrors");
  // The browser of a test keeps nothing for longer than itself, and says so.
  assert.deepEqual(installabilityErrors.map(({ errorId }) => errorId).filter((id) => id !== "in-incognito"), []);
  const files = ["/icon-192.png", "/icon-512.png", "/offline.js", "/pouchwright.html", "/pouchwright.webmanifest"];
  assert.deepEqual([...new Set(host.asked)].sort(), files);
  assert.deepEqual(page.wrong, []);
  await browser.close();
  await host.close();
});

test("it opens and works when the host is away", async () => {
  const host = await hosted(site);
  const { browser, page } = await opened(host.home);
  await kept(page);
  const before = await number(page, "Cut");
  await host.close();
  await page.reload();
  await settled(page);
  await page.waitForSelector("body.program-ready", { state: "attached" });
  assert.equal(await number(page, "Cut"), before);
  // The browser may look for a newer version, and finds nobody.
  assert.deepEqual(page.wrong.filter((one) => !one.includes("offline.js")), []);
  await browser.close();
});

test("a newer version takes the older one's place", async () => {
  const folder = mkdtempSync(join(tmpdir(), "pouchwright-site-"));
  cpSync(site, folder, { recursive: true });
  const host = await hosted(folder);
  const { browser, page } = await opened(host.home);
  const [old] = await kept(page);
  const change = (name, from, to) => {
    const text = readFileSync(join(folder, name), "utf8");
    assert.ok(text.includes(from), `${name}: ${from}`);
    writeFileSync(join(folder, name), text.replace(from, to));
  };
  change("pouchwright.html", "<main ", '<main data-newer="yes" ');
  change("offline.js", old.replace("pouchwright-", ""), "0123456789abcdef");
  await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    await registration.update();
    while ((await caches.keys()).join() !== "pouchwright-0123456789abcdef") await new Promise((resolve) => setTimeout(resolve, 20));
  });
  await page.reload();
  await settled(page);
  assert.equal(await page.locator("main[data-newer]").count(), 1);
  assert.deepEqual(page.wrong, []);
  await browser.close();
  await host.close();
  rmSync(folder, { recursive: true });
});
