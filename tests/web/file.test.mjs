// The page in one file, opened from a disk by a browser that has no network: it begins, answers what is typed, and
// makes the papers that the installed program makes, byte for byte.
//
// POUCHWRIGHT_FILE names the file.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { pathToFileURL } from "node:url";
import { browserProgram, fileOfCommand, fill, fragmentOf, number, picture, settled, top } from "../browser/support.mjs";

const file = pathToFileURL(process.env.POUCHWRIGHT_FILE).href;
const sample = readFileSync(`${top}/patterns/heron-quay.toml`, "utf8");

async function opened(fragment, prepare = async () => {}) {
  const { chromium } = await import("playwright-core");
  const args = process.getuid() === 0 ? ["--no-sandbox"] : [];
  const browser = await chromium.launch({ executablePath: browserProgram(), args });
  const context = await browser.newContext({ locale: "en-GB" });
  context.setDefaultTimeout(120000);
  const page = await context.newPage();
  const wrong = [];
  const requested = [];
  page.on("pageerror", (error) => wrong.push(error.message));
  page.on("console", (said) => said.type() === "error" && wrong.push(said.text()));
  page.on("request", (request) => requested.push(request.url()));
  await prepare(page);
  await page.goto(file + fragment);
  return { browser, page, wrong, requested };
}

/** Only the page itself, and what it made or holds. */
function checkAsked(requested) {
  const others = requested.filter((one) => !one.startsWith(file) && !/^(data|blob):/.test(one));
  assert.deepEqual(others, []);
}

test("it begins from a disk, says so meanwhile, and answers what is typed", async () => {
  const { browser, page, wrong, requested } = await opened(fragmentOf(sample));
  const begun = Date.now();
  await page.waitForSelector("body.program-ready");
  await settled(page);
  console.log(`shown after ${Date.now() - begun} ms`);
  assert.equal(await page.locator("#starting").count(), 0);
  const before = await number(page, "Cut");
  const typed = Date.now();
  await fill(page, "pouch.width", "190 mm");
  console.log(`an edit after ${Date.now() - typed} ms`);
  assert.notEqual(await number(page, "Cut"), before);
  const pictures = await page.locator("img:visible").evaluateAll((all) => all.map((one) => one.complete && one.naturalWidth > 0));
  assert.ok(pictures.length > 3);
  assert.ok(pictures.every((one) => one));
  await picture(page, "file");
  assert.deepEqual(wrong, []);
  checkAsked(requested);
  await browser.close();
});

test("what it prints is what the program prints", async () => {
  const { browser, page, wrong, requested } = await opened(fragmentOf(sample));
  await settled(page);
  await page.click('nav [data-enter="printing"]');
  const [download] = await Promise.all([page.waitForEvent("download"), page.locator("#room-printing .main").last().click()]);
  const chunks = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk);
  const bytes = Buffer.concat(chunks);
  const name = download.suggestedFilename();
  const command = name.match(/(packet|template|mask)\.pdf$/)?.[1];
  assert.ok(command, name);
  assert.ok(bytes.equals(fileOfCommand(command, sample, `${command}.pdf`)), name);
  assert.deepEqual(wrong, []);
  checkAsked(requested);
  await browser.close();
});

test("a browser without WebAssembly is told so in words", async () => {
  const { browser, page } = await opened("", (one) => one.addInitScript(() => delete globalThis.WebAssembly));
  await page.waitForFunction(() => document.getElementById("starting")?.textContent.includes("cannot run the program"));
  await browser.close();
});

test("a browser that keeps nothing says so", async () => {
  const { browser, page } = await opened("", (one) => one.addInitScript(() => {
    Object.defineProperty(window, "localStorage", { get() { throw new DOMException("no", "SecurityError"); } });
  }));
  await page.waitForFunction(() => document.getElementById("not-kept")?.textContent.includes("keeps nothing"));
  await browser.close();
});

test("licences are shown", async () => {
  const { browser, page } = await opened(fragmentOf(sample));
  const text = await page.locator(".licences pre").textContent();
  for (const name of ["Cairo", "pixman", "FreeType", "HarfBuzz", "FriBidi", "qpdf", "libpng", "libzip", "zlib", "Noto", "musl", "Boost"]) {
    assert.match(text, new RegExp(`==== .*${name}`));
  }
  await browser.close();
});
