// The first visit: someone who has never seen the page, with three liners, scissors and A4.
//
// What is counted stands in the issue that the page was made for: three fields, one click; under 12 stops
// of the Tab key; two screens of a telephone. Times are printed only.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { dialogue, done, downloaded, field, jobText, openDesk, picture, reveal, settled } from "./support.mjs";

let desk;
before(async () => (desk = await openDesk()));
after(async () => desk.close());

const firstVisit = (options = {}) => desk.page({ job: "", ...options });
const box = (path) => `[id="start-${path}"]`;

async function measure(page) {
  await page.fill(box("liners.width"), "80");
  await page.fill(box("liners.length"), "120");
  await page.fill(box("liners.thickness"), "9");
  await settled(page);
}

const withoutViewer = (page) => page.addInitScript(() => Object.defineProperty(navigator, "pdfViewerEnabled", { get: () => false }));
const withDialogue = (page) => page.addInitScript(() => (window.print = () => {}));

test("three numbers and one click print the papers for three liners on A4", async (t) => {
  const page = await firstVisit({ prepare: withoutViewer });
  assert.equal(await page.inputValue(box("liners.count")), "3");
  assert.ok(await page.isVisible("#prompt"));
  const begun = Date.now();
  await measure(page);
  assert.match(await page.innerText("#answer"), /3 liners/);
  assert.ok(!(await page.isVisible("#prompt")));
  await page.waitForFunction(() => document.getElementById("pouch").naturalWidth > 0);
  await page.waitForFunction(() => /\d+ sheets of A4.* of laminate for 1/.test(document.getElementById("answer").textContent));
  await picture(page, "first-begun");
  // Where the browser shows no PDF inside the page, the file is what comes of the click.
  const made = await downloaded(page, "#start-print");
  assert.ok(await page.isVisible("#room-printing"));
  assert.match(await page.innerText("#room-printing .room-status"), /open it and print it from there, at 100 %/);
  const job = await jobText(page);
  assert.match(job, /size = "A4"/);
  const answer = await page.request.post(`${desk.address}api/packet/packet.pdf?names=words`, { data: job });
  assert.ok(made.bytes.equals(await answer.body()), "it is not the packet of this job");
  assert.equal(made.bytes.subarray(0, 5).toString(), "%PDF-");
  const size = await (await page.request.post(`${desk.address}api/size`, { data: job })).json();
  assert.equal(size.capacity.liners, 3);
  t.diagnostic(`fields 3, clicks 1, ${Date.now() - begun} ms`);
  await done(page);
});

test("one click opens the browser's own print dialogue on the papers", dialogue, async () => {
  const page = await firstVisit({ prepare: withDialogue });
  await measure(page);
  await page.click("#start-print");
  await page.waitForFunction(() => /print dialogue is open/.test(document.querySelector("#room-printing .room-status")?.textContent));
  assert.match(await page.getAttribute("iframe.print-frame", "src"), /^blob:/);
  await done(page);
});

test("Print leads to the first empty box while there is no pouch", async () => {
  const page = await firstVisit();
  await page.click("#start-print");
  assert.equal(await page.evaluate(() => document.activeElement.id), "start-liners.width");
  assert.equal(await page.evaluate(() => document.body.dataset.room), "start");
  await done(page);
});

test("by keyboard it is under twelve stops", async (t) => {
  const page = await firstVisit({ prepare: withDialogue });
  const typed = { "start-liners.width": "80", "start-liners.length": "120", "start-liners.thickness": "9" };
  let stops = 0;
  for (; stops < 30; ++stops) {
    await page.keyboard.press("Tab");
    const id = await page.evaluate(() => document.activeElement.id);
    if (id in typed) await page.keyboard.type(typed[id]);
    if (id === "start-print") break;
  }
  stops += 1;
  t.diagnostic(`stops ${stops}`);
  assert.ok(stops < 12, `${stops}`);
  await settled(page);
  await page.keyboard.press("Enter");
  await page.locator("#room-printing").waitFor();
  const said = dialogue.skip ? "open it and print it from there" : "print dialogue is open";
  await page.waitForFunction((words) => document.querySelector("#room-printing .room-status")?.textContent.includes(words), said);
  assert.match(await jobText(page), /thickness = 9/);
  await done(page);
});

test("nobody is scolded for what is not filled in yet", async () => {
  const page = await firstVisit();
  for (const [path, text] of [["liners.width", "80"], ["liners.length", "120"]]) {
    await page.fill(box(path), text);
    await settled(page);
    await page.waitForTimeout(1000);
    assert.equal(await page.locator('[data-rank="error"], [aria-invalid]').count(), 0);
  }
  // What is still needed says so, calmly, at its own box.
  assert.ok(await page.locator(box("liners.thickness")).evaluate((one) => one.required));
  await done(page);
});

for (const [way, boxes, expected] of [
  ["pouch", { "pouch.width": "200 mm", "pouch.depth": "150 mm" }, /200 mm × 150 mm/],
  ["panel", { "panel.width": "204 mm", "panel.length": "360 mm" }, /190 mm ×/],  // less two seams of 7 mm
  ["card", { "card.width": "172 mm", "card.length": "150 mm" }, /mm ×/],
]) {
  test(`who has ${way} begins with that`, async () => {
    const page = await firstVisit();
    await page.check(`input[name="way"][value="${way}"]`);
    await settled(page);
    for (const [path, text] of Object.entries(boxes)) {
      await page.fill(box(path), text);
      await settled(page);
    }
    assert.match(await page.innerText("#answer"), expected);
    assert.doesNotMatch(await jobText(page), /\[liners\]/);
    await picture(page, `first-${way}`);
    await done(page);
  });
}

test("who has a piece of cloth is told the largest pouch from it", async () => {
  const page = await firstVisit();
  await page.check('input[name="way"][value="cloth"]');
  await settled(page);
  await page.fill('[id="start-cloth-width"]', "60 cm");
  await page.fill('[id="start-cloth-length"]', "45 cm");
  await page.waitForFunction(() => /largest pouch/.test(document.getElementById("boxes").innerText));
  await settled(page);
  const answer = await page.request.post(`${desk.address}api/size?remnant=60%20cm%20x%2045%20cm`, { data: 'construction = "foldover"\n' });
  const { finished } = await answer.json();
  assert.match(await page.innerText("#answer"), new RegExp(`${finished.width_mm} mm × ${finished.depth_mm} mm`));
  await done(page);
});

test("units and paper are those of the browser's country, and stand in the boxes", async () => {
  for (const [locale, unit, paper] of [["en-US", "in", "Letter"], ["en-GB", "mm", "A4"], ["fr-CA", "mm", "Letter"], ["de-DE", "mm", "A4"]]) {
    const page = await firstVisit({ locale });
    const inside = await page.locator(".measure:has([id=\"start-liners.width\"]) .unit").innerText();
    assert.equal(inside, unit, locale);
    assert.match(await jobText(page), new RegExp(`units = "${unit}"[^]*size = "${paper}"`), locale);
    await done(page);
  }
});

test("the second time the pouch is there at once, and can be changed", async () => {
  const page = await firstVisit();
  await measure(page);
  await page.click("#start-more");
  await reveal(page, "pouch.width");
  assert.ok(await page.isVisible(field("pouch.width")));
  const again = await page.context().newPage();
  await again.goto(desk.home);
  await settled(again);
  assert.equal(await again.evaluate(() => document.body.dataset.room), "pouch");
  assert.match(await jobText(again), /thickness = 9/);
  await done(page);
});

test("a sample job is a starting point, and the drawings of all load", async () => {
  const page = await firstVisit();
  const samples = page.locator(".start-else .sample");
  assert.ok((await samples.count()) >= 7);
  const title = await samples.first().innerText();
  await samples.first().click();
  await settled(page);
  assert.equal(await page.innerText("h1"), title);
  assert.equal(await page.title(), title);
  await done(page);
});
