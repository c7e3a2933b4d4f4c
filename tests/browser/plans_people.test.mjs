// The work plan's people: a station given to somebody by choosing it, by carrying the person there, or by
// keys; what it costs; and how it is taken back.
//
// Sources: what a choice costs is held to two answers of the command, for the job with it and without; who
// does what, to the tasks of the command's plan of the job's text. Targets: WCAG 2.2, 2.5.8 (24 px); carrying is
// not the only way: 2.5.7; the focus is not hidden: 2.4.11.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { close, inRoom, open, opened, report } from "./rooms_support.mjs";
import { withFreed, withGiven, withNobodyGiven } from "../../src/desk/page/helpers.mjs";
import { done, jobText, picture, settled } from "./support.mjs";

before(open);
after(close);

const axe = createRequire(import.meta.url).resolve("axe-core/axe.min.js");

/** Four people, who have four stations: few pouches, so that a plan takes no time. */
const kJob = `construction = "foldover"
units = "mm"

[liners]
count = 1
width = "80 mm"
length = "120 mm"
thickness = "9 mm"

[batch]
pouches = 15
helpers = 4
`;
/** One who has a name and is slow, and whom a comment is about. */
const kNamed = `${kJob}
[[batch.helper]]
name = "Wren"   # comes at nine
speed = 0.8

[paper]
size = "A4"
`;

const shown = async (options = {}) => {
  const page = await inRoom("plans", { job: kJob, ...options });
  const part = await opened(page, "schedule");
  await costed(page);
  return { page, part };
};
const row = (part, who) => part.locator(".person").filter({ has: part.page().locator("strong", { hasText: new RegExp(`^${who}$`) }) });
const stationOf = (part, who) => part.getByRole("combobox", { name: `Station of ${who}`, exact: true });
const bar = (page) => page.locator(".people-bar [role=status]");

/** Waits until the plan of what is chosen is there, and what it costs. */
async function costed(page) {
  await settled(page);
  await page.waitForFunction(() => {
    const words = document.querySelector(".people-bar [role=status]")?.textContent ?? "";
    return words !== "" && words !== "Being worked out …" && !document.querySelector(".people-list.working");
  });
}

/** The value of the station that `who` has in the plan that is shown. */
const has = (part, who) => row(part, who).locator(".station").first().getAttribute("data-can");

/** The operations that a helper has by the command, but those that are done once. */
function operationsOf({ stations, steps }, helper) {
  const once = new Set(steps.filter((one) => one.once).flatMap((one) => one.operations.map((each) => each.operation)));
  return [...new Set(stations.filter((one) => one.helper === helper).flatMap((one) => one.operations))].filter((one) => !once.has(one));
}

function costWords(with_, without) {
  const minutes = Math.round(Math.abs(with_ - without));
  if (minutes === 0) return /ends the day at the same minute as the plan’s own/;
  return new RegExp(`ends the day ${minutes} min ${with_ > without ? "later" : "earlier"} than the plan’s own`);
}

test("a person is given a station by choosing it; it is said what it costs, and undo takes it back", async () => {
  const { page, part } = await shown();
  assert.equal(await part.locator(".person").count(), 4);
  assert.match(await bar(page).innerText(), /The plan has chosen for everybody/);
  const free = await report(page, "schedule", kJob);
  // As now: station and times of each, in the command's words.
  for (const { helper, from, to, said } of free.stations) {
    assert.match(await row(part, `helper ${helper}`).innerText(), new RegExp(`${from} to ${to}[^]*${said.slice(0, 20)}`));
  }
  const before_ = operationsOf(free, 3);
  const wanted = await has(part, "helper 4");
  await stationOf(part, "helper 3").selectOption(wanted);
  await page.waitForFunction(() => document.getElementById("text").value.includes("can = "));
  await costed(page);
  const text = await jobText(page);
  assert.equal(text, `${kJob}\n[[batch.helper]]\n\n[[batch.helper]]\n\n[[batch.helper]]\ncan = ${wanted.replace(/,/g, ", ")}\n`);
  const given = await report(page, "schedule", text);
  const allowed = operationsOf(free, 4);
  assert.ok(operationsOf(given, 3).every((one) => allowed.includes(one)), operationsOf(given, 3).join());
  assert.notDeepEqual(operationsOf(given, 3), before_);
  assert.match(await bar(page).innerText(), costWords(given.makespan_min, free.makespan_min));
  assert.equal(await stationOf(part, "helper 3").inputValue(), wanted);
  assert.ok(await row(part, "helper 3").getByText("your choice").isVisible());
  assert.ok(!(await row(part, "helper 1").getByText("your choice").isVisible()));
  await page.click("#undo");
  await costed(page);
  assert.equal(await jobText(page), kJob);
  assert.equal(await stationOf(part, "helper 3").inputValue(), "");
  assert.match(await bar(page).innerText(), /The plan has chosen for everybody/);
  await done(page);
});

test("the plan chooses again, for one of them and for all, and leaves the text as it was", async () => {
  const { page, part } = await shown({ job: kNamed });
  const all = part.getByRole("button", { name: "Let the plan choose again" });
  assert.ok(!(await all.isVisible()));
  await stationOf(part, "Wren").selectOption(await has(part, "helper 4"));
  await page.waitForFunction(() => /name = "Wren" {3}# comes at nine\nspeed = 0\.8\ncan = \[/.test(document.getElementById("text").value));
  await costed(page);
  await stationOf(part, "helper 2").selectOption(await has(part, "helper 3"));
  await page.waitForFunction(() => document.getElementById("text").value.match(/^can = /gm)?.length === 2);
  await costed(page);
  await stationOf(part, "Wren").selectOption({ label: "The plan chooses" });
  await page.waitForFunction(() => document.getElementById("text").value.match(/^can = /gm)?.length === 1);
  await costed(page);
  assert.ok(await row(part, "helper 2").getByText("your choice").isVisible());
  await all.click();
  await page.waitForFunction(() => !document.getElementById("text").value.includes("can = "));
  await costed(page);
  assert.equal(await jobText(page), kNamed);
  assert.ok(!(await all.isVisible()));
  await done(page);
});

test("who changes station has two, each of which can be given; what is later is said", async () => {
  const job = kJob.replace("helpers = 4", "helpers = 3").replace("pouches = 15", "pouches = 20");
  const { page, part } = await shown({ job });
  const free = await report(page, "schedule", job);
  const [changing] = free.stations.filter(({ helper }, index, all) => all.findIndex((one) => one.helper === helper) !== index);
  assert.ok(changing, "nobody changes station");
  const who = free.people.find(({ helper }) => helper !== changing.helper && !free.stations.some((one) => one.helper === helper && one.can.includes(changing.can[0])));
  const target = row(part, `helper ${changing.helper}`).locator(".station").nth(1);
  await carried(page, row(part, who.who).locator(".person-handle"), target);
  await page.waitForFunction(() => document.getElementById("text").value.includes("can = "));
  await costed(page);
  const given = await report(page, "schedule", await jobText(page));
  assert.deepEqual(given.people[who.helper - 1].can, changing.can);
  assert.ok(Math.round(given.makespan_min - free.makespan_min) > 0, `${given.makespan_min} ${free.makespan_min}`);
  assert.match(await bar(page).innerText(), costWords(given.makespan_min, free.makespan_min));
  await done(page);
});

test("what is written of the helpers stays, and what lies under the job is written out", () => {
  const told = (name, can, speed = 1) => ({ name, speed, can });
  const people = [told("Wren", ["press"]), told("", null, 0.5), told("", null)];
  const under = withGiven("[batch]\nhelpers = 3\n", people, 2, ["cut"]);
  assert.equal(under, `[batch]
helpers = 3

[[batch.helper]]
name = "Wren"
can = ["press"]

[[batch.helper]]
speed = 0.5

[[batch.helper]]
can = ["cut"]
`);
  const job = { value: () => "3" };
  assert.equal(withFreed(job, under, people, 2), under.replace(/\n\[\[batch\.helper\]\]\ncan = \["cut"\]\n/, ""));
  assert.doesNotMatch(withNobodyGiven(job, "[batch]\nhelpers = 3\n", people), /can/);
  const own = `[[batch.helper]] # by the door
can = [
  "cut", # not "press" ]
  "mark"
] # her wrist

[[batch.helper]]
# the new one
`;
  assert.equal(withGiven(own, people, 0, ["sew"]), own.replace(/can = \[[^]*\] # her/, 'can = ["sew"] # her'));
  assert.equal(withNobodyGiven(job, own, []), own.replace(/can = \[[^]*wrist\n/, ""));
  // Where the blocks are what says how many there are, none goes.
  const counted = "[[batch.helper]]\n\n[[batch.helper]]\n\n[[batch.helper]]\ncan = [\"cut\"]\n";
  assert.equal(withFreed({ value: () => "" }, counted, [], 2).match(/helper/g).length, 3);
});

/** From the middle of one part to that of another, by the mouse. */
async function carried(page, from, to, put = true) {
  const middle = async (one) => {
    const { x, y, width, height } = await one.boundingBox();
    return [x + width / 2, y + height / 2];
  };
  await from.scrollIntoViewIfNeeded();
  await page.mouse.move(...(await middle(from)));
  await page.mouse.down();
  await page.mouse.move(...(await middle(to)), { steps: 8 });
  if (put) await page.mouse.up();
}

test("a person is carried to another's station by the mouse, and Escape puts her back", async () => {
  const { page, part } = await shown();
  const handle = row(part, "helper 1").locator(".person-handle");
  const target = row(part, "helper 4").locator(".station");
  const wanted = await has(part, "helper 4");
  await carried(page, handle, target, false);
  assert.equal(await page.locator(".carried").innerText(), "helper 1");
  assert.equal(await page.locator(".station.over").count(), 1);
  await picture(page, "plans-people-carried");
  await page.keyboard.press("Escape");
  await page.mouse.up();
  assert.equal(await page.locator(".carried, .over, .carrying").count(), 0);
  assert.equal(await jobText(page), kJob);
  await carried(page, handle, target);
  await page.waitForFunction(() => document.getElementById("text").value.includes("can = "));
  await costed(page);
  assert.equal(await jobText(page), `${kJob}\n[[batch.helper]]\ncan = ${wanted.replace(/,/g, ", ")}\n`);
  // On her own station, or beside all, nothing is given.
  await page.click("#undo");
  await costed(page);
  await carried(page, handle, row(part, "helper 1").locator(".person-does"));
  await carried(page, handle, part.locator("summary").first());
  assert.equal(await jobText(page), kJob);
  await done(page);
});

test("a finger carries a person, too, and the page does not move away under it", async () => {
  const { page, part } = await shown({ width: 360, height: 740, touch: true });
  const handle = row(part, "helper 3").locator(".person-handle");
  await handle.evaluate((one) => one.scrollIntoView({ block: "center" }));
  const wanted = await has(part, "helper 4");
  const middle = async (one) => one.boundingBox().then(({ x, y, width, height }) => ({ x: x + width / 2, y: y + height / 2 }));
  const from = await middle(handle);
  const to = await middle(row(part, "helper 4").locator(".station"));
  const client = await page.context().newCDPSession(page);
  const touch = (type, points) => client.send("Input.dispatchTouchEvent", { type, touchPoints: points });
  const scrolled = await page.evaluate(() => scrollY);
  await touch("touchStart", [from]);
  for (let step = 1; step <= 6; ++step) await touch("touchMove", [{ x: from.x, y: from.y + (to.y - from.y) * step / 6 }]);
  assert.equal(await page.evaluate(() => scrollY), scrolled);
  await touch("touchEnd", []);
  await page.waitForFunction(() => document.getElementById("text").value.includes("can = "));
  await costed(page);
  assert.match(await jobText(page), new RegExp(`(\\[\\[batch\\.helper\\]\\]\\n\\n?){3}can = ${wanted.replace(/,/g, ", ").replace(/[[\]]/g, "\\$&")}\\n$`));
  await done(page);
});

test("work that nobody is left for is told in words, and the choice is taken back with one click", async () => {
  const job = `${kJob.replace("helpers = 4", "helpers = 3")}
[[batch.helper]]
can = ["cut", "mark"]

[[batch.helper]]
can = ["press"]
`;
  const { page, part } = await shown({ job });
  const wanted = await has(part, "helper 1");
  // By hand: two cut and mark and one fuses, so that nobody sews.
  const leave = async () => {
    await stationOf(part, "helper 3").selectOption(wanted);
    await page.locator(".people-bar.wrong").waitFor();
  };
  await leave();
  const after_ = await jobText(page);
  const { errors } = await report(page, "schedule?names=words", after_);
  assert.ok(errors.some(({ message }) => /^nobody can do .*sew/.test(message)), JSON.stringify(errors));
  for (const { message, hint } of errors) {
    assert.ok((await bar(page).innerText()).includes(message), message);
    assert.ok((await bar(page).innerText()).includes(hint));
    assert.doesNotMatch(message, /[a-z]-[a-z]/);
  }
  await picture(page, "plans-people-refused");
  await part.getByRole("button", { name: "Take it back" }).click();
  await page.locator(".people-bar:not(.wrong)").waitFor();
  await costed(page);
  assert.equal(await jobText(page), job);
  await leave();
  await part.getByRole("button", { name: "Let the plan choose again" }).click();
  await page.locator(".people-bar:not(.wrong)").waitFor();
  await costed(page);
  assert.doesNotMatch(await jobText(page), /can = /);
  await done(page);
});

test("by keys alone: stations that are passed by are not given, and the focus stays in sight", async () => {
  const { page, part } = await shown();
  const select = stationOf(part, "helper 2");
  const third = await select.locator("option").nth(3).getAttribute("value");
  await select.focus();
  for (let key = 0; key < 3; ++key) await page.keyboard.press("ArrowDown");
  await page.waitForFunction(() => document.getElementById("text").value.includes("can = "));
  await costed(page);
  assert.equal(await select.inputValue(), third);
  assert.ok((await jobText(page)).endsWith(`can = ${third.replace(/,/g, ", ")}\n`));
  assert.ok(await select.evaluate((one) => one === document.activeElement));
  const [box, line] = await page.evaluate(() => [document.activeElement, document.querySelector(".people-bar")].map((one) => one.getBoundingClientRect().toJSON()));
  assert.ok(box.bottom <= line.top + 1 || box.top >= line.bottom, JSON.stringify({ box, line }));
  // Three keys were one step.
  await page.keyboard.press("Control+z");
  await costed(page);
  assert.equal(await jobText(page), kJob);
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => document.getElementById("text").value.includes("can = "));
  await costed(page);
  const again = part.getByRole("button", { name: "Let the plan choose again" });
  for (let key = 0; key < 12 && !(await again.evaluate((one) => one === document.activeElement)); ++key) await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => !document.getElementById("text").value.includes("can = "));
  await costed(page);
  assert.equal(await jobText(page), kJob);
  assert.ok(await page.evaluate(() => document.activeElement.closest(".people-bar") !== null));
  await done(page);
});

test("with one or two people it is said why there is nothing to give", async () => {
  const page = await inRoom("plans", { job: kJob.replace("helpers = 4", "helpers = 2") });
  const part = await opened(page, "schedule");
  await part.getByText("From three people on").waitFor();
  assert.equal(await part.locator("select:visible").count(), 0);
  await done(page);
});

for (const [name, options] of [["wide", { width: 1440, height: 1000 }], ["wide-dark", { width: 1440, height: 1000, dark: true }],
                               ["narrow", { width: 360, height: 780 }], ["narrow-dark", { width: 360, height: 780, dark: true }]]) {
  test(`everybody can use it, and nothing jumps: ${name}`, async () => {
    const { page, part } = await shown(options);
    const tops = () => page.locator("#room-plans :is(.people > .lead, .people-list)").evaluateAll((all) => all.map((one) => one.getBoundingClientRect().top + scrollY));
    const before_ = await tops();
    const bottom = () => page.locator(".people-bar").evaluate((one) => one.offsetHeight);
    const height = await bottom();
    await stationOf(part, "helper 3").selectOption(await has(part, "helper 4"));
    await page.waitForFunction(() => document.getElementById("text").value.includes("can = "));
    await costed(page);
    assert.deepEqual(await tops(), before_);
    assert.ok(Math.abs((await bottom()) - height) <= 1, `${height} ${await bottom()}`);
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth));
    for (const target of await part.locator(".people :is(select, button:visible, .person-handle)").all()) {
      const { width, height: high } = await target.boundingBox();
      assert.ok(width >= 24 && high >= 24, `${width} x ${high}`);
    }
    await part.locator(".people").evaluate((one) => one.scrollIntoView());
    await picture(page, `plans-people-${name}`);
    await picture(page, `plans-people-${name}-all`, true);
    await page.evaluate(readFileSync(axe, "utf-8"));
    const found = await page.evaluate(async () => (await window.axe.run(document.querySelector(".people"))).violations.flatMap((one) =>
      one.nodes.map((node) => [one.impact, one.id, node.target.join(" ")])));
    assert.deepEqual(found.filter(([impact]) => ["serious", "critical"].includes(impact)), []);
    await done(page);
  });
}
