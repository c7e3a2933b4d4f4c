// Printing: every paper with its pages, the browser's own dialogue, what the check square measured.
//
// Sources: files are held to the commands'; the pages of a PDF are counted by poppler's pdfinfo;
// quotients of two lengths by hand, where they stand.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { calls, close, countOf, go, inRoom, kept, kPrint, open, pagesOf, report, sample, type } from "./rooms_support.mjs";
import { dialogue, done, fileOfCommand, jobText, settled } from "./support.mjs";

before(open);
after(close);

test("every paper tells its pages before it is made, and is the command's", async () => {
  const page = await inRoom("printing");
  for (const [name, file] of [["template", "template.pdf"], ["cards", "mask.pdf"], ["all", "packet.pdf"]]) {
    await page.check(`${kPrint} input[value=${name}]`);
    const count = await countOf(page, name);
    await page.waitForFunction((pages) => document.querySelectorAll("#room-printing .thumbs li").length === pages, count);
    const made = await kept(page, page.locator("#print-keep"));
    assert.equal(made.name, `Heron-Quay-carry-pouch-three-liners-${file}`);
    assert.equal(pagesOf(made.bytes), count, name);
    if (name === "template") assert.ok(made.bytes.equals(fileOfCommand("template", sample, "template.pdf")), "the PDF is not the command's");
    assert.match(await page.innerText(`${kPrint} .room-status`), /is with your downloads/);
  }
  await done(page);
});

test("pages are shown small, large when asked for, and go back by Escape", async () => {
  const page = await inRoom("printing");
  await page.check(`${kPrint} input[value=template]`);
  await page.waitForFunction(() => {
    const images = [...document.querySelectorAll("#room-printing .thumbs img")];
    return images.length > 0 && images.every((one) => one.naturalWidth > 0);
  });
  const first = page.locator(`${kPrint} .thumb`).first();
  assert.match(await first.getAttribute("aria-label"), /^Page 1 of \d/);
  await first.focus();
  await page.keyboard.press("Enter");
  assert.ok(await page.isVisible(`${kPrint} dialog img`));
  await page.keyboard.press("Escape");
  assert.ok(!(await page.isVisible(`${kPrint} dialog`)));
  assert.ok(await first.evaluate((one) => one === document.activeElement));
  await done(page);
});

test("drawings for a cutting machine have no words, so the caution is told", async () => {
  const page = await inRoom("printing");
  assert.ok(!(await page.isVisible("#print-lines")));
  await page.check(`${kPrint} input[value=template]`);
  const made = await kept(page, page.locator("#print-lines"));
  assert.match(made.name, /-lines\.zip$/);
  assert.equal(made.bytes.subarray(0, 2).toString(), "PK");
  assert.match(await page.innerText(`${kPrint} .room-status`), /never cut laminate by laser/);
  await done(page);
});

test("who cuts with a ruler prints the fold gauge and no template", async () => {
  const page = await inRoom("printing");
  const all = await countOf(page, "all");
  await page.click(`${kPrint} summary`);
  await page.check("#print-ruler");
  await page.locator(`${kPrint} .section-choice input[value=template]`).waitFor({ state: "detached" });
  assert.match(await jobText(page), /\[packet\]\ntemplate = "gauge"/);
  await page.waitForFunction((pages) => document.querySelectorAll("#room-printing .thumbs img").length < pages, all);
  await page.click("#undo");
  await page.locator(`${kPrint} .section-choice input[value=template]`).waitFor();
  assert.ok(!(await page.isChecked("#print-ruler")));
  await done(page);
});

test("the page to test the printer with is looked at and kept like the others", async () => {
  const page = await inRoom("printing");
  assert.equal(await countOf(page, "test"), 1);
  await page.check(`${kPrint} input[value=test]`);
  await page.waitForFunction(() => {
    const images = [...document.querySelectorAll("#room-printing .thumbs img")];
    return images.length === 1 && images[0].naturalWidth > 0;
  });
  const made = await kept(page, page.locator("#print-keep"));
  assert.match(made.name, /-test-page\.pdf$/);
  assert.equal(pagesOf(made.bytes), 1);
  await done(page);
});

test("a room that is come back to asks for nothing that it has", async () => {
  const page = await inRoom("printing");
  await page.check(`${kPrint} input[value=template]`);
  await countOf(page, "schedule");
  await page.waitForFunction(() => [...document.querySelectorAll("#room-printing .thumbs img")].every((one) => one.naturalWidth > 0));
  // The answer's line asks for sheets and cloth once nobody types.
  await page.waitForFunction(() => /sheet/.test(document.getElementById("answer").textContent));
  const before_ = calls(page).length;
  await go(page, "pouch");
  await go(page, "printing");
  await page.waitForTimeout(500);
  assert.equal(calls(page).length, before_);
  await done(page);
});

test("parts that are not wanted are left out, and the cards to go home are counted out", async () => {
  const page = await inRoom("printing");
  const all = await countOf(page, "all");
  await page.click(`${kPrint} summary`);
  const part = (name) => page.locator(`${kPrint} .section-choice input[value=${name}]`);
  await part("template").uncheck();
  await part("mask").uncheck();
  assert.ok(await page.isVisible("#print-keep"));
  const fewer = await countOf(page, "all");
  assert.ok(fewer < all);
  let made = await kept(page, page.locator("#print-keep"));
  assert.equal(pagesOf(made.bytes), fewer);
  await type(page.locator(kPrint), "Cards to go home, each drawn", "40");
  await page.waitForFunction((pages) => document.querySelectorAll("#room-printing .thumbs li").length > pages, fewer);
  const drawn = await countOf(page, "all");
  made = await kept(page, page.locator("#print-keep"));
  assert.equal(pagesOf(made.bytes), drawn);
  await done(page);
});

test("Print opens the browser's own dialogue on the PDF", dialogue, async () => {
  const page = await inRoom("printing", {
    prepare: (one) => one.addInitScript(() => {
      window.print = () => (window.top.dialogues ??= []).push(location.protocol);
    }),
  });
  await page.check(`${kPrint} input[value=template]`);
  await countOf(page, "template");
  await page.click("#print-now");
  await page.waitForFunction(() => /print dialogue is open/.test(document.querySelector("#room-printing .room-status").textContent));
  assert.equal(await page.locator("iframe.print-frame").count(), 1);
  assert.match(await page.getAttribute("iframe.print-frame", "src"), /^blob:/);
  await done(page);
});

test("where the browser shows no PDF, it is kept instead, and the person told so", async () => {
  const page = await inRoom("printing", {
    prepare: (one) => one.addInitScript(() => Object.defineProperty(navigator, "pdfViewerEnabled", { get: () => false })),
  });
  await page.check(`${kPrint} input[value=template]`);
  await countOf(page, "template");
  const made = await kept(page, page.locator("#print-now"));
  assert.match(made.name, /-template\.pdf$/);
  assert.match(await page.innerText(`${kPrint} .room-status`), /open it and print it from there, at 100 %/);
  await done(page);
});

test("what was kept is called old once the pouch has changed", async () => {
  const page = await inRoom("printing");
  await page.check(`${kPrint} input[value=template]`);
  await countOf(page, "template");
  await kept(page, page.locator("#print-keep"));
  const old = page.locator(`${kPrint} .room-old`);
  assert.equal(await old.innerText(), "");
  await go(page, "pouch");
  await page.locator('[id="pouch.width"]').evaluate((box) => {
    box.value = "200 mm";
    box.dispatchEvent(new Event("input", { bubbles: true }));
  });
  await settled(page);
  await go(page, "printing");
  await old.filter({ hasText: /as it was before/ }).waitFor();
  await done(page);
});

test("what the square measured is taken at once, and what it changes is told", async () => {
  const page = await inRoom("printing");
  const part = page.locator("#measuring");
  await type(part, "Across", "49.5");
  await type(part, "Down", "50.2");
  // 50 / 49.5 is 1.0101, 50 / 50.2 is 0.9960.
  await part.getByText("1 % wider and 0.4 % shorter").waitFor();
  const job = await jobText(page);
  assert.match(job, /printed_square = "49\.5 x 50\.2 mm"/);
  const { documents } = await report(page, "template", job);
  assert.deepEqual([documents[0].scale.x, documents[0].scale.y].map((one) => one.toFixed(4)), ["1.0101", "0.9960"]);
  await type(part, "Across", "50");
  await type(part, "Down", "50");
  await part.getByText("This printer prints true").waitFor();
  // More than 3 % off is a wrong setting, not a wrong printer.
  await type(part, "Down", "40");
  await part.getByText("a wrong print setting, not a wrong printer").waitFor();
  await page.click("#undo");
  await settled(page);
  assert.match(await jobText(page), /printed_square = "50 x 50 mm"/);
  await done(page);
});
