// The plans: a place for every command, which tells what the command tells, and what can be changed there.
//
// Sources: what a place tells is held to the command's table; sums and quotients of a few lengths by
// hand, where they stand.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { close, flat, go, inRoom, kept, open, opened, paper, report, sample, tableOf, told, type } from "./rooms_support.mjs";
import { done, jobText, picture, settled, top } from "./support.mjs";

before(open);
after(close);

test("every command that takes a job has a place on the page", async () => {
  const page = await inRoom("plans");
  const help = execFileSync(process.env.POUCHWRIGHT ?? join(top, ".build/dev/src/pouchwright"), ["--help"]).toString();
  const commands = [...help.matchAll(/^ {2}([a-z]+) {2,}/gm)].map(([, name]) => name);
  assert.ok(commands.length > 10, help);
  // The pouch itself; the first visit; what there is to choose from; the texts, for who translates; the page.
  const elsewhere = ["check", "new", "list", "words", "desk"];
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
    const table = await tableOf(page, name);
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
  await part.locator("> .told-report > .in-words > summary").click();
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
  const box = row.getByLabel(/^In the cupboard/);
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
  await part.getByRole("heading", { name: "Other liners" }).waitFor();
  const { other_liners: [other] } = await report(page, "size?other-liner=90x130x10");
  await part.locator("dd", { hasText: `${other.capacity.liners} liners in 1 column` }).waitFor();
  await type(part, "Another liner, folded", "large");
  await part.getByRole("button", { name: "Look" }).click();
  await part.locator(".room-fault").waitFor();
  await done(page);
});

test("what things cost is typed into the list, and added up", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "supplies");
  await part.locator("details").evaluateAll((all) => all.forEach((one) => (one.open = true)));
  const notes = await part.innerText();
  assert.match(notes, /no prices for .*glue or tape/);
  assert.doesNotMatch(notes, /glue-stick|rotary-blade/);
  const price = (what) => part.getByLabel(new RegExp(`^Price: ${what}`));
  await price("laminate").fill("10");
  await price("laminate").blur();
  await page.waitForFunction(() => /\[prices\]\nlaminate = 10/.test(document.getElementById("text").value));
  await told(page, "supplies");
  await part.getByLabel("Currency", { exact: true }).fill("EUR");
  await part.getByLabel("Currency", { exact: true }).blur();
  // 2.4 m at 10 a metre.
  await part.getByText(/24\.00 EUR|24 EUR/).first().waitFor();
  for (const gone of ["currency", "prices"]) {
    await page.click("#undo");
    await page.waitForFunction((word) => !document.getElementById("text").value.includes(word), gone);
  }
  await done(page);
});

test("a price that cannot be read is told of where it stands", async () => {
  const page = await inRoom("plans");
  const part = await opened(page, "supplies");
  const price = part.getByLabel(/^Price: laminate/);
  await price.fill("much");
  await price.blur();
  await page.locator("#room-plans .room-fault").first().waitFor();
  await price.fill("");
  await price.blur();
  await page.locator("#room-plans .room-fault").waitFor({ state: "detached" });
  await done(page);
});

test("a plan for pieces that are no pouch needs no job", async () => {
  const page = await inRoom("plans", { job: 'construction = "foldover"\n[liners]\ncount = 3\n' });
  await page.evaluate(() => document.querySelectorAll(".place").forEach((one) => (one.open = one.dataset.place === "quick")));
  const part = page.locator("#room-plans [data-place=quick]");
  await type(part, "Width of the cloth", "110 cm");
  await type(part, "What it is called", "panel");
  await type(part, "Across the cloth", "204 mm");
  await type(part, "Along the cloth", "360 mm");
  await type(part, "How many such pieces", "40");
  await part.getByRole("button", { name: "Add it" }).click();
  const program = process.env.POUCHWRIGHT ?? join(top, ".build/dev/src/pouchwright");
  const lines = execFileSync(program, ["lay", "--cloth", "110 cm", "--piece", "panel = 204 mm x 360 mm * 40"]).toString();
  const [length] = /length: .*/.exec(lines);
  await part.getByText(length).waitFor();
  const made = await kept(page, part.getByRole("button", { name: "Keep as PDF" }));
  assert.equal(made.bytes.subarray(0, 5).toString(), "%PDF-");
  await part.getByRole("button", { name: "Take out: 40 × panel, 204 mm x 360 mm" }).click();
  await part.getByText("You get 40").waitFor({ state: "detached" });
  await done(page);
});
