// The record of a group's days on the page: files opened, bundles typed, what the program tells of them.
//
// Sources: what is told is held to the command's own report of the same rows; the record is the sample's,
// invented data.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { close, flat, go, inRoom, kept, open, openPage, opened, sample, type } from "./rooms_support.mjs";
import { done, jobText, picture, settled, top } from "./support.mjs";

before(open);
after(close);

const program = process.env.POUCHWRIGHT ?? join(top, ".build/dev/src/pouchwright");
const recordFile = join(top, "patterns/heron-quay-record.csv");

/** What the command tells of records, as its JSON. */
function recorded(...texts) {
  const folder = mkdtempSync(join(tmpdir(), "pouchwright-record-"));
  try {
    writeFileSync(join(folder, "job.toml"), sample);
    const names = texts.map((text, index) => (writeFileSync(join(folder, `${index}.csv`), text), `${index}.csv`));
    return JSON.parse(execFileSync(program, ["record", "job.toml", ...names, "--json", "--quiet"], { cwd: folder }));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const words = async (part) => {
  const inWords = part.locator("> .told-report > .in-words");
  await inWords.waitFor();
  await inWords.evaluate((one) => (one.open = true));
  return flat(await inWords.innerText());
};

/** One bundle's test, typed as a person does. */
async function typeTest(part, { bundle, pouches, leaks, place = "" }) {
  const form = part.getByRole("form", { name: "Type in a bundle" });
  await form.getByLabel("Work", { exact: true }).selectOption("test");
  await type(form, "Number of the bundle", bundle);
  await type(form, "Pouches", pouches);
  await type(form, "How many leak", leaks);
  await type(form, "Where they leak", place);
  await form.getByRole("button", { name: "Add it" }).click();
}

test("a record that is opened is told as the command tells it", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "record");
  await part.locator('input[type="file"]').setInputFiles(recordFile);
  await part.getByText("heron-quay-record.csv is here.").waitFor();
  const told = recorded(readFileSync(recordFile, "utf-8"));
  assert.ok((await words(part)).includes(`${told.leaked} of ${told.tested} pouches tested leak`));
  await part.locator(":scope > figure img").waitFor();
  const pdf = await kept(page, part.getByRole("button", { name: "PDF" }));
  assert.match(pdf.name, /-record\.pdf$/);
  assert.equal(pdf.bytes.subarray(0, 5).toString(), "%PDF-");
  await picture(page, "record");
  await done(page);
});

test("bundles are typed in, kept in the browser, taken out again, and saved", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "record");
  await part.locator("summary", { hasText: "Type in a bundle" }).click();
  await typeTest(part, { bundle: "1", pouches: "5", leaks: "0" });
  await part.locator(".stock li").waitFor();
  await typeTest(part, { bundle: "2", pouches: "5", leaks: "1", place: "left corner, below" });
  await part.locator(".stock li").nth(1).waitFor();
  assert.match(await words(part), /1 of 10 pouches tested leak/);
  assert.match(await part.locator(".stock li span").first().innerText(), /Bundle 2 · .* · 1 of 5 leak · left corner, below/);
  const csv = (await kept(page, part.getByRole("button", { name: "Keep what was typed as a file" }))).bytes.toString();
  assert.equal(recorded(csv).by_place[0].place, "left corner, below");
  await page.reload();
  await settled(page);
  const again = await opened(page, "record");
  await again.locator(".stock li").nth(1).waitFor();
  await again.locator(".stock button").first().click();
  await page.waitForFunction(() => document.querySelectorAll("[data-place=record] .stock li").length === 1);
  assert.match(await words(again), /0 of 5 pouches tested leak/);
  await done(page);
});

test("where the browser keeps nothing, the record is held and said to be", async () => {
  const prepare = (page) => page.addInitScript(() => (Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }));
  const page = await inRoom("plans", { prepare });
  const part = await opened(page, "record");
  await part.locator("summary", { hasText: "Type in a bundle" }).click();
  await typeTest(part, { bundle: "1", pouches: "5", leaks: "2" });
  await part.getByText("until the page is closed").waitFor();
  assert.match(await words(part), /2 of 5 pouches tested leak/);
  await done(page);
});

test("a record too large to be sent is refused, and the one that is there stays", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "record");
  await part.locator('input[type="file"]').setInputFiles(recordFile);
  await part.locator(".stock li").waitFor();
  // Each comma and each line's end is three letters on its way.
  const buffer = Buffer.from(`${readFileSync(recordFile, "utf-8").split("\n")[0]}\n${",,,,,,,,,,,,,\n".repeat(30_000)}`);
  await part.locator('input[type="file"]').setInputFiles({ name: "long.csv", mimeType: "text/csv", buffer });
  await part.getByText("long.csv is too large").waitFor();
  assert.equal(await part.locator(".stock li").count(), 1);
  await done(page);
});

test("a pouch that is had back has its record", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "record");
  await part.locator('input[type="file"]').setInputFiles(recordFile);
  await part.locator(".stock li").waitFor();
  await page.locator("nav [data-enter=pouches]").click();
  await page.locator("#new").click();
  await page.locator("nav [data-enter=pouches]").click();
  const row = page.locator("#kept li", { hasText: "Heron Quay carry pouch" });
  await row.getByRole("button", { name: /delete/i }).click();
  await page.locator("#done button").click();
  await row.getByRole("button").first().click();
  await settled(page);
  await go(page, "plans");
  await (await opened(page, "record")).locator(".stock li").waitFor();
  await done(page);
});

test("a bundle without its number is not taken, and the box is gone to", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "record");
  await part.locator("summary", { hasText: "Type in a bundle" }).click();
  await typeTest(part, { bundle: "", pouches: "5", leaks: "0" });
  const label = await page.evaluate(() => document.querySelector(`label[for="${document.activeElement.id}"]`)?.textContent);
  assert.equal(label, "Number of the bundle");
  assert.equal(await part.locator(".stock li").count(), 0);
  await done(page);
});

test("a pouch takes what its record shows, and undo takes it back", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "record");
  await part.locator('input[type="file"]').setInputFiles(recordFile);
  await part.locator(".stock li").waitFor();
  const before_ = await jobText(page);
  await part.getByRole("button", { name: "Take over what it shows" }).click();
  await part.getByText("Undo takes it back").waitFor();
  await settled(page);
  const { setting } = recorded(readFileSync(recordFile, "utf-8"));
  assert.match(await jobText(page), new RegExp(`\\[iron\\][^\\[]*dots = ${setting.dots}`));
  await page.locator("#undo").click();
  await settled(page);
  assert.equal(await jobText(page), before_);
  await done(page);
});

test("a record opened like a pouch leads to its place", async () => {
  const page = await openPage({ job: sample });
  await page.locator("#open").setInputFiles(recordFile);
  const part = page.locator("[data-place=record]");
  await part.locator(".stock li").waitFor();
  assert.match(await words(part), /pouches tested leak/);
  assert.equal(await jobText(page), sample);
  await done(page);
});

test("a file that is no record is told in words", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "record");
  await part.locator('input[type="file"]').setInputFiles({ name: "other.csv", mimeType: "text/csv", buffer: Buffer.from("a,b\n1,2\n") });
  await part.locator(".room-fault").first().waitFor();
  assert.match(await part.locator(".room-fault").first().innerText(), /no column is called/);
  await done(page);
});
