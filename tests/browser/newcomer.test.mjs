// Someone who has never seen the page, and what she types goes wrong: it is said at the box, in words, with
// what mends it; Print leads there, and asks before it prints a pouch that is hardly meant.
//
// What is held comes from watching such a person; there is no source beside that.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { done, downloaded, enter, fill, jobText, judged, openDesk, picture, settled } from "./support.mjs";

let desk;
before(async () => (desk = await openDesk()));
after(async () => desk.close());

const withoutViewer = (page) => page.addInitScript(() => Object.defineProperty(navigator, "pdfViewerEnabled", { get: () => false }));
const box = (path) => `[id="start-${path}"]`;
const below = (path) => `[id="start-${path}-fault"]`;
const focused = (page) => page.evaluate(() => document.activeElement.id);
const room = (page) => page.evaluate(() => document.body.dataset.room);

async function firstVisit(width, length, thickness) {
  const page = await desk.page({ job: "", prepare: withoutViewer });
  for (const [path, text] of [["liners.width", width], ["liners.length", length], ["liners.thickness", thickness]]) {
    await page.fill(box(path), text);
  }
  await settled(page);
  await judged(page);
  return page;
}

const kTooNarrow = 'construction = "foldover"\nunits = "mm"\n\n[liners]\ncount = 3\nwidth = 80\nlength = 120\nthickness = 9\n\n[pouch]\nwidth = 90\ndepth = 150\n';

test("a pouch that takes none of the liners is a fault to be mended, by the button beside it", async () => {
  const page = await desk.page({ job: kTooNarrow });
  assert.equal(await page.getAttribute("#told", "data-rank"), "short");
  assert.match(await page.innerText("#summary"), /does not carry your liners/);
  const colourOf = (selector) => page.locator(selector).first().evaluate((one) => getComputedStyle(one).backgroundColor);
  const red = await colourOf('#faults li[data-rank="short"]');
  assert.doesNotMatch(await page.innerText("#faults"), /Good to know/);
  await picture(page, "newcomer-short");
  await page.locator("#faults li button").first().click();
  await settled(page);
  await judged(page);
  assert.match(await page.innerText("#answer"), /Carries 3 liners/);
  // The same colour as what stops the work.
  await fill(page, "pouch.depth", "-1");
  assert.equal(await colourOf('#faults li[data-rank="error"]'), red);
  await done(page);
});

test("such a pouch is printed only when it is asked for again, and that is asked once", async () => {
  const page = await desk.page({ job: kTooNarrow, prepare: withoutViewer });
  await page.click("#print");
  assert.match(await page.innerText("#sure"), /does not carry your liners. Print all the same\?/);
  await picture(page, "newcomer-sure");
  await page.keyboard.press("Escape");
  await page.locator("#sure").waitFor({ state: "detached" });
  assert.equal(await room(page), "pouch");
  await enter(page, "printing");
  await page.locator("#print-now:enabled").waitFor();
  await page.click("#print-now");
  const made = await downloaded(page, "#sure .buttons button:last-child");
  assert.equal(made.bytes.subarray(0, 5).toString(), "%PDF-");
  await downloaded(page, "#print-now");
  await done(page);
});

test("the question's own button mends the pouch", async () => {
  const page = await desk.page({ job: kTooNarrow });
  await page.click("#print");
  await page.locator("#sure li button").first().click();
  await settled(page);
  assert.equal(await page.locator("#sure").count(), 0);
  assert.match(await page.innerText("#answer"), /Carries 3 liners/);
  await done(page);
});

test("what is wrong on the first visit stands below its box, and Print leads there", async () => {
  const page = await firstVisit("80", "12 cn", "9");
  assert.match(await page.innerText(below("liners.length")), /12 cn/);
  assert.equal(await page.getAttribute(box("liners.length"), "aria-invalid"), "true");
  assert.equal(await page.getAttribute(box("liners.length"), "aria-describedby"), "start-liners.length-fault");
  const [edge, words] = await page.evaluate(() => ["", "-fault"].map((end) => document.getElementById(`start-liners.length${end}`).getBoundingClientRect().toJSON()));
  assert.ok(words.top >= edge.bottom && words.top < edge.bottom + 16, `${words.top} ${edge.bottom}`);
  await picture(page, "newcomer-wrong");
  await page.click("#start-print");
  await page.waitForFunction(() => document.activeElement.id === "start-liners.length");
  assert.equal(await room(page), "start");
  await done(page);
});

test("centimetres typed as millimetres are asked about below the box, and before printing", async () => {
  const page = await firstVisit("10", "24", "1,2");
  assert.match(await page.innerText(below("liners.width")), /10 mm.*unusually small/);
  await picture(page, "newcomer-unlikely");
  await page.click("#start-print");
  assert.match(await page.innerText("#sure"), /unlikely. Print all the same\?/);
  await page.keyboard.press("Escape");
  assert.equal(await room(page), "start");
  await page.click('[id="start-liners.width-remedies"] button');
  await settled(page);
  assert.equal(await page.inputValue(box("liners.width")), "10 cm");
  assert.match(await jobText(page), /width = "10 cm"/);
  await done(page);
});

test("a printing room with a fault names it, and leads to it", async () => {
  const page = await desk.page({ job: 'construction = "foldover"\nunits = "mm"\n\n[pouch]\nwidth = -3\ndepth = 150\n' });
  await enter(page, "printing");
  const item = page.locator("#room-printing .faults li");
  assert.match(await item.innerText(), /-3/);
  assert.ok(!(await page.isVisible("#print-now")));
  await item.locator("button").last().click();
  assert.equal(await room(page), "pouch");
  assert.equal(await focused(page), "pouch.width");
  await page.click("#print");
  await page.waitForFunction(() => document.activeElement.id === "pouch.width");
  assert.equal(await room(page), "pouch");
  await done(page);
});

test("Print with empty boxes says what is still needed and marks it, until it is filled in", async () => {
  const page = await desk.page({ job: "" });
  await page.fill(box("liners.length"), "120");
  await settled(page);
  await page.click("#start-print");
  await page.waitForFunction(() => document.activeElement.id === "start-liners.width");
  assert.equal(await page.innerText("#start-needed"), "Still needed: Width, folded, Thickness.");
  assert.equal(await page.locator("#boxes [aria-invalid]").count(), 2);
  await picture(page, "newcomer-needed");
  await page.keyboard.type("80");
  await settled(page);
  await judged(page);
  assert.equal(await page.innerText("#start-needed"), "Still needed: Thickness.");
  assert.equal(await page.locator("#boxes [aria-invalid]").count(), 1);
  await page.fill(box("liners.thickness"), "9");
  await settled(page);
  assert.equal(await page.locator("#boxes [aria-invalid]").count(), 0);
  assert.equal(await page.innerText("#start-needed"), "");
  await done(page);
});

test("a box that is empty looks empty on the first visit", async () => {
  const page = await desk.page({ job: "" });
  await page.check('input[name="way"][value="pouch"]');
  await settled(page);
  for (const path of ["pouch.width", "pouch.depth"]) assert.equal(await page.getAttribute(box(path), "placeholder") ?? "", "");
  await done(page);
});

test("Enter goes from box to box and on to Print; in the printing room it is seen where one is", async () => {
  const page = await firstVisit("80", "120", "9");
  await page.focus(box("liners.count"));
  const stops = [];
  for (let i = 0; i < 4; ++i) {
    await page.keyboard.press("Enter");
    stops.push(await focused(page));
  }
  assert.deepEqual(stops, ["start-liners.width", "start-liners.length", "start-liners.thickness", "start-print"]);
  await Promise.all([page.waitForEvent("download"), page.keyboard.press("Enter")]);
  assert.equal(await focused(page), "room-printing");
  assert.equal(await page.locator("#printing-title").evaluate((one) => getComputedStyle(one).outlineStyle), "solid");
  await done(page);
});

test("a typed size on the picture looks like one that is worked out, and stands off from its unit", async () => {
  const page = await desk.page({ job: kTooNarrow });
  const sizeOf = (selector) => page.locator(`#values .box[data-path="pouch.width"] ${selector}`).evaluate((one) => getComputedStyle(one).fontSize);
  assert.equal(await sizeOf(".unit"), await sizeOf("input"));
  const gap = await page.locator('#values .box[data-path="pouch.width"]').evaluate((one) => {
    const [input, unit] = one.children;
    return unit.getBoundingClientRect().left - (input.getBoundingClientRect().right - parseFloat(getComputedStyle(input).paddingRight));
  });
  assert.ok(gap >= 2 && gap <= 10, `${gap}`);
  await done(page);
});

test("what differs after the check square is the printer, and a page more is told", async () => {
  const page = await desk.page({ job: 'construction = "foldover"\nunits = "mm"\n\n[liners]\ncount = 3\nwidth = "10 cm"\nlength = "28 cm"\nthickness = "1.2 cm"\n' });
  await enter(page, "printing");
  await page.check("#room-printing input[value=template]");
  await page.locator("#print-keep:enabled").waitFor();
  await downloaded(page, "#print-keep");
  const sheets = async () => (await (await page.request.post(`${desk.address}api/pages/template.pdf`, { data: await jobText(page) })).json()).pages.length;
  const before = await sheets();
  for (const name of ["Across", "Down"]) {
    await page.locator("#measuring").getByLabel(name, { exact: true }).fill("49.5");
    await page.locator("#measuring").getByLabel(name, { exact: true }).blur();
  }
  await page.locator(".room-old", { hasText: "the pouch is the same" }).waitFor();
  await page.locator("#measuring", { hasText: "wider" }).waitFor();
  const now = await sheets();
  assert.ok(now > before, `${before} ${now}`);
  assert.match(await page.innerText("#measuring"), new RegExp(`no longer fits on ${before} pages: it takes ${now}`));
  await done(page);
});

test("plans are a picture first, and their words come when asked for", async () => {
  const page = await desk.page({ job: kTooNarrow });
  await enter(page, "plans");
  const words = page.locator("[data-place=lay] > .told-report > .in-words");
  await words.waitFor();
  assert.ok(await page.locator("[data-place=lay] > .room-picture").isVisible());
  assert.equal(await words.locator("li, dl, table").first().isVisible(), false);
  await words.locator("summary").first().focus();
  await page.keyboard.press("Enter");
  assert.ok(await words.locator("li, dl, table").first().isVisible());
  await done(page);
});

test("kinds that go on beyond the edge show it by an arrow", async () => {
  const page = await desk.page();
  assert.ok(await page.isVisible(".move.on"));
  assert.ok(!(await page.isVisible(".move.back")));
  await page.click(".move.on");
  await page.locator(".move.back").waitFor();
  await done(page);
});

test("choosing a way in moves none of the others", async () => {
  const page = await desk.page({ job: "" });
  const places = () => page.locator(".way").evaluateAll((all) => all.map((one) => Math.round(one.getBoundingClientRect().left)));
  const before = await places();
  await page.check('input[name="way"][value="cloth"]');
  await settled(page);
  assert.deepEqual(await places(), before);
  await done(page);
});

test("units and paper can be changed from the first visit", async () => {
  const page = await desk.page({ job: "" });
  await page.click("#start-change");
  assert.equal(await focused(page), "units");
  assert.ok(await page.isVisible('[id="paper.size"]'));
  await done(page);
});
