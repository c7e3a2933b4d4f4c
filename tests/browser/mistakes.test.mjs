// Someone who makes every mistake: what went wrong in the page before, each once.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { done, downloaded, enter, fault, field, fill, jobText, judged, kEmptyJob, openDesk, picture, reveal, served, settled } from "./support.mjs";

let desk;
before(async () => (desk = await openDesk()));
after(async () => desk.close());

const errors = (page) => page.locator('[data-rank="error"]:visible, [aria-invalid]:visible').count();

/** Keystrokes, as a person types them. */
async function type(page, path, text) {
  await reveal(page, path);
  await page.locator(field(path)).pressSequentially(text, { delay: 40 });
  await settled(page);
}

for (const path of ["liners.count", "panel.width", "iron.dots"]) {
  test(`a value typed into ${path} and deleted leaves no trace, also after a reload`, async () => {
    const page = await desk.page();
    await fill(page, path, "3");
    await fill(page, path, "");
    assert.equal(await errors(page), 0);
    assert.equal(await jobText(page), kEmptyJob);
    await page.reload();
    await settled(page);
    await judged(page);
    assert.equal(await errors(page), 0);
    assert.equal(await jobText(page), kEmptyJob);
    await done(page);
  });
}

test("fields filled in their order are never scolded; what is still needed says so at its own field", async () => {
  const page = await desk.page();
  for (const [path, text, left] of [["liners.count", "3", ["width", "length", "thickness"]], ["liners.width", "80 mm", ["length", "thickness"]],
                                    ["liners.length", "120 mm", ["thickness"]], ["liners.thickness", "9 mm", []]]) {
    await fill(page, path, text);
    assert.equal(await errors(page), 0, path);
    for (const one of left) assert.ok(await page.locator(`.field.needed[data-path="liners.${one}"]`).count(), `${path}: ${one}`);
    assert.equal(await page.locator(".field.needed").count(), left.length);
    // A picture is there all the time.
    assert.ok(await page.evaluate(() => document.getElementById("pouch").naturalWidth > 0));
  }
  assert.equal(await page.innerText("#summary"), "All is well.");
  await done(page);
});

test("a button leads from what is needed to its field, not into the file", async () => {
  const page = await desk.page();
  await fill(page, "liners.count", "3");
  await page.click('#faults [data-rank="needed"] button');
  assert.equal(await page.evaluate(() => document.activeElement.id), "liners.width");
  assert.ok(!(await page.isVisible("#text")));
  await done(page);
});

test("nothing is judged while it is typed, and all of it once the box is left", async () => {
  const page = await desk.page();
  await page.evaluate(() => {
    window.wrong = 0;
    new MutationObserver(() => (window.wrong += document.querySelectorAll('#faults [data-rank="error"]').length))
      .observe(document.getElementById("faults"), { childList: true });
  });
  await type(page, "pouch.width", "200 mm");  // at "200 m", two hundred metres
  assert.equal(await page.evaluate(() => window.wrong), 0);
  await type(page, "pouch.width", "x");
  await page.keyboard.press("Tab");
  await settled(page);
  await page.waitForFunction(() => window.wrong > 0);
  assert.match(await page.innerText(fault("pouch.width")), /200 mmx/);
  await done(page);
});

test("three bare numbers that were meant as centimetres are asked about, and mended by a click", async () => {
  const page = await desk.page();
  for (const [path, text] of [["liners.count", "3"], ["liners.width", "8"], ["liners.length", "12"], ["liners.thickness", "9"]]) {
    await fill(page, path, text);
  }
  const item = page.locator("#faults li", { hasText: "unusually small" });
  assert.ok((await item.count()) > 0);
  for (let left = await item.count(); left > 0; --left) {
    await item.first().locator("button").first().click();
    await settled(page);
    await judged(page);
  }
  assert.match(await page.innerText("#answer"), /Carries 3 liners/);
  assert.match(await jobText(page), /width = "8 cm"/);
  await done(page);
});

test("a pouch that would leak is red, says so first, and a click mends it", async () => {
  const page = await desk.page();
  await fill(page, "tolerance.cut", "60 mm");
  assert.equal(await page.getAttribute("#told", "data-rank"), "leaks");
  assert.match(await page.innerText("#summary"), /^This pouch would not hold water\./);
  const colour = await page.evaluate(() => getComputedStyle(document.querySelector("#told .state")).color);
  const [red, green] = colour.match(/\d+/g).map(Number);
  assert.ok(red > 2 * green, colour);
  await picture(page, "would-leak");
  const remedy = page.locator('#faults [data-rank="leaks"] button').first();
  await remedy.click();
  await settled(page);
  await judged(page);
  assert.notEqual(await page.getAttribute("#told", "data-rank"), "leaks");
  await done(page);
});

test("undo and redo go over everything, and Back walks the same way", async () => {
  const page = await desk.page();
  const texts = [await jobText(page)];
  const step = async (act) => {
    await act();
    await settled(page);
    texts.push(await jobText(page));
  };
  await step(() => fill(page, "pouch.width", "200 mm"));
  await step(() => page.check('input[value="gusset"]'));
  await step(() => page.selectOption(field("materials.outer"), "cotton-110"));
  await step(() => fill(page, "title", "Three steps"));
  assert.equal(new Set(texts).size, 5);
  const shows = (text) => page.waitForFunction((wanted) => document.getElementById("text").value === wanted && document.body.dataset.state === "shown", text);
  await page.click("#undo");
  await shows(texts[3]);
  await page.keyboard.press("Control+z");
  await shows(texts[2]);
  await page.goBack();
  await shows(texts[1]);
  await page.keyboard.press("Control+Shift+Z");
  await shows(texts[2]);
  await page.goForward();
  await shows(texts[3]);
  await page.click("#redo");
  await shows(texts[4]);
  assert.ok(await page.isDisabled("#redo"));
  for (let at = 3; at >= 0; --at) {
    await page.click("#undo");
    await shows(texts[at]);
  }
  assert.ok(await page.isDisabled("#undo"));
  await done(page);
});

test("Back from a room leads to the room before, and keeps the pouch", async () => {
  const page = await desk.page();
  await fill(page, "pouch.width", "200 mm");
  await enter(page, "pouches");
  await page.goBack();
  await page.waitForFunction(() => document.body.dataset.room === "pouch");
  assert.equal(await page.inputValue(field("pouch.width")), "200 mm");
  await done(page);
});

test("a reload before the address has the answer loses nothing", async () => {
  const page = await desk.page();
  await fill(page, "title", "Kept");
  await reveal(page, "pouch.depth");
  const before = await page.evaluate(() => ({ state: history.state, href: location.href }));
  await page.locator(field("pouch.depth")).fill("180 mm");
  await settled(page);
  // The address waits while keys come: as it is then.
  await page.waitForTimeout(400);
  await page.evaluate(({ state, href }) => history.replaceState(state, "", href), before);
  await page.reload();
  await settled(page);
  assert.equal(await page.inputValue(field("pouch.depth")), "180 mm");
  await done(page);
});

test("a reload that the answer comes into loses nothing", async () => {
  const page = await desk.page();
  await fill(page, "title", "Kept");
  const before = await page.evaluate(() => location.href);
  await fill(page, "pouch.depth", "180 mm");
  // The address was on its way when the step was written down: it is the one before, and the state is not.
  await page.waitForTimeout(400);
  await page.evaluate((href) => history.replaceState(history.state, "", href), before);
  await page.reload();
  await settled(page);
  assert.equal(await page.inputValue(field("pouch.depth")), "180 mm");
  assert.equal(await page.title(), "Kept");
  await done(page);
});

test("a reload right after a key loses nothing", async () => {
  const page = await desk.page();
  await fill(page, "title", "Kept");
  await reveal(page, "pouch.depth");
  await page.locator(field("pouch.depth")).fill("180 mm");
  await page.reload();
  await settled(page);
  assert.equal(await page.inputValue(field("pouch.depth")), "180 mm");
  assert.equal(await page.title(), "Kept");
  await done(page);
});

const fileOf = (name, text) => ({ name, mimeType: "text/plain", buffer: Buffer.from(text) });

test("a file opens as a pouch of its own, and the one before is kept", async () => {
  const page = await desk.page();
  await fill(page, "title", "The first one");
  await enter(page, "pouches");
  await page.setInputFiles("#open", fileOf("other.toml", 'construction = "sleeve"\ntitle = "The other one"\n'));
  await page.waitForFunction(() => document.title === "The other one");
  await enter(page, "pouches");
  await page.getByRole("button", { name: "Open The first one" }).click();
  await page.waitForFunction(() => document.title === "The first one");
  await enter(page, "pouches");
  await page.getByRole("button", { name: "Delete The other one" }).click();
  assert.equal(await page.getByRole("button", { name: "Open The other one" }).count(), 0);
  await page.getByRole("button", { name: "Bring The other one back" }).click();
  assert.equal(await page.getByRole("button", { name: "Open The other one" }).count(), 1);
  await done(page);
});

test("a file dropped on the page opens as a new one", async () => {
  const page = await desk.page();
  await fill(page, "title", "Before");
  const files = await page.evaluateHandle(() => {
    const data = new DataTransfer();
    data.items.add(new File(['construction = "sleeve"\ntitle = "Dropped"\n'], "dropped.toml"));
    return data;
  });
  await page.dispatchEvent("body", "drop", { dataTransfer: files });
  await page.waitForFunction(() => document.title === "Dropped");
  await enter(page, "pouches");
  assert.equal(await page.getByRole("button", { name: "Open Before" }).count(), 1);
  await done(page);
});

test("a PDF opened by mistake changes nothing", async () => {
  const page = await desk.page();
  await fill(page, "title", "Mine");
  await enter(page, "pouches");
  const answer = await page.request.post(`${desk.address}api/template/template.pdf`, { data: kEmptyJob });
  await page.setInputFiles("#open", { name: "lay.pdf", mimeType: "application/pdf", buffer: await answer.body() });
  await page.waitForFunction(() => /lay\.pdf/.test(document.getElementById("done").textContent));
  assert.match(await page.innerText("#done"), /no job file|larger than/);
  assert.equal(await page.title(), "Mine");
  await done(page);
});

test("what is worked out anew, old, or not answered at all is marked, and asked again by itself", served, async () => {
  let isAway = false;
  let isSlow = false;
  const page = await desk.page({
    mayBeAway: true,
    prepare: (one) => one.route("**/api/edit?*", async (route) => {
      if (isAway) return route.abort();
      if (isSlow) await new Promise((resolve) => setTimeout(resolve, 1200));
      await route.continue().catch(() => {});
    }),
  });
  isSlow = true;
  await page.locator(field("pouch.width")).fill("200 mm");
  await page.waitForFunction(() => document.body.classList.contains("working"));
  await settled(page);
  assert.ok(!(await page.evaluate(() => document.body.classList.contains("working"))));
  isSlow = false;
  isAway = true;
  await page.locator(field("pouch.width")).fill("210 mm");
  await page.waitForSelector("#away:visible");
  assert.match(await page.innerText("#away"), /does not answer/);
  await page.waitForFunction(() => Number(getComputedStyle(document.getElementById("pouch")).opacity) < 0.6);
  await picture(page, "away");
  isAway = false;
  await page.waitForFunction(() => document.getElementById("answer").textContent.includes("210 mm"));
  assert.ok(!(await page.isVisible("#away")));
  await done(page);
});

test("a first load with an error shows no broken picture, and says what is wrong", async () => {
  const page = await desk.page({ job: "this is no job" });
  await judged(page);
  assert.match(await page.innerText("#summary"), /wrong/);
  const broken = await page.evaluate(() => [...document.images].filter((one) => one.checkVisibility({ visibilityProperty: true }) && one.src && one.naturalWidth === 0).length);
  assert.equal(broken, 0);
  assert.ok(!(await page.isVisible("#pouch")));
  await done(page);
});

test("what has a value in the program can be given here", async () => {
  const page = await desk.page();
  await page.check('input[value="freeflap"]');
  await settled(page);
  await reveal(page, "pouch.closure");
  await page.selectOption(field("pouch.closure"), "hook-and-loop");
  await settled(page);
  assert.match(await jobText(page), /closure = "hook-and-loop"/);
  for (const path of ["pouch.closure_through", "batch.overedge_machines", "stitches.sides", "card.kind", "batch.aql"]) {
    await reveal(page, path);
    assert.ok(await page.isVisible(field(path)), path);
  }
  // And what a kind of pouch has not is not asked for.
  await page.check('input[value="sleeve"]');
  await settled(page);
  for (const path of ["pouch.flap", "liners.overlap", "pouch.closure_through"]) assert.ok(!(await page.isVisible(field(path))), path);
  await done(page);
});

test("what is taken where nothing is chosen is said by its name", async () => {
  const page = await desk.page();
  const chosen = (path) => page.locator(field(path)).evaluate((one) => one.selectedOptions[0].textContent);
  assert.equal(await chosen("materials.laminate"), "150 cm PUL (usual)");
  assert.match(await chosen("paper.size"), /^A4, .*\(usual\)$/);
  assert.match(await chosen("pouch.cards"), /^slip card.*\(usual\)$/);
  await page.check('input[value="freeflap"]');
  await settled(page);
  // As the country of the browser calls it, or the page in one file.
  assert.match(await chosen("pouch.closure"), /^a (press stud|snap) \(usual\)$/);
  await done(page);
});

test("no label is a key of the file", async () => {
  const page = await desk.page();
  const texts = await page.evaluate(() => [...document.querySelectorAll("label, legend, option, summary, .hint")].map((one) => one.textContent));
  const keys = texts.filter((text) => /[a-z]_[a-z]|\bpul-\d|cotton-\d|roll-914|as usual|[{}\[\]]/.test(text));
  assert.deepEqual(keys, []);
  await done(page);
});

test("a saved file is named by the pouch", async () => {
  const page = await desk.page();
  await fill(page, "title", "Größe 3 / blau");
  await enter(page, "pouches");
  const { name } = await downloaded(page, "#save");
  assert.equal(name, "Größe-3-blau.toml");
  await done(page);
});

test("another kind of pouch leaves no size behind that it does not know", async () => {
  const job = 'construction = "gusset"\n[pouch]\nwidth = "190 mm"\ngusset = "60 mm"\nflap_shape = "rounded"\nflap_corner = "15 mm"\n';
  const kinds = ["freeflap", "rolltop", "sleeve", "double", "twopiece", "foldover", "gusset"];
  for (const kind of kinds) {
    const page = await desk.page({ job });
    await page.locator(`input[name=construction][value=${kind}]`).check({ force: true });
    await settled(page);
    await judged(page);
    assert.equal(await page.locator('#faults [data-rank="error"]').count(), 0, kind);
    assert.equal(/gusset = /.test(await jobText(page)), kind === "gusset", kind);
    assert.equal(/flap_shape/.test(await jobText(page)), !["rolltop", "sleeve"].includes(kind), kind);
    if (kind !== "gusset") await page.click("#undo");
    await page.waitForFunction((text) => document.getElementById("text").value === text, job);
    await done(page);
  }
});

test("the flap's end is chosen by its picture, and its corners are asked for where it has some", async () => {
  const page = await desk.page();
  assert.ok(!(await page.isVisible(field("pouch.flap_corner"))));
  await page.locator("#flap-shapes button", { hasText: "round corners" }).click();
  await settled(page);
  assert.equal(await page.inputValue(field("pouch.flap_shape")), "rounded");
  assert.match(await jobText(page), /flap_shape = "rounded"/);
  await fill(page, "pouch.flap_corner", "25 mm");
  assert.match(await jobText(page), /flap_corner = "25 mm"/);
  assert.equal(await page.innerText("#summary"), "All is well.");
  await page.selectOption(field("pouch.flap_shape"), "angled");
  await settled(page);
  assert.equal(await page.locator('#flap-shapes [aria-pressed="true"]').innerText(), "corners cut off");
  await page.locator("input[name=construction][value=sleeve]").check({ force: true });
  await settled(page);
  assert.ok(!(await page.isVisible("#flap-shapes")));
  await done(page);
});

test("the folds of a panel that is cut are typed with commas between them", async () => {
  // 204 x 390 mm, folded at 155 and 320: 165 mm deep, a flap of 70 mm, a gap of 10 mm.
  const page = await desk.page({ job: 'construction = "foldover"\n[panel]\nwidth = "204 mm"\nlength = "390 mm"\n' });
  await fill(page, "panel.fold_at", "155 mm, 320 mm");
  assert.match(await jobText(page), /fold_at = \["155 mm", "320 mm"\]/);
  assert.match(await page.innerText("#answer"), /190 mm × 165 mm/);
  await page.selectOption(field("units"), "in");
  await settled(page);
  assert.match(await page.inputValue(field("panel.fold_at")), /^6 1\/8 in, 12 5\/8 in$/);
  await fill(page, "panel.fold_at", "");
  assert.doesNotMatch(await jobText(page), /fold_at/);
  await done(page);
});

test("how often a mouth is rolled is asked for", async () => {
  const page = await desk.page({ job: 'construction = "rolltop"\n' });
  await fill(page, "pouch.rolls", "4");
  assert.match(await jobText(page), /rolls = 4/);
  assert.equal(await page.innerText("#summary"), "All is well.");
  await done(page);
});

test("a cloth is called as in the shop, in what is wrong with it too", async () => {
  const page = await desk.page();
  await fill(page, "pouch.width", "2 m");
  await fill(page, "pouch.depth", "1 m");
  const said = await page.innerText("#faults");
  assert.match(said, /wider than 150 cm PUL/);
  assert.doesNotMatch(said, /pul-150/);
  await done(page);
});
