// Two pouches side by side; and all rooms for everybody: axe-core, every width, the keyboard.
//
// Sources: WCAG 2.2, levels A and AA, as far as axe-core can tell; 1.4.10 for 320 px and up, 2.1.1 and
// 2.4.7 for the keyboard, 2.5.8 for what is pressed; sums of a few lengths by hand, where they stand.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { close, countOf, folded, go, inRoom, open, openPage, sample, told } from "./rooms_support.mjs";
import { done, jobText, picture, settled } from "./support.mjs";

before(open);
after(close);

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf-8");

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
  const alts = await page.locator(`${kCompare} .compare img`).evaluateAll((all) => all.map((one) => [one.alt, one.naturalWidth > 0]));
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
    const page = await openPage({ job: sample, ...options });
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
    const page = await openPage({ job: sample, width, height: 900 });
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
  const page = await openPage({ job: sample });
  for (const room of kRooms) {
    await allOf(page, room);
    const wanted = await page.evaluate((name) => {
      const all = [...document.querySelectorAll(`#room-${name} :is(button, input, select, summary, [tabindex="0"])`)]
        .filter((one) => one.checkVisibility({ visibilityProperty: true }) && !one.disabled && (one.type !== "radio" || one.checked));
      all.forEach((one, index) => (one.dataset.wanted = index));
      document.getElementById(`room-${name}`).focus();
      return all.length;
    }, room);
    const reached = new Set();
    // A day has a stop for each of its parts and one for its calendar.
    for (let i = 0; i < wanted + 12; ++i) {
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
  const page = await openPage({ job: 'construction = "foldover"\n[pouch]\nwidth = "wide"\n' });
  for (const room of kRooms) {
    await go(page, room);
    assert.ok(await page.locator(`#room-${room}`).getByText("as soon as the pouch can be made").isVisible(), room);
    assert.equal(await page.locator(`#room-${room} .room-fault`).count(), 0);
  }
  await done(page);
});
