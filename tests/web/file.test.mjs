// The page in one file, opened from a disk by a browser that has no network: it begins, answers what is typed, and
// makes the papers that the installed program makes, byte for byte.
//
// POUCHWRIGHT_FILE names the file. Times and sizes are printed, and held with room for a busy machine.
// Sources: the Content Security Policy standard, as a browser applies it.

import assert from "node:assert/strict";
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { pathToFileURL } from "node:url";
import { enter, fileOfCommand, fill, fragmentOf, number, openBrowser, packetOf, picture, reveal, settled, top } from "../browser/support.mjs";

const file = pathToFileURL(process.env.POUCHWRIGHT_FILE).href;
const sample = readFileSync(`${top}/patterns/heron-quay.toml`, "utf8");

/** The file with `fragment` behind its address; `prepare(page)` is called before it opens. */
async function opened(fragment, prepare = async () => {}, address = file) {
  const browser = await openBrowser();
  const context = await browser.newContext({ locale: "en-GB" });
  context.setDefaultTimeout(120000);
  const page = await another(context, fragment, prepare, address);
  return { browser, context, page };
}

async function another(context, fragment, prepare = async () => {}, address = file) {
  const page = await context.newPage();
  page.wrong = [];
  page.requested = [];
  page.on("pageerror", (error) => page.wrong.push(error.message));
  page.on("console", (said) => said.type() === "error" && page.wrong.push(said.text()));
  page.on("request", (request) => page.requested.push(request.url()));
  await prepare(page);
  await page.goto(address + fragment);
  return page;
}

/** Nothing went wrong, and only the page itself was asked for, what it made or holds, and the browser's own viewer. */
function checkQuiet({ wrong, requested }) {
  assert.deepEqual(wrong, []);
  assert.deepEqual(requested.filter((one) => !one.startsWith(file) && !/^(data|blob|chrome-extension):/.test(one)), []);
}

async function downloaded(page, click) {
  const [download] = await Promise.all([page.waitForEvent("download"), click()]);
  const chunks = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk);
  return { name: download.suggestedFilename(), bytes: Buffer.concat(chunks) };
}

/** Says which programs were begun while the file was still read. */
const seeEarlyWorkers = (page) => page.addInitScript(() => {
  window.early = [];
  window.Worker = class extends window.Worker {
    constructor(...all) {
      super(...all);
      window.early.push(document.readyState === "loading");
    }
  };
});

/** Counts the programs that are begun, and what they are asked. */
const countWorkers = (page) => page.addInitScript(() => {
  window.begun = 0;
  window.asked = 0;
  window.Worker = class extends window.Worker {
    postMessage(...all) {
      super.postMessage(...all);
      ++window.asked;
    }
    constructor(...all) {
      super(...all);
      ++window.begun;
    }
  };
});

test("it is one file of less than 8 MB", (t) => {
  const { size } = statSync(process.env.POUCHWRIGHT_FILE);
  t.diagnostic(`${size} bytes`);
  assert.ok(size < 8e6, `${size} bytes`);
});

test("it begins from a disk, says so meanwhile, and answers what is typed", async (t) => {
  const begun = Date.now();
  const { browser, page } = await opened(fragmentOf(sample), seeEarlyWorkers);
  await page.waitForSelector("body.program-ready", { state: "attached" });
  t.diagnostic(`ready ${Date.now() - begun} ms after the browser was begun`);
  t.diagnostic(`ready ${await page.evaluate(() => Math.round(performance.now()))} ms after it was opened`);
  await settled(page);
  t.diagnostic(`shown ${await page.evaluate(() => Math.round(performance.now()))} ms after it was opened`);
  assert.equal(await page.locator("#starting").count(), 0);
  assert.deepEqual(await page.evaluate(() => window.early), [true]);
  const before = await number(page, "Cut");
  await fill(page, "pouch.width", "200 mm");
  assert.notEqual(await number(page, "Cut"), before);
  await page.waitForFunction(() => document.querySelector("#pouch").naturalWidth > 0);
  const pictures = await page.locator("img:visible").evaluateAll((all) => all.map((one) => one.complete && one.naturalWidth > 0));
  assert.ok(pictures.length > 3);
  assert.ok(pictures.every((one) => one));
  await picture(page, "file");
  checkQuiet(page);
  await browser.close();
});

test("a keystroke's picture is there before the next", async (t) => {
  const { browser, page } = await opened(fragmentOf(sample));
  await settled(page);
  await reveal(page, "pouch.width");
  const times = await page.evaluate(async () => {
    const control = document.getElementById("pouch.width");
    const image = document.getElementById("pouch");
    const rest = () => new Promise((resolve) => setTimeout(resolve, 1));
    const all = [];
    for (let i = 0; i < 40; ++i) {
      const before = image.src;
      const begun = performance.now();
      control.value = String(150 + i + (i % 2) * 40);
      control.dispatchEvent(new Event("input", { bubbles: true }));
      while (image.src === before) await rest();
      all.push(performance.now() - begun);
      while (document.body.dataset.state !== "shown") await rest();
    }
    return all.sort((a, b) => a - b);
  });
  t.diagnostic(`a keystroke to its picture: median ${times[20].toFixed(0)} ms, worst of 40 ${times.at(-1).toFixed(0)} ms`);
  // Ten times what it takes on a machine that does nothing else.
  assert.ok(times[20] < 1500, `${times[20]}`);
  checkQuiet(page);
  await browser.close();
});

test("what it prints is what the program prints", async (t) => {
  const { browser, page } = await opened(fragmentOf(sample));
  await settled(page);
  await enter(page, "printing");
  await page.waitForSelector("#room-printing .main:not([disabled])");
  const begun = Date.now();
  const { name, bytes } = await downloaded(page, () => page.locator("#room-printing .main").last().click());
  t.diagnostic(`${name} after ${Date.now() - begun} ms`);
  const command = name.match(/(packet|template|mask)\.pdf$/)?.[1];
  assert.ok(command, name);
  const made = command === "packet" ? packetOf(sample) : fileOfCommand(command, sample, `${command}.pdf`);
  assert.ok(bytes.equals(made), `${name}: ${bytes.length} and ${made.length} bytes`);
  checkQuiet(page);
  await browser.close();
});

test("what nobody waits for any more is ended, and the next is answered", async (t) => {
  const { browser, page } = await opened(fragmentOf(sample), countWorkers);
  await settled(page);
  assert.equal(await page.evaluate(() => window.begun), 1);
  await reveal(page, "pouch.width");
  const took = await page.evaluate(async () => {
    // The page's patience with what is overtaken is over at once.
    const later = window.setTimeout;
    window.setTimeout = (does, time, ...more) => later(does, time === 400 ? 0 : time, ...more);
    const control = document.getElementById("pouch.width");
    const type = (typed) => {
      control.value = typed;
      control.dispatchEvent(new Event("input", { bubbles: true }));
    };
    const asked = window.asked;
    type("195 mm");
    while (window.asked === asked) await new Promise((resolve) => later(resolve, 1));
    const begun = performance.now();
    type("202 mm");
    while (window.begun < 2) await new Promise((resolve) => later(resolve, 1));
    while (document.body.dataset.state !== "shown") await new Promise((resolve) => later(resolve, 1));
    return performance.now() - begun;
  });
  t.diagnostic(`answered ${took.toFixed(0)} ms after the edit that overtook, by a program begun anew`);
  assert.equal(await page.evaluate(() => window.begun), 2);
  assert.match(await page.locator("#text").inputValue(), /202 mm/);
  checkQuiet(page);
  await browser.close();
});

test("a page that is left in the middle of a packet, and two of them at once", async () => {
  const { browser, context, page } = await opened(fragmentOf(sample));
  await settled(page);
  await enter(page, "printing");
  await page.reload();
  await settled(page);
  await enter(page, "pouch");
  const other = await another(context, fragmentOf('construction = "gusset"\ntitle = "The other"\n'));
  await settled(other);
  await fill(page, "pouch.width", "188 mm");
  await fill(other, "pouch.width", "166 mm");
  assert.equal(await other.locator("#pouch-title").textContent(), "The other");
  assert.match(await page.locator("#text").inputValue(), /188 mm/);
  assert.match(await other.locator("#text").inputValue(), /166 mm/);
  checkQuiet(page);
  checkQuiet(other);
  await browser.close();
});

test("a link of 100 kB is opened", async () => {
  const long = `${sample}\n${"# A line of what the group wrote down beside its job, and nobody reads.\n".repeat(1400)}`;
  assert.ok(fragmentOf(long).length > 100000);
  const { browser, page } = await opened(fragmentOf(long));
  await settled(page);
  assert.match(await number(page, "Cut"), /\d/);
  checkQuiet(page);
  await browser.close();
});

test("its policy lets nothing out, and no other script in", async () => {
  const { browser, page } = await opened(fragmentOf(sample));
  await settled(page);
  const why = new Set();
  page.on("requestfailed", (request) => why.add(request.failure().errorText));
  page.on("requestfinished", (request) => request.url().startsWith("http") && why.add(`finished: ${request.url()}`));
  const { refused, isIn } = await page.evaluate(async () => {
    const all = new Set();
    addEventListener("securitypolicyviolation", ({ effectiveDirective }) => all.add(effectiveDirective));
    const address = "http://127.0.0.1:9/";
    const add = (name, changes) => document.body.appendChild(Object.assign(document.createElement(name), changes));
    await fetch(address).catch(() => {});
    try {
      new WebSocket("ws://127.0.0.1:9/");
    } catch {
      // Some browsers throw.
    }
    add("img", { src: address });
    add("iframe", { src: address });
    add("link", { rel: "stylesheet", href: `${address}a.css` });
    add("video", { src: address });
    add("script", { textContent: "window.isIn = true;" });
    add("script", { src: `${address}a.js` });
    add("form", { action: address, method: "post" }).submit();
    await new Promise((resolve) => setTimeout(resolve, 500));
    try {
      setTimeout("window.isIn = true;", 0);
    } catch {
      // As above.
    }
    await new Promise((resolve) => setTimeout(resolve, 100));
    return { refused: [...all].sort(), isIn: "isIn" in window };
  });
  const expected = ["connect-src", "form-action", "frame-src", "img-src", "media-src", "script-src", "script-src-elem", "style-src-elem"];
  assert.deepEqual(refused, expected);
  assert.ok(!isIn);
  // Whatever was asked for was held back by the policy, and not by the missing network.
  assert.deepEqual([...why], ["csp"]);
  await browser.close();
});

test("a browser without WebAssembly is told so in words", async () => {
  const { browser, page } = await opened("", (one) => one.addInitScript(() => delete globalThis.WebAssembly));
  await page.waitForFunction(() => document.getElementById("starting")?.textContent.includes("cannot run the program"));
  await browser.close();
});

test("a copy of the file that broke off says so", async () => {
  const folder = mkdtempSync(join(tmpdir(), "pouchwright-file-"));
  const half = join(folder, "half.html");
  writeFileSync(half, readFileSync(process.env.POUCHWRIGHT_FILE).subarray(0, 2e6));
  const { browser, page } = await opened("", async () => {}, pathToFileURL(half).href);
  await page.waitForFunction(() => document.getElementById("starting").textContent.includes("not whole"));
  assert.ok(await page.isVisible("#starting"));
  await browser.close();
  rmSync(folder, { recursive: true });
});

test("a browser that keeps nothing says so", async () => {
  const { browser, page } = await opened("", (one) => one.addInitScript(() => {
    for (const name of ["localStorage", "sessionStorage"]) {
      Object.defineProperty(window, name, { get() { throw new DOMException("no", "SecurityError"); } });
    }
  }));
  await page.waitForFunction(() => document.getElementById("not-kept")?.textContent.includes("keeps nothing"));
  await page.waitForSelector("body.program-ready", { state: "attached" });
  await browser.close();
});

test("licences are shown", async () => {
  const { browser, page } = await opened(fragmentOf(sample));
  const text = await page.locator(".licences pre").textContent();
  for (const name of ["Cairo", "pixman", "FreeType", "HarfBuzz", "FriBidi", "qpdf", "libpng", "libzip", "libqrencode", "zlib", "Noto", "musl", "Boost"]) {
    assert.match(text, new RegExp(`==== .*${name}`));
  }
  await browser.close();
});
