// The desk in a real browser: starting both, and what every test here asks of the page.
//
//     const desk = await openDesk();
//     const page = await desk.page({ width: 360 });        // with an empty job open
//     const page = await desk.page({ job: "" });           // as at the first visit
//
// POUCHWRIGHT names the program, POUCHWRIGHT_SOURCE the project, POUCHWRIGHT_PICTURES a folder for
// screenshots; POUCHWRIGHT_SLOWED says that the program is a slow one, as under a sanitizer; POUCHWRIGHT_PAGE names
// the page in one file, where that is to be opened in the place of the one that is served.

import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

export const top = process.env.POUCHWRIGHT_SOURCE ?? new URL("../..", import.meta.url).pathname;
const program = process.env.POUCHWRIGHT ?? join(top, ".build/dev/src/pouchwright");
export const isSlowed = process.env.POUCHWRIGHT_SLOWED === "1";
const onePage = process.env.POUCHWRIGHT_PAGE;
/** For tests of what goes between page and program, which there is nothing between in one file. */
export const served = { skip: onePage ? "nothing is served" : false };
/** For the browser's own print dialogue, into which a page from a disk may not reach: there the papers are saved. */
export const dialogue = { skip: onePage ? "a page from a disk saves its papers" : false };
const pictures = process.env.POUCHWRIGHT_PICTURES ?? join(top, ".build/browser");

/** Where Debian has the browser, or nothing. */
export function browserProgram() {
  return ["/usr/bin/chromium", "/usr/bin/chromium-browser"].find((path) => existsSync(path));
}

/** The bytes of `file`, as `command` on the command line makes it of `job`. */
export const fileOfCommand = (command, job, file) => madeOf(job, [command, "job.toml", "--out", "made"], join("made", file));

/** The bytes of a job's packet, as the command line makes it. */
export const packetOf = (job, options = []) => madeOf(job, ["packet", "job.toml", ...options], "packet.pdf");

function madeOf(job, command, file) {
  const folder = mkdtempSync(join(tmpdir(), "pouchwright-browser-"));
  try {
    writeFileSync(join(folder, "job.toml"), job);
    execFileSync(program, [...command, "--quiet"], { cwd: folder });
    return readFileSync(join(folder, file));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function startedDesk() {
  const process_ = spawn(program, ["desk", "--port", "0"], { stdio: ["ignore", "pipe", "inherit"] });
  const address = await new Promise((resolve, reject) => {
    process_.stdout.once("data", (data) => resolve(data.toString().trim()));
    process_.once("exit", (code) => reject(new Error(`the desk has left with ${code}`)));
  });
  return { process: process_, address };
}

export async function openBrowser() {
  const { chromium } = await import("playwright-core");
  // Chromium's own sandbox does not run for root, as in a container.
  const args = process.getuid() === 0 ? ["--no-sandbox"] : [];
  return chromium.launch({ executablePath: browserProgram(), args });
}

/**
 * The desk and a browser; `close` ends both. `home` is where the page lies, `address` where the program answers.
 */
export async function openDesk() {
  const { process: process_, address } = await startedDesk();
  const browser = await openBrowser();
  const home = onePage ? pathToFileURL(onePage).href : address;
  return {
    address,
    home,
    browser,
    page: (options) => openPage(browser, home, options),
    close: async () => {
      await browser.close();
      process_.kill("SIGINT");
    },
  };
}

/** A job in which nothing is decided. */
export const kEmptyJob = 'construction = "foldover"\nunits = "mm"\n';

/** The address's part that holds a job. */
export const fragmentOf = (job) => (job === "" ? "" : `#job=${Buffer.from(job).toString("base64url")}`);

/**
 * The page as a person has it: width, height, dark, script, locale, the `job` that its address holds, and
 * `prepare`, called before it opens.
 * `page.wrong` collects what went wrong in it, `page.requested` every address it asked for, the program's among them.
 */
async function openPage(browser, home, options = {}) {
  const { width = 1280, height = 900, dark = false, script = true, locale = "en-GB", prepare, job = kEmptyJob } = options;
  const fragment = options.fragment ?? fragmentOf(job);
  const context = await browser.newContext({
    viewport: { width, height },
    colorScheme: dark ? "dark" : "light",
    reducedMotion: options.reducedMotion ?? "no-preference",
    javaScriptEnabled: script,
    locale,
    hasTouch: options.touch ?? false,
    acceptDownloads: true,
  });
  const page = await context.newPage();
  page.wrong = [];
  page.requested = [];
  page.on("pageerror", (error) => page.wrong.push(error.message));
  page.on("console", (said) => {
    // A job at fault is answered with 422, which browsers write down as an error of loading.
    const isExpected = said.text().includes("422") || (page.mayBeAway && said.text().includes("net::"));
    if (said.type() === "error" && !isExpected) page.wrong.push(`${said.text()} ${said.location().url}`);
  });
  page.on("request", (request) => page.requested.push(request.url()));
  if (onePage) await listenToQuestions(page);
  // A program that is away is a fault of the network, and some tests take it away.
  page.mayBeAway = options.mayBeAway ?? false;
  if (prepare) await prepare(page);
  // A busy machine is not the page's fault.
  context.setDefaultTimeout(90000);
  await page.goto(home + fragment);
  if (script) await settled(page);
  return page;
}

/** In one file, what the page asks its program counts as requests, too, under an address of its own. */
async function listenToQuestions(page) {
  await page.exposeFunction("heardQuestion", (target) => page.requested.push(new URL(target, "http://program.example").href));
  await page.addInitScript(() => {
    window.Worker = class extends window.Worker {
      postMessage(message, ...more) {
        super.postMessage(message, ...more);
        if (message.target) window.heardQuestion(message.target);
      }
    };
  });
}

/** Waits until the page shows what the program says of the job as it is. */
export async function settled(page) {
  await page.waitForFunction(() => document.body.dataset.state === "shown");
}

/** Closes the page, and holds that nothing went wrong in it. */
export async function done(page) {
  await page.context().close();
  assert.deepEqual(page.wrong, []);
}

/** The field of `path` in sight, in whatever group it is. */
export async function reveal(page, path) {
  await page.locator(field(path)).evaluate((control) => {
    for (let part = control.closest("details"); part; part = part.parentElement.closest("details")) part.open = true;
  });
}

/** Types into the field of `path`, and waits for the answer; what is typed is judged at once. */
export async function fill(page, path, text) {
  await reveal(page, path);
  await page.locator(field(path)).fill(text);
  await settled(page);
  await judged(page);
}

/** As if the box were left: complaints wait until then. */
export async function judged(page) {
  await page.evaluate(() => document.dispatchEvent(new FocusEvent("focusout")));
}

export async function enter(page, room) {
  await page.click(`nav [data-enter="${room}"]`);
}

export const jobText = (page) => page.locator("#text").inputValue();

export const field = (path) => `[id="${path}"]`;
export const fault = (path) => `[id="${path}-fault"]`;

/** The number called `name` in the list of numbers. */
export async function number(page, name) {
  return page.locator("#numbers div", { hasText: name }).locator("dd").innerText();
}

export async function picture(page, name, fullPage = false) {
  mkdirSync(pictures, { recursive: true });
  await page.screenshot({ path: join(pictures, `${name}.png`), fullPage });
}

/** The bytes that a click on `selector` downloads, and the name they have. */
export async function downloaded(page, selector) {
  const [download] = await Promise.all([page.waitForEvent("download"), page.click(selector)]);
  const chunks = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk);
  return { name: download.suggestedFilename(), bytes: Buffer.concat(chunks) };
}
