// Watch it fold: the steps of the step pages, moving, by slider, buttons and keys.
//
// Sources: the steps are held to the command's; WCAG 2.2: 2.1.1 for the keyboard, 2.3.3 for movement,
// 4.1.3 for what is said aloud.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { calls, close, folded, inRoom, kFold, moveTo, open, openPage, report, sample, shownStep, slider } from "./rooms_support.mjs";
import { done, picture } from "./support.mjs";

before(open);
after(close);

/** What was asked for of the folding; the answer's line asks for its sheets and its cloth when it rests. */
const ofFolding = (page) =>
  calls(page).filter((url) => url.pathname === "/api/folding" || /^folding\//.test(url.searchParams.get("of") ?? ""));

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
  assert.deepEqual(ofFolding(page).map((url) => url.pathname), ["/api/folding", "/api/several"]);
  const moving = moves.findIndex((one) => one);
  const sources = new Set();
  for (let eighth = 1; eighth <= 8; ++eighth) {
    await moveTo(page, moving + eighth / 8);
    sources.add(await page.getAttribute(`${kFold} .folding-stage img`, "src"));
  }
  assert.equal(sources.size, 8);
  const asFrames = () => ofFolding(page).filter((url) => url.pathname === "/api/several");
  const asked = asFrames();
  const frames = asked.at(-1).searchParams.getAll("of");
  assert.equal(asked.length, 2);
  assert.equal(frames.length, 9);
  assert.deepEqual([frames[0], frames[8]], [`folding/${moving + 1}.svg?at=0`, `folding/${moving + 1}.svg?at=1`]);
  await moveTo(page, moving + 0.25);
  assert.equal(asFrames().length, 2);
  await picture(page, "folding");
  await done(page);
});

test("nothing of the folding is asked for before somebody looks", async () => {
  const page = await openPage({ job: sample });
  assert.deepEqual(ofFolding(page), []);
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
