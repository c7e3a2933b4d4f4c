// What the tests of the rooms ask of the page: a room entered, the folding shown, the papers counted, a
// place of the plans opened.

import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { enter, openDesk, top } from "./support.mjs";

let desk;
/** For a file's `before` and `after`. */
export const open = async () => (desk = await openDesk());
export const close = async () => desk.close();
export const openPage = (options) => desk.page(options);

export const sample = readFileSync(join(top, "patterns/heron-quay.toml"), "utf-8");

/** The sample job in a room. */
export async function inRoom(name, options = {}) {
  const page = await openPage({ job: sample, ...options });
  await go(page, name);
  return page;
}

export async function go(page, name) {
  await enter(page, name);
  // A room's parts come when it is entered first.
  await page.waitForFunction((room) => document.body.dataset.room === room &&
    (room === "pouch" || document.querySelector(`#room-${room} .inside`).children.length > 0), name);
}

export const calls = (page) => page.requested.map((url) => new URL(url)).filter((url) => url.pathname.startsWith("/api/"));

export async function report(page, route, job = sample) {
  return (await page.request.post(`${desk.address}api/${route}`, { data: job })).json();
}

/** The command's table, as a terminal has it, but with values called as people call them. */
export async function tableOf(page, command) {
  return (await page.request.post(`${desk.address}api/${command}?form=text&names=words`, { data: sample })).text();
}

/** Types into the box called `name` of `within`, as a person who leaves it. */
export async function type(within, name, text) {
  const box = within.getByLabel(name, { exact: true });
  await box.fill(text);
  await box.blur();
}

/** The bytes that a click downloads, and the name they have. */
export async function kept(page, button) {
  const [download] = await Promise.all([page.waitForEvent("download"), button.click()]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

export function pagesOf(bytes) {
  const folder = mkdtempSync(join(tmpdir(), "pouchwright-pages-"));
  try {
    writeFileSync(join(folder, "it.pdf"), bytes);
    return Number(/^Pages:\s+(\d+)$/m.exec(execFileSync("pdfinfo", [join(folder, "it.pdf")]).toString())[1]);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

// ---- Watch it fold ----

export const kFold = "#room-folding";
export const slider = (page) => page.locator(`${kFold} input[type=range]`);
export const shownStep = (page) => page.locator(`${kFold} .folding-number`).innerText();

export async function folded(page) {
  await page.waitForFunction(() => {
    const image = document.querySelector("#room-folding .folding-stage img");
    return image?.src !== "" && image.complete && image.naturalWidth > 0 && document.querySelector(".folding-stage").dataset.state === "";
  });
}

export async function moveTo(page, value) {
  await slider(page).fill(String(value));
  await folded(page);
}

// ---- Printing ----

export const kPrint = "#room-printing";
export const paper = (page, name) => page.locator(`${kPrint} .paper-choice:has(input[value=${name}])`);
export const countOf = async (page, name) => {
  const count = paper(page, name).locator(".count");
  await count.filter({ hasText: /page/ }).waitFor();
  return Number(/\d+/.exec(await count.innerText())[0]);
};

// ---- Plans ----

export const place = (page, name) => page.locator(`#room-plans [data-place=${name}]`);

/** Opens a place alone, and waits until it has told something. */
export async function opened(page, name) {
  await page.evaluate((wanted) => document.querySelectorAll(".place").forEach((one) => (one.open = one.dataset.place === wanted)), name);
  await told(page, name);
  return place(page, name);
}

export async function told(page, name) {
  await page.waitForFunction((of) => {
    const report_ = document.querySelector(`[data-place=${of}] > .told-report`);
    return report_.children.length > 0 && !report_.classList.contains("working");
  }, name);
}

export const flat = (text) => text.replace(/\s+/g, " ");
