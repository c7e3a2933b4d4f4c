// On a telephone of 360 px: three fields and Print within two screens, and the pouch in sight while sizes
// are typed.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { done, field, fill, openDesk, picture, reveal, settled } from "./support.mjs";

let desk;
before(async () => (desk = await openDesk()));
after(async () => desk.close());

const telephone = (options) => desk.page({ width: 360, height: 740, touch: true, ...options });

for (const dark of [false, true]) {
  test(`from the first question to Print it is two screens at most${dark ? ", also in the dark" : ""}`, async (t) => {
    const page = await telephone({ job: "", dark });
    const bottom = await page.evaluate(() => document.getElementById("start-print").getBoundingClientRect().bottom + scrollY);
    t.diagnostic(`screens ${(bottom / 740).toFixed(2)}`);
    assert.ok(bottom <= 2 * 740, `${bottom}`);
    await picture(page, `telephone-start${dark ? "-dark" : ""}`, true);
    for (const [path, text] of [["liners.width", "80"], ["liners.length", "120"], ["liners.thickness", "9"]]) {
      await page.tap(`[id="start-${path}"]`);
      await page.keyboard.type(text);
    }
    await settled(page);
    await page.tap("#start-more");
    assert.match(await page.innerText("#answer"), /3 liners/);
    await picture(page, `telephone${dark ? "-dark" : ""}`);
    await done(page);
  });
}

test("a small pouch stays in sight while a size is typed, and hides nothing that has the focus", async () => {
  const page = await telephone();
  await reveal(page, "tolerance.cut");
  await page.locator(field("tolerance.cut")).scrollIntoViewIfNeeded();
  await page.waitForSelector("#mini:visible");
  await fill(page, "pouch.width", "200 mm");
  await page.locator(field("pouch.width")).focus();
  await page.waitForFunction(() => /200 mm/.test(document.getElementById("mini-answer").textContent));
  const { box, bar } = await page.evaluate(() => ({
    box: document.activeElement.getBoundingClientRect().toJSON(),
    bar: document.getElementById("mini").getBoundingClientRect().toJSON(),
  }));
  assert.ok(box.top >= bar.bottom, `${box.top} ${bar.bottom}`);
  await picture(page, "telephone-mini");
  await done(page);
});

test("a pouch that would leak is red in the bar too", async () => {
  const page = await telephone();
  const calm = await page.evaluate(() => getComputedStyle(document.getElementById("mini")).borderBottomColor);
  await fill(page, "tolerance.cut", "60 mm");
  await page.waitForSelector("#mini:visible");
  assert.notEqual(await page.evaluate(() => getComputedStyle(document.getElementById("mini")).borderBottomColor), calm);
  await done(page);
});
