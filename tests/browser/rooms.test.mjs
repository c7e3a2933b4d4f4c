// The rooms beside the pouch: watch it fold, printing, plans, two pouches side by side.
//
// Sources: what a room tells is held to the commands (their reports, tables and files); pages of a PDF
// are counted by poppler's pdfinfo; WCAG 2.2, levels A and AA, as far as axe-core can tell, 2.1.1 and
// 2.5.8 besides; sums and quotients of a few lengths by hand, where they stand.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { done, enter, fileOfCommand, jobText, openDesk, picture, settled, top } from "./support.mjs";

let desk;
before(async () => (desk = await openDesk()));
after(async () => desk.close());

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf-8");
const sample = readFileSync(join(top, "patterns/heron-quay.toml"), "utf-8");

/** The sample job in a room. */
async function inRoom(name, options = {}) {
  const page = await desk.page({ job: sample, ...options });
  await go(page, name);
  return page;
}

async function go(page, name) {
  await enter(page, name);
  // A room's parts come when it is entered first.
  await page.waitForFunction((room) => document.body.dataset.room === room &&
    (room === "pouch" || document.querySelector(`#room-${room} .inside`).children.length > 0), name);
}

const calls = (page) => page.requested.map((url) => new URL(url)).filter((url) => url.pathname.startsWith("/api/"));

async function report(page, route, job = sample) {
  return (await page.request.post(`${desk.address}api/${route}`, { data: job })).json();
}

/** Types into the box called `name` of `within`, as a person who leaves it. */
async function type(within, name, text) {
  const box = within.getByLabel(name, { exact: true });
  await box.fill(text);
  await box.blur();
}

/** The bytes that a click downloads, and the name they have. */
async function kept(page, button) {
  const [download] = await Promise.all([page.waitForEvent("download"), button.click()]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

function pagesOf(bytes) {
  const folder = mkdtempSync(join(tmpdir(), "pouchwright-pages-"));
  try {
    writeFileSync(join(folder, "it.pdf"), bytes);
    return Number(/^Pages:\s+(\d+)$/m.exec(execFileSync("pdfinfo", [join(folder, "it.pdf")]).toString())[1]);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

// ---- Watch it fold ----

const kFold = "#room-folding";
const slider = (page) => page.locator(`${kFold} input[type=range]`);
const shownStep = (page) => page.locator(`${kFold} .folding-number`).innerText();

async function folded(page) {
  await page.waitForFunction(() => {
    const image = document.querySelector("#room-folding .folding-stage img");
    return image?.src !== "" && image.complete && image.naturalWidth > 0 && document.querySelector(".folding-stage").dataset.state === "";
  });
}

async function moveTo(page, value) {
  await slider(page).fill(String(value));
  await folded(page);
}

test("the folding has the steps of the step pages, in their words, and shows each", async () => {
  const page = await inRoom("folding");
  await folded(page);
  const { steps } = await report(page, "steps");
  for (const [index, step] of steps.entries()) {
    await moveTo(page, index + 1);
    assert.equal(await shownStep(page), `Step ${index + 1} of ${steps.length}`);
    assert.equal(await page.locator(`${kFold} .folding-words`).textContent(), step.words);
    assert.match(await page.getAttribute(`${kFold} .folding-stage img`, "alt"), new RegExp(`^Step ${index + 1}: `));
  }
  await page.click(`${kFold} summary`);
  assert.deepEqual(await page.locator(`${kFold} .folding-list li`).allInnerTexts(), steps.map((step) => step.words));
  await done(page);
});

test("a step moves in frames that come in one request, and come once", async () => {
  const page = await inRoom("folding");
  await folded(page);
  const { moves } = await report(page, "folding");
  assert.deepEqual(calls(page).map((url) => url.pathname).filter((path) => path !== "/api/edit"), ["/api/folding", "/api/several"]);
  const moving = moves.findIndex((one) => one);
  const sources = new Set();
  for (let eighth = 1; eighth <= 8; ++eighth) {
    await moveTo(page, moving + eighth / 8);
    sources.add(await page.getAttribute(`${kFold} .folding-stage img`, "src"));
  }
  assert.equal(sources.size, 8);
  const asked = calls(page).filter((url) => url.pathname === "/api/several");
  const frames = asked.at(-1).searchParams.getAll("of");
  assert.equal(asked.length, 2);
  assert.equal(frames.length, 9);
  assert.deepEqual([frames[0], frames[8]], [`folding/${moving + 1}.svg?at=0`, `folding/${moving + 1}.svg?at=1`]);
  await moveTo(page, moving + 0.25);
  assert.equal(calls(page).filter((url) => url.pathname === "/api/several").length, 2);
  await picture(page, "folding");
  await done(page);
});

test("nothing of the folding is asked for before somebody looks", async () => {
  const page = await desk.page({ job: sample });
  assert.deepEqual(calls(page).filter((url) => /folding|pages|several/.test(url.pathname)), []);
  await done(page);
});

test("it plays, and stands still when it is told to", async () => {
  const page = await inRoom("folding");
  await folded(page);
  await page.click(`${kFold} .folding-controls .main`);
  await page.waitForFunction(() => Number(document.querySelector("#room-folding input[type=range]").value) > 1);
  assert.equal(await page.innerText(`${kFold} .folding-controls .main`), "Pause");
  await page.click(`${kFold} .folding-controls .main`);
  const at = await slider(page).inputValue();
  await page.waitForTimeout(700);
  assert.equal(await slider(page).inputValue(), at);
  // From just before the end, it ends there.
  const last = Number(await slider(page).getAttribute("max"));
  await moveTo(page, last - 0.125);
  await page.click(`${kFold} .folding-controls .main`);
  await page.waitForFunction(() => document.querySelector("#room-folding .folding-controls .main").textContent === "Play");
  assert.equal(Number(await slider(page).inputValue()), last);
  assert.ok(await page.isDisabled(`${kFold} button:has-text("Next step")`));
  await done(page);
});

test("the keyboard moves the folding, and each step is said once", async () => {
  const page = await inRoom("folding");
  await folded(page);
  await page.evaluate(() => {
    window.said = [];
    const region = document.querySelector("#room-folding [role=status]");
    new MutationObserver(() => window.said.push(region.querySelector(".folding-number").textContent))
      .observe(region, { childList: true, subtree: true, characterData: true });
  });
  await slider(page).focus();
  await page.keyboard.press("ArrowRight");
  assert.equal(await slider(page).inputValue(), "0.125");
  for (let i = 0; i < 8; ++i) await page.keyboard.press("ArrowRight");
  await page.waitForFunction(() => document.querySelector("#room-folding .folding-number").textContent.startsWith("Step 2"));
  assert.match(await slider(page).getAttribute("aria-valuetext"), /^Step 2 of \d+: Pair/);
  await page.locator(`${kFold} button:has-text("Next step")`).focus();
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => document.querySelector("#room-folding input[type=range]").value === "2");
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => document.querySelector("#room-folding .folding-number").textContent.startsWith("Step 3"));
  assert.deepEqual(await page.evaluate(() => window.said.map((one) => one.slice(0, 6))), ["Step 2", "Step 3"]);
  await done(page);
});

test("who wants little movement has whole steps, and nothing that plays", async () => {
  const page = await inRoom("folding", { reducedMotion: "reduce" });
  await folded(page);
  assert.ok(!(await page.isVisible(`${kFold} .folding-controls .main`)));
  await slider(page).focus();
  await page.keyboard.press("ArrowRight");
  assert.equal(await slider(page).inputValue(), "1");
  await done(page);
});

test("the folding follows the pouch", async () => {
  const page = await inRoom("folding");
  await folded(page);
  assert.match(await page.locator(`${kFold} .folding-words`).innerText(), /155 mm, 320 mm/);
  await page.evaluate(() => {
    const text = document.getElementById("text");
    text.value = text.value.replace('depth = "165 mm"', 'depth = "175 mm"');
    text.dispatchEvent(new Event("input"));
  });
  // 175 less the lip drop of 10; and the back's 175 more.
  await page.waitForFunction(() => /165 mm, 340 mm/.test(document.querySelector("#room-folding .folding-words").textContent));
  await done(page);
});

// ---- Printing ----

const kPrint = "#room-printing";
const paper = (page, name) => page.locator(`${kPrint} .paper-choice:has(input[value=${name}])`);
const countOf = async (page, name) => {
  const count = paper(page, name).locator(".count");
  await count.filter({ hasText: /page/ }).waitFor();
  return Number(/\d+/.exec(await count.innerText())[0]);
};

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

test("Print opens the browser's own dialogue on the PDF", async () => {
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

// ---- Plans ----

const place = (page, name) => page.locator(`#room-plans [data-place=${name}]`);

/** Opens a place alone, and waits until it has told something. */
async function opened(page, name) {
  await page.evaluate((wanted) => document.querySelectorAll(".place").forEach((one) => (one.open = one.dataset.place === wanted)), name);
  await told(page, name);
  return place(page, name);
}

async function told(page, name) {
  await page.waitForFunction((of) => {
    const report_ = document.querySelector(`[data-place=${of}] > .told-report`);
    return report_.children.length > 0 && !report_.classList.contains("working");
  }, name);
}

const flat = (text) => text.replace(/\s+/g, " ");

test("every command that takes a job has a place on the page", async () => {
  const page = await inRoom("plans");
  const help = execFileSync(process.env.POUCHWRIGHT ?? join(top, ".build/dev/src/pouchwright"), ["--help"]).toString();
  const commands = [...help.matchAll(/^ {2}([a-z]+) {2,}/gm)].map(([, name]) => name);
  assert.ok(commands.length > 10, help);
  // The pouch itself; the first visit; what there is to choose from; the page.
  const elsewhere = ["check", "new", "list", "desk"];
  const printed = { template: "template", mask: "cards", steps: "steps", packet: "all" };
  for (const command of commands.filter((one) => !elsewhere.includes(one))) {
    const at = command in printed ? `#room-printing, nav [data-enter=printing]` : `[data-place=${command}]`;
    assert.ok((await page.locator(at).count()) > 0, `${command} has no place`);
  }
  await go(page, "printing");
  assert.doesNotMatch(await page.locator("body").innerText(), /\[desk-/);
  for (const name of Object.values(printed)) assert.equal(await paper(page, name).count(), 1, name);
  await done(page);
});

test("what a place tells is what the command tells", async () => {
  const page = await inRoom("plans");
  for (const name of ["lay", "supplies", "schedule", "size"]) {
    const part = await opened(page, name);
    await part.locator("details").evaluateAll((all) => all.forEach((one) => (one.open = true)));
    const shown = flat(await part.innerText());
    const table = await (await page.request.post(`${desk.address}api/${name}?form=text`, { data: sample })).text();
    for (const cell of table.split(/\n| {2,}/).map((one) => one.replace(/^\s*\d+\. /, "").trim()).filter((one) => one !== "")) {
      assert.ok(shown.includes(flat(cell)), `${name}: ${cell}`);
    }
    await picture(page, `plans-${name}`);
  }
  await done(page);
});

test("a piece of cloth that is there is cut first, and can be taken out again", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "lay");
  const before_ = await jobText(page);
  await part.locator("summary", { hasText: "Cloth that you have" }).click();
  const form = part.getByRole("form", { name: "Another piece of cloth" });
  await type(form, "Width", "45 cm");
  await type(form, "Length", "80 cm");
  await type(form, "How many such pieces", "2");
  await form.getByRole("button").click();
  await part.locator(".stock li").waitFor();
  assert.equal(await part.locator(".stock li span").innerText(), "2 × laminate, 45 cm × 80 cm");
  assert.equal(await jobText(page), `${before_.trimEnd()}\n\n[[stock.cloth]]\nmaterial = "laminate"\nwidth = "45 cm"\nlength = "80 cm"\ncount = 2\n`);
  // 450 mm of width hold two panels of 204, 800 mm of length two of 390: four of each piece.
  await part.getByText("450 mm x 800 mm").first().waitFor();
  await part.locator(".stock button").click();
  await page.waitForFunction(() => document.querySelectorAll("#room-plans .stock li").length === 0);
  assert.equal((await jobText(page)).trimEnd(), before_.trimEnd());
  await done(page);
});

test("a small piece comes out of the waste", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "lay");
  await part.locator("summary", { hasText: "Small pieces" }).click();
  const form = part.getByRole("form", { name: "Another small piece" });
  await type(form, "What it is called", 'number "tag"');
  await type(form, "Width", "2 cm");
  await type(form, "Length", "40");
  await form.getByLabel("What it is for").selectOption("tag");
  await form.getByRole("button").click();
  await part.locator(".inner", { hasText: "Small pieces" }).locator("li").waitFor();
  assert.match(await jobText(page), /\[\[lay\.by_product\]\]\nname = "number \\"tag\\""\nwidth = "2 cm"\nlength = "40 mm"\nuse = "tag"\n$/);
  assert.ok(await part.getByText('number "tag", 2 cm × 40 mm').isVisible());
  await done(page);
});

test("how many pouches a piece of cloth gives", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "lay");
  await part.locator("summary", { hasText: "How many pouches" }).click();
  const form = part.getByRole("form", { name: "How many pouches does it give?" });
  // What has no unit has the job's, which the box says.
  await type(form, "Width", "1500");
  await type(form, "Length", "2 m");
  assert.deepEqual(await form.locator(".unit").allInnerTexts(), ["mm", ""]);
  await form.getByRole("button").click();
  // Seven panels of 204 mm side by side in 1500, five of 390 along 2000.
  await part.getByText("You get 35 pouches out of it").waitFor();
  await done(page);
});

test("what is in the cupboard is not bought", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "supplies");
  const row = part.locator("tr", { hasText: "clips (no pins" });
  const wanted = Number(await row.locator("td").first().innerText());
  const box = row.locator("input");
  await box.fill("20");
  await box.blur();
  await page.waitForFunction((left_) => [...document.querySelectorAll("[data-place=supplies] tr")]
    .some((one) => one.textContent.includes("clips (no pins") && one.cells[1].textContent === String(left_)), wanted - 20);
  assert.match(await jobText(page), /\[stock\.things\]\nclips = 20\n/);
  await done(page);
});

test("several sizes come as one sheet and as a template each", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "range");
  await part.getByRole("button", { name: "Keep the template for 3 liners" }).waitFor();
  for (const liners of [2, 3, 4]) assert.ok(await part.getByText(`${liners} liners`, { exact: true }).first().isVisible());
  // The job states width and depth: that they are worked out anew is told.
  assert.ok(await part.getByText("worked out anew for each").isVisible());
  const made = await kept(page, part.getByRole("button", { name: "Keep the template for 3 liners" }));
  assert.match(made.name, /-template-3\.pdf$/);
  await type(part, "Liners in each size", "1, 2");
  await part.getByRole("button", { name: "Show these sizes" }).click();
  await part.getByRole("button", { name: "Keep the template for 1 liner" , exact: true }).waitFor();
  await done(page);
});

test("a saving is taken with one click, and undo takes it back", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "savings");
  const [change] = (await report(page, "savings")).changes;
  const row = part.locator("tbody tr").first();
  assert.match(await row.innerText(), /Depth 157 mm/);
  assert.equal(change.set["pouch.depth"], 157);
  await row.getByRole("button").click();
  await settled(page);
  assert.match(await jobText(page), /depth = "157 mm"[^]*flap = "60 mm"/);
  assert.match(await page.innerText("#room-plans .room-status"), /Undo brings the old one back/);
  await page.click("#undo");
  await settled(page);
  assert.equal(await jobText(page), sample);
  await done(page);
});

test("all constructions stand side by side, and one is taken whole", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "constructions");
  const rows = part.locator("tbody tr");
  const names = (await report(page, "size")).construction;
  assert.equal(names, "foldover");
  assert.equal(await rows.count(), await page.locator('input[name="construction"]').count());
  assert.equal(await rows.filter({ hasText: "as it is now" }).count(), 1);
  assert.equal(await part.locator(".way-fault").count(), 0);
  // A sleeve has no flap: that size goes out of the job.
  await rows.filter({ hasText: "Flat sleeve" }).getByRole("button").click();
  await settled(page);
  const job = await jobText(page);
  assert.match(job, /construction = "sleeve"/);
  assert.doesNotMatch(job, /^flap = /m);
  assert.deepEqual((await report(page, "check", job)).errors, []);
  await done(page);
});

test("whether other liners would go in", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "size");
  await type(part, "Another liner, folded", "90 x 130 x 10 mm");
  await part.getByRole("button", { name: "Look" }).click();
  await part.getByText("Other liners").waitFor();
  const { other_liners: [other] } = await report(page, "size?other-liner=90x130x10");
  assert.ok(await part.getByText(`${other.capacity.liners} liners in 1 column`).first().isVisible());
  await type(part, "Another liner, folded", "large");
  await part.getByRole("button", { name: "Look" }).click();
  await part.locator(".room-fault").waitFor();
  await done(page);
});

// ---- Side by side ----

const kCompare = "#room-compare";

async function changeWidth(page, typed) {
  await page.evaluate((width) => {
    const text = document.getElementById("text");
    text.value = text.value.replace(/^width = "190 mm"/m, `width = "${width}"`);
    text.dispatchEvent(new Event("input"));
  }, typed);
  await settled(page);
}

test("two pouches stand side by side, and what differs is marked", async () => {
  const page = await inRoom("compare");
  await page.click(`${kCompare} .compare-start button`);
  assert.ok(await page.getByText("A and B do not differ yet.").isVisible());
  await changeWidth(page, "200 mm");
  await page.getByText(/A and B differ in \d numbers/).waitFor();
  const rows = await page.locator(`${kCompare} tbody tr`).evaluateAll((all) =>
    all.map((row) => [row.cells[1].textContent, row.cells[2].textContent, row.classList.contains("differs"), row.cells[3].textContent]));
  assert.ok(rows.some(([, , differs]) => differs));
  for (const [a, b, differs, words] of rows) assert.deepEqual([differs, words], a === b ? [false, ""] : [true, "other"]);
  // 190 and 200 mm between the seams, with 7 mm of allowance on either side.
  assert.ok(rows.some(([a, b]) => a.startsWith("204 mm ×") && b.startsWith("214 mm ×")));
  const alts = await page.locator(`${kCompare} img`).evaluateAll((all) => all.map((one) => [one.alt, one.naturalWidth > 0]));
  assert.deepEqual(alts.map(([alt, isThere]) => [/\d{3} mm wide/.exec(alt)?.[0], isThere]), [["190 mm wide", true], ["200 mm wide", true]]);
  await picture(page, "compare");
  await page.getByRole("button", { name: "Change B" }).click();
  assert.ok(await page.isVisible("#stage"));
  await go(page, "compare");
  await page.getByRole("button", { name: "Change places" }).click();
  await settled(page);
  assert.equal(await jobText(page), sample);
  await page.getByRole("button", { name: "Go on with A" }).click();
  await settled(page);
  assert.match(await jobText(page), /width = "200 mm"/);
  assert.ok(await page.isVisible(`${kCompare} .compare-start`));
  await page.click("#undo");
  await settled(page);
  assert.equal(await jobText(page), sample);
  await done(page);
});

test("A is kept over a reload", async () => {
  const page = await inRoom("compare");
  await page.click(`${kCompare} .compare-start button`);
  await changeWidth(page, "200 mm");
  await page.getByText(/A and B differ/).waitFor();
  await page.reload();
  await settled(page);
  await go(page, "compare").catch(() => {});
  await page.getByText(/A and B differ/).waitFor();
  await page.getByRole("button", { name: "Go on with B" }).click();
  assert.match(await jobText(page), /width = "200 mm"/);
  await done(page);
});

// ---- For everybody ----

const kRooms = ["folding", "printing", "plans", "compare"];

/** A room with all of it open. */
async function allOf(page, room) {
  await go(page, room);
  if (room === "folding") await folded(page);
  if (room === "printing") await countOf(page, "all");
  if (room === "plans") {
    await page.evaluate(() => document.querySelectorAll("#room-plans details").forEach((one) => (one.open = true)));
    for (const name of ["lay", "supplies", "schedule", "range", "savings", "constructions", "size"]) await told(page, name);
    await page.evaluate(() => document.querySelectorAll("#room-plans details").forEach((one) => (one.open = true)));
  }
  if (room === "compare" && (await page.isVisible(`${kCompare} .compare-start button`))) await page.click(`${kCompare} .compare-start button`);
}

for (const [name, options] of [["light", {}], ["dark on a telephone", { dark: true, width: 360, height: 780 }]]) {
  test(`axe-core finds nothing in the rooms: ${name}`, async (t) => {
    const page = await desk.page({ job: sample, ...options });
    await page.evaluate(axe);
    for (const room of kRooms) {
      await allOf(page, room);
      const found = await page.evaluate(async () => (await window.axe.run(document)).violations.flatMap((one) =>
        one.nodes.map((node) => `${one.impact}: ${one.id}: ${node.target.join(" ")}`)));
      for (const one of found) t.diagnostic(`${room}: ${one}`);
      assert.deepEqual(found, [], room);
      await picture(page, `room-${room}-${name.replaceAll(" ", "-")}`, true);
    }
    await done(page);
  });
}

test("no room scrolls sideways, and what is pressed is large enough", async () => {
  for (const width of [320, 768, 1920]) {
    const page = await desk.page({ job: sample, width, height: 900 });
    for (const room of kRooms) {
      await allOf(page, room);
      const { scroll, small } = await page.evaluate((name) => ({
        scroll: document.documentElement.scrollWidth - document.documentElement.clientWidth,
        // WCAG 2.2, 2.5.8: 24 px.
        small: [...document.querySelectorAll(`#room-${name} :is(button, input, select, summary)`)]
          .map((one) => [one.textContent || one.type, one.getBoundingClientRect()])
          .filter(([, box]) => box.width > 0 && (box.width < 23.5 || box.height < 23.5)).map(([words]) => words),
      }), room);
      assert.deepEqual({ width, room, scroll, small }, { width, room, scroll: 0, small: [] });
    }
    await done(page);
  }
});

test("the keyboard alone reaches all of a room, and shows where it is", async () => {
  const page = await desk.page({ job: sample });
  for (const room of kRooms) {
    await allOf(page, room);
    const wanted = await page.evaluate((name) => {
      const all = [...document.querySelectorAll(`#room-${name} :is(button, input, select, summary, [tabindex="0"])`)]
        .filter((one) => one.checkVisibility() && !one.disabled && (one.type !== "radio" || one.checked));
      all.forEach((one, index) => (one.dataset.wanted = index));
      document.getElementById(`room-${name}`).focus();
      return all.length;
    }, room);
    const reached = new Set();
    for (let i = 0; i < wanted + 5; ++i) {
      await page.keyboard.press("Tab");
      const at = await page.evaluate(() => {
        const one = document.activeElement;
        const shown = one.closest(".paper-choice, .section-choice") ?? one;
        return { wanted: one.dataset.wanted, outline: getComputedStyle(shown).outlineStyle, name: one.textContent || one.id };
      });
      if (at.wanted === undefined) continue;
      reached.add(at.wanted);
      assert.notEqual(at.outline, "none", `${room}: ${at.name}`);
    }
    assert.equal(reached.size, wanted, room);
  }
  await done(page);
});

test("a job that cannot be made yet is not scolded in the rooms", async () => {
  const page = await desk.page({ job: 'construction = "foldover"\n[pouch]\nwidth = "wide"\n' });
  for (const room of kRooms) {
    await go(page, room);
    assert.ok(await page.locator(`#room-${room}`).getByText("as soon as the pouch can be made").isVisible(), room);
    assert.equal(await page.locator(`#room-${room} .room-fault`).count(), 0);
  }
  await done(page);
});
