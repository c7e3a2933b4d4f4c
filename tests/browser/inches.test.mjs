// In inches: what is typed is read as it is meant, and what is shown can be measured.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { done, field, fill, jobText, number, openDesk, picture, reveal, settled } from "./support.mjs";

let desk;
before(async () => (desk = await openDesk()));
after(async () => desk.close());

const inInches = () => desk.page({ job: 'construction = "foldover"\nunits = "in"\n', locale: "en-US" });

test("inch fractions are taken as typed, and lengths shown in inches", async () => {
  const page = await inInches();
  await fill(page, "pouch.seam_allowance", "1/4 in");  // so that the cut width is on the ruler
  for (const typed of ["7 1/2 in", '7-1/2"', "7½ in", "7.5in", "7.5"]) {
    await fill(page, "pouch.width", typed);
    assert.match(await number(page, "Finished"), /^7 1\/2 in × /);  // 190.5 mm; 1 in = 25.4 mm
    assert.equal(await page.inputValue(field("pouch.width")), typed);
  }
  await fill(page, "pouch.depth", "6 5/8");
  assert.match(await number(page, "Finished"), /× 6 5\/8 in$/);
  assert.match(await jobText(page), /depth = "6 5\/8"/);
  await picture(page, "inches");
  await done(page);
});

test("switching units keeps the size of what was typed, not its number", async () => {
  const page = await desk.page();
  await fill(page, "pouch.width", "190");
  await fill(page, "pouch.seal_width", "16");
  await page.selectOption(field("units"), "in");
  await settled(page);
  // 190 mm = 7.480 in, 16 mm = 0.630 in; 1 in = 25.4 mm (exact, by definition).
  assert.equal(await page.inputValue(field("pouch.width")), "7 1/2 in");
  assert.equal(await page.inputValue(field("pouch.seal_width")), "5/8 in");
  assert.match(await page.innerText("#answer"), /7 1\/2 in × /);
  await page.keyboard.press("Control+z");
  await page.waitForFunction(() => document.getElementById("text").value.includes("190"));
  await settled(page);
  assert.match(await jobText(page), /width = 190\n/);
  assert.equal(await page.inputValue(field("units")), "mm");
  await done(page);
});

test("the unit stands in the box until what is typed carries its own", async () => {
  const page = await inInches();
  await reveal(page, "pouch.width");
  const unit = page.locator('.field[data-path="pouch.width"] .unit');
  await fill(page, "pouch.width", "7 1/2");
  assert.equal(await unit.innerText(), "in");
  await fill(page, "pouch.width", "190 mm");
  assert.ok(!(await unit.isVisible()));
  await done(page);
});

test("nothing that matters is about nothing, and no metric amount stands in an inch job", async () => {
  const page = await inInches();
  for (const [path, text] of [["liners.count", "3"], ["liners.width", "3 1/4"], ["liners.length", "4 3/4"], ["liners.thickness", "3/8"]]) {
    await fill(page, path, text);
  }
  const shown = await page.innerText("#shows");
  assert.doesNotMatch(shown, /≈ 0 in/);
  assert.doesNotMatch(await page.innerText("#answer"), /m²|\bmm\b|\bcm\b/);
  await done(page);
});

test("arrow keys step by the lines of a ruler in inches", async () => {
  const page = await inInches();
  await fill(page, "pouch.width", "7 1/2");
  const handle = page.locator('.handle[data-path="pouch.width"]');
  await handle.focus();
  await page.keyboard.press("ArrowUp");
  await settled(page);
  assert.equal(await page.inputValue(field("pouch.width")), "7 5/8 in");
  await page.keyboard.press("ArrowDown");
  await settled(page);
  assert.equal(await page.inputValue(field("pouch.width")), "7 1/2 in");
  await done(page);
});
