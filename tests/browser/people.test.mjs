// The page for everybody: keyboard alone, every width, dark, little movement, slow or no scripts.
//
// Sources: WCAG 2.2, levels A and AA, as far as axe-core can tell (it names the criterion of each
// finding); 1.4.10 for 320 px and up; 2.1.1 and 2.4.7 for the keyboard; 4.1.3 for what is said aloud.

import assert from "node:assert/strict";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { done, downloaded, enter, fault, field, fill, openDesk, picture, reveal, served, settled } from "./support.mjs";

let desk;
before(async () => (desk = await openDesk()));
after(async () => desk.close());

const axe = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
const kSerious = ["serious", "critical"];

/** What axe-core finds, a line each. Its script is put in past the content policy, by the browser. */
async function findings(page) {
  const { readFileSync } = await import("node:fs");
  await page.evaluate(readFileSync(axe, "utf-8"));
  const { violations } = await page.evaluate(() => window.axe.run(document));
  return violations.flatMap((one) => one.nodes.map((node) => [one.impact, one.id, node.target.join(" ")]));
}

async function openAllGroups(page) {
  await page.evaluate(() => document.querySelectorAll("details").forEach((group) => (group.open = true)));
}

for (const [name, options] of [["light", {}], ["dark", { dark: true }], ["narrow", { width: 360, height: 780 }],
                               ["narrow and dark", { width: 360, height: 780, dark: true }],
                               ["wide", { width: 1920, height: 1080 }]]) {
  test(`axe-core finds nothing serious: ${name}`, async (t) => {
    const page = await desk.page(options);
    await fill(page, "pouch.width", "19x");
    await openAllGroups(page);
    await picture(page, `${name.replaceAll(" ", "-")}-error`, true);
    const found = await findings(page);
    await fill(page, "pouch.width", "");
    found.push(...(await findings(page)));
    await picture(page, name.replaceAll(" ", "-"), true);
    await enter(page, "pouches");
    found.push(...(await findings(page)));
    await page.click("#new");
    await settled(page);
    found.push(...(await findings(page)));
    await picture(page, `${name.replaceAll(" ", "-")}-start`, true);
    for (const one of found) t.diagnostic(one.join(": "));
    assert.deepEqual(found.filter(([impact]) => kSerious.includes(impact)), []);
    await done(page);
  });
}

test("no width from 320 to 1920 px scrolls sideways or cuts a control off", async () => {
  for (const width of [320, 360, 480, 768, 1000, 1280, 1920]) {
    const page = await desk.page({ width, height: 800 });
    await openAllGroups(page);
    await fill(page, "title", "Aveylongnamewithoutanyblankthatnevercomestoanendandgoesonandon".repeat(2));
    for (const room of ["pouch", "pouches", "start"]) {
      if (room === "start") await page.click("#new");
      else await enter(page, room);
      await settled(page);
      assert.deepEqual({ width, room, ...(await beyond(page)) }, { width, room, scroll: 0, cut: [] });
    }
    await done(page);
  }
});

/** By how much the page is wider than the window, and the controls that stand out of it; what scrolls in its
    own strip does not. */
async function beyond(page) {
  return page.evaluate(() => {
    const inner = document.documentElement.clientWidth;
    const controls = [...document.querySelectorAll("input, select, button, textarea, a")];
    const outside = controls.filter((one) => {
      const box = one.getBoundingClientRect();
      return box.width > 0 && !one.matches(".skip") && !one.closest(".strip, .rooms") && (box.left < 0 || box.right > inner + 0.5);
    });
    return { scroll: document.documentElement.scrollWidth - inner, cut: outside.map((one) => one.id || one.textContent) };
  });
}

test("controls are large enough to be hit", async () => {
  const page = await desk.page({ width: 360, height: 780 });
  await openAllGroups(page);
  const small = await page.evaluate(() =>
    [...document.querySelectorAll("input:not([type=file]), select, button, textarea, summary, .to-fields a")]
      .map((one) => [one.id || one.textContent, one.getBoundingClientRect()])
      .filter(([, box]) => box.width > 0 && (box.width < 23.9 || box.height < 23.5))  // WCAG 2.2, 2.5.8: 24 px
      .map(([name]) => name));
  assert.deepEqual(small.filter((name) => name !== ""), []);
  await done(page);
});

test("the keyboard alone reaches everything, and what has the focus shows it", async () => {
  const page = await desk.page();
  await openAllGroups(page);
  const wanted = await page.evaluate(() =>
    [...document.querySelectorAll("a[href], button, input, select, textarea, summary")]
      .filter((one) => one.checkVisibility({ visibilityProperty: true }) && !one.disabled && !one.matches(".mini"))
      .filter((one) => one.type !== "radio" || one.checked)
      .map((one, index) => ((one.dataset.wanted = index), index)));
  const reached = new Set();
  const unseen = [];
  for (let i = 0; i < wanted.length + 20; ++i) {
    await page.keyboard.press("Tab");
    const at = await page.evaluate(() => {
      const one = document.activeElement;
      const shows = one.closest(".construction, .button, .way") ?? one;
      return { wanted: one.dataset.wanted, outline: getComputedStyle(shows).outlineStyle, name: one.id || one.textContent };
    });
    if (at.wanted === undefined) continue;
    reached.add(Number(at.wanted));
    if (at.outline === "none") unseen.push(at.name);
  }
  assert.deepEqual(wanted.filter((index) => !reached.has(index)), []);
  assert.deepEqual(unseen, []);
  await done(page);
});

test("whatever has the focus is in sight, whole", async () => {
  // WCAG 2.2, 2.4.11 (not hidden) and 2.4.12 (not even in part), at the widths at which a bar is fixed.
  for (const [width, height] of [[360, 740], [768, 1024], [1280, 800]]) {
    const page = await desk.page({ width, height });
    await openAllGroups(page);
    const hidden = [];
    for (let i = 0; i < 130; ++i) {
      await page.keyboard.press("Tab");
      const at = await page.evaluate(async () => {
        await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));
        const one = document.activeElement;
        const box = one.getBoundingClientRect();
        if (one === document.body || box.width < 2) return null;
        const points = [[box.left + 2, box.top + 2], [box.right - 2, box.bottom - 2], [(box.left + box.right) / 2, (box.top + box.bottom) / 2]];
        const isCovered = points.some(([x, y]) => {
          const top = document.elementFromPoint(Math.max(0, Math.min(x, innerWidth - 1)), y);
          return y < 0 || y > innerHeight || top?.closest(".mini");
        });
        return isCovered && box.height < innerHeight && !one.matches(".mini, textarea") ? one.id || one.textContent : null;
      });
      if (at) hidden.push(at);
    }
    assert.deepEqual({ width, hidden }, { width, hidden: [] });
    await done(page);
  }
});

test("on a wide screen the answer and what is wrong stay in sight, however far the pane is moved", async () => {
  for (const [width, height] of [[1280, 720], [1440, 900], [1920, 1080]]) {
    const page = await desk.page({ job: 'construction = "foldover"\n[pouch]\nflap = "300 mm"\n', width, height });
    await page.locator("#faults li").first().waitFor();
    for (const share of [0, 0.5, 1]) {
      const seen = await page.evaluate((of) => {
        const pane = document.getElementById("shows");
        document.querySelectorAll("#shows details").forEach((one) => (one.open = true));
        pane.scrollTop = of * pane.scrollHeight;
        const isSeen = (element) => {
          const { left, top, width: wide, height: high } = element.getBoundingClientRect();
          return element.contains(document.elementFromPoint(left + wide / 2, top + Math.min(high / 2, 20)));
        };
        return ["answer", "summary"].map((id) => document.getElementById(id)).concat(document.querySelector("#faults li")).map(isSeen);
      }, share);
      assert.deepEqual(seen, [true, true, true], `${width} at ${share}`);
    }
    await done(page);
  }
});

test("skip links lead from the fields to the picture and back", async () => {
  const page = await desk.page();
  await page.keyboard.press("Tab");
  assert.match(await page.evaluate(() => document.activeElement.textContent), /fields/);
  await page.keyboard.press("Enter");
  assert.equal(await page.evaluate(() => document.activeElement.id), "asks");
  await page.keyboard.press("Tab");
  await page.keyboard.press("ArrowRight");
  await settled(page);
  assert.ok(await page.isChecked('input[value="double"]'));  // after the usual one, by name
  await page.locator(".asks .to-fields a").focus();
  await page.keyboard.press("Enter");
  assert.equal(await page.evaluate(() => document.activeElement.id), "shows");
  await done(page);
});

test("what comes of an edit is said aloud, in one line, and what is wrong once", async () => {
  const page = await desk.page({ job: 'construction = "foldover"\n[liners]\nwidth = "80 mm"\nlength = "120 mm"\nthickness = "9 mm"\n' });
  assert.equal(await page.getAttribute("#spoken", "role"), "status");
  await page.waitForTimeout(900);
  await page.evaluate(() => {
    window.said = [];
    new MutationObserver(() => window.said.push(document.getElementById("spoken").textContent))
      .observe(document.getElementById("spoken"), { childList: true, characterData: true, subtree: true });
  });
  const said = () => page.evaluate(() => window.said);
  await fill(page, "pouch.width", "200 mm");
  await page.waitForTimeout(900);
  assert.equal((await said()).length, 1);
  assert.match((await said())[0], /200 mm × /);
  // Letter by letter, nothing is said until the typing rests.
  await reveal(page, "pouch.width");
  await page.locator(field("pouch.width")).selectText();
  await page.locator(field("pouch.width")).pressSequentially("201 xyz", { delay: 60 });
  await page.waitForTimeout(1900);
  assert.equal((await said()).length, 2);
  assert.match((await said())[1], /wrong/);
  const described = await page.getAttribute(field("pouch.width"), "aria-describedby");
  assert.ok(described.split(" ").includes("pouch.width-fault"));
  assert.notEqual(await page.locator(fault("pouch.width")).textContent(), "");
  await done(page);
});

test("in the accessibility tree every group and control has a name of its own", async () => {
  const page = await desk.page();
  await openAllGroups(page);
  const tree = await page.locator("body").ariaSnapshot();
  const lines = tree.split("\n").map((line) => line.trim());
  const nameless = lines.filter((line) => /^- (group|radiogroup|textbox|combobox|button|slider|radio|region|navigation|form)(:| \[|$)/.test(line));
  assert.deepEqual(nameless, []);
  const boxes = lines.map((line) => /^- (?:textbox|combobox) "([^"]+)"/.exec(line)?.[1]).filter(Boolean);
  const twice = boxes.filter((name, index) => boxes.indexOf(name) !== index);
  assert.deepEqual(twice, []);
  const radios = lines.map((line) => /^- radio "([^"]+)"/.exec(line)?.[1]).filter(Boolean);
  for (const name of radios) assert.ok(name.split(" ").length <= 20, name);
  await done(page);
});

test("nothing moves for those who asked for that", async () => {
  const moving = async (page) => page.evaluate(() =>
    [...document.querySelectorAll("*")].filter((one) => {
      const style = getComputedStyle(one);
      return style.transitionDuration !== "0s" || style.animationName !== "none" || style.scrollBehavior === "smooth";
    }).length);
  const calm = await desk.page({ reducedMotion: "reduce" });
  assert.equal(await moving(calm), 0);
  await done(calm);
  const usual = await desk.page();
  assert.ok((await moving(usual)) > 0);
  await done(usual);
});

test("dark is dark, light is light, and no drawing is a white slab in the dark", async () => {
  const ground = (page) => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  const light = await desk.page();
  const dark = await desk.page({ dark: true });
  assert.ok(brightness(await ground(light)) > 220);
  assert.ok(brightness(await ground(dark)) < 60);
  const stage = await dark.evaluate(() => getComputedStyle(document.getElementById("stage")).backgroundColor);
  assert.ok(brightness(stage) < 60);
  assert.match(await dark.evaluate(() => getComputedStyle(document.getElementById("pouch")).filter), /invert/);
  const cut = await desk.page({ dark: true, job: 'construction = "foldover"\n[pouch]\nwidth = "190 mm"\ndepth = "150 mm"\n' });
  await cut.click("#pieces-group summary");
  await cut.waitForSelector("#pieces .paper img");
  const [paper, lines] = await cut.evaluate(() => {
    const one = document.querySelector("#pieces .paper");
    return [getComputedStyle(one).backgroundColor, getComputedStyle(one.querySelector("img")).filter];
  });
  assert.ok(brightness(paper) < 60);
  assert.match(lines, /invert/);
  await done(cut);
  await done(light);
  await done(dark);
});

function brightness(colour) {
  const parts = colour.match(/\d+/g).slice(0, 3).map(Number);
  return parts.reduce((sum, one) => sum + one, 0) / 3;
}

test("what is filled in before a slow script comes is kept", served, async () => {
  let release;
  const held = new Promise((resolve) => (release = resolve));
  const page = await desk.page({
    job: "",
    prepare: async (one) => {
      await one.route("**/main.mjs", async (route) => {
        await held;
        await route.continue();
      });
      setTimeout(async () => {
        await one.locator('[id="start-liners.width"]').fill("3 1/4 in");
        release();
      }, 1000);
    },
  });
  assert.equal(await page.inputValue('[id="start-liners.width"]'), "3 1/4 in");
  assert.match(await page.inputValue("#text"), /width = "3 1\/4 in"/);
  assert.equal(await page.evaluate(() => document.body.dataset.room), "start");
  await done(page);
});

test("without scripts a plain form makes the papers, and tells what is wrong", served, async () => {
  const page = await desk.page({ script: false });
  for (const part of ["#shows", "#start", "#rooms", "#undo"]) assert.ok(!(await page.isVisible(part)), part);
  await page.check('input[value="gusset"]');
  await page.fill(field("title"), "Made <without> scripts");
  await page.fill(field("pouch.width"), "7 1/2 in");
  await picture(page, "without-scripts", true);
  for (const name of ["packet", "template", "mask", "lay", "supplies", "schedule", "steps"]) {
    const file = await downloaded(page, `button[name=make][value=${name}]`);
    assert.equal(file.name, `${name}.pdf`);
    assert.equal(file.bytes.subarray(0, 5).toString(), "%PDF-");
  }
  await page.fill(field("pouch.width"), "19x <b>");
  await page.click("button[name=make][value=template]");
  assert.match(await page.innerText("pre"), /"19x <b>" does not end in a unit/);
  await picture(page, "without-scripts-error");
  await page.goBack();
  assert.equal(await page.inputValue(field("title")), "Made <without> scripts");
  await done(page);
});
