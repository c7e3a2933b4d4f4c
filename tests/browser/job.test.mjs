// The job: fields and text, files and links, each kind of pouch, and what is wrong with a job.

import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { done, downloaded, enter, fault, field, fill, jobText, judged, number, openDesk, picture, served, settled, top } from "./support.mjs";

let desk;
before(async () => (desk = await openDesk()));
after(async () => desk.close());

const sample = join(top, "patterns/heron-quay.toml");
async function openFile(page, path) {
  await enter(page, "pouches");
  await page.setInputFiles("#open", path);
  await page.waitForFunction(() => document.body.dataset.room === "pouch");
  await settled(page);
}

test("an error stands at its field, in the command's words, and goes when it is mended", async () => {
  const page = await desk.page();
  await fill(page, "pouch.width", "19x");
  const said = await page.locator(fault("pouch.width")).innerText();
  assert.match(said, /^"19x" does not end in a unit that is known here\n/);
  assert.equal(await page.getAttribute(field("pouch.width"), "aria-invalid"), "true");
  assert.match(await page.innerText("#summary"), /^One thing is wrong\./);
  await picture(page, "error");
  await page.click("#faults button");
  assert.equal(await page.evaluate(() => document.activeElement.id), "pouch.width");
  await fill(page, "pouch.width", "190");
  assert.equal(await page.locator(fault("pouch.width")).textContent(), "");
  assert.equal(await page.getAttribute(field("pouch.width"), "aria-invalid"), null);
  assert.equal(await page.innerText("#summary"), "All is well.");
  await done(page);
});

test("a field in a closed group is opened to show where the error is", async () => {
  const page = await desk.page();
  await fill(page, "text", 'construction = "foldover"\n[tolerance]\nsew = "much"\n');
  assert.ok(!(await page.isVisible(field("tolerance.sew"))));
  await page.click("#faults button");
  assert.ok(await page.isVisible(field("tolerance.sew")));
  await done(page);
});

test("an error that has no field leads to its line in the text", async () => {
  const page = await desk.page();
  await fill(page, "text", 'construction = "foldover"\n[[lay.remnant]]\nmaterial = "outer"\nwidth = "wide"\nlength = "1 m"\n');
  assert.match(await page.locator(fault("text")).innerText(), /^line 4: "wide"/);
  await page.click("#faults button");
  const selected = await page.evaluate(() => {
    const area = document.activeElement;
    return area.value.slice(area.selectionStart, area.selectionEnd);
  });
  assert.equal(selected, 'width = "wide"');
  await done(page);
});

test("a job file that is opened fills the fields, and keeps its comments when they change", async () => {
  const page = await desk.page();
  await openFile(page, sample);
  const text = readFileSync(sample, "utf-8");
  assert.equal(await jobText(page), text);
  assert.equal(await page.inputValue(field("pouch.width")), "190 mm");
  assert.equal(await page.inputValue(field("materials.outer")), "cotton-110");
  assert.equal(await page.inputValue(field("liners.count")), "3");
  await fill(page, "pouch.width", "200 mm");
  await fill(page, "liners.columns", "");
  await fill(page, "tolerance.sew", "1.5 mm");
  const changed = text
    .replace('width = "190 mm"  ', 'width = "200 mm"  ')
    .replace("columns = 1\n", "") + '\n[tolerance]\nsew = "1.5 mm"\n';
  assert.equal(await jobText(page), changed);
  await enter(page, "pouches");
  const job = await downloaded(page, "#save");
  assert.equal(job.name, "Heron-Quay-carry-pouch-three-liners.toml");
  assert.equal(job.bytes.toString(), changed);
  await done(page);
});

test("a title with all that TOML treats specially comes back as it was typed", async () => {
  const page = await desk.page();
  for (const title of ['7½" \\ {a} [b] # c = "d"', "2024", "true", "  'x'  y", "Größe – ✂"]) {
    await fill(page, "title", title);
    assert.equal(await page.innerText("#summary"), "All is well.", title);
    const answer = await page.request.post(`${desk.address}api/size`, { data: await jobText(page) });
    assert.equal((await answer.json()).title, title.trim());
  }
  await done(page);
});

test("a cloth of one's own is described in fields", async () => {
  const page = await desk.page();
  await page.selectOption(field("materials.laminate"), "own");
  await page.waitForFunction(() => document.getElementById("text").value.includes("150 cm"));
  await settled(page);
  await fill(page, "materials.laminate.width", "140 cm");
  await fill(page, "materials.laminate.price", "12.5");
  assert.match(await jobText(page), /\[materials\.laminate\]\nwidth = "140 cm"\nprice = 12\.5\n/);
  assert.equal(await page.innerText("#summary"), "All is well.");
  await page.selectOption(field("materials.laminate"), "pul-152");
  await settled(page);
  assert.match(await jobText(page), /\[materials\]\nlaminate = "pul-152"\n/);
  assert.doesNotMatch(await jobText(page), /materials\.laminate/);
  assert.ok(!(await page.isVisible(field("materials.laminate.width"))));
  await done(page);
});

test("every construction can be chosen, and shows all that is cut and every card", async () => {
  // What a construction has besides a panel, a slip card and a shield is read off its file.
  const more = { double: ["Slip card 2"], rolltop: ["To cut as well: strap"], twopiece: ["To cut as well: front panel"] };
  const page = await desk.page();
  await fill(page, "title", "All kinds");
  await page.locator(field("pouch.cards")).selectOption("both", { force: true });
  await page.click("#pieces-group summary");
  await settled(page);
  const names = await page.locator('input[name="construction"]').evaluateAll((all) => all.map((one) => one.value));
  assert.equal(names[0], "foldover");
  assert.ok(names.length >= 7);
  for (const name of names) {
    await page.check(`input[value="${name}"]`);
    await settled(page);
    assert.equal(await page.locator('#faults li[data-rank="error"]').count(), 0, name);
    const wanted = ["The flat panel", "Slip card", "Shield", ...(more[name] ?? [])];
    await page.waitForFunction((all) => {
      const loaded = [...document.querySelectorAll("#pieces figure")].filter((one) => one.querySelector("img").src);
      return all.every((wanted_) => loaded.some((one) => one.querySelector("h3").innerText === wanted_));
    }, wanted, { timeout: 20000 }).catch(async () => assert.fail(`${name}: ${await page.innerText("#pieces")}`));
    // An image may be given another source while it is decoded: what counts is how they rest.
    const broken = async () => {
      const images = [...document.querySelectorAll(".shows img[src]")];
      await Promise.all(images.map((one) => one.decode().catch(() => {})));
      return images.filter((one) => one.naturalWidth === 0).map((one) => one.alt);
    };
    await page.waitForFunction(`(${broken})().then((all) => all.length === 0)`, null, { timeout: 20000 })
      .catch(async () => assert.fail(`${name}: ${await page.evaluate(broken)}`));
    await picture(page, `construction-${name}`);
  }
  await done(page);
});

test("what a size means follows the construction", async () => {
  const page = await desk.page();
  const meaning = () => page.innerText('[id="pouch.lip_drop-hint"]');
  const single = await meaning();
  await page.check('input[value="double"]');
  await settled(page);
  assert.match(await meaning(), /divider/);
  await page.check('input[value="foldover"]');
  await settled(page);
  assert.equal(await meaning(), single);
  assert.doesNotMatch(single, /divider/);
  await done(page);
});

test("printed, the page is numbers and pictures in black on white, and says it is not at full size", async () => {
  const page = await desk.page({ dark: true });
  await page.emulateMedia({ media: "print", colorScheme: "dark" });
  assert.ok(await page.isVisible(".on-paper"));
  assert.ok(await page.isVisible("#numbers"));
  for (const hidden of ["#asks", "#rooms", "#print", ".handle", ".skip"]) assert.ok(!(await page.isVisible(hidden)), hidden);
  const { ground, ink, height } = await page.evaluate(() => {
    const style = getComputedStyle(document.body);
    return { ground: style.backgroundColor, ink: style.color, height: document.getElementById("shows").scrollHeight - document.getElementById("shows").clientHeight };
  });
  assert.deepEqual([ground, ink], ["rgb(255, 255, 255)", "rgb(0, 0, 0)"]);
  assert.equal(height, 0);  // nothing is left inside a box that scrolls
  await picture(page, "printed", true);
  await done(page);
});

test("an error of the corpus, opened as a file, is told in the command's words", async () => {
  const page = await desk.page();
  const folder = join(top, "tests/errors");
  // Each fifth; below, each third is written as text. All of them, days as well, stand in the errors' own test.
  const jobs = readdirSync(folder).filter((name) => name.endsWith(".toml") && !name.startsWith("day-"));
  for (const name of jobs.filter((_, index) => index % 5 === 0)) {
    const answer = await page.request.post(`${desk.address}api/check?names=words`, { data: readFileSync(join(folder, name)) });
    const report = await answer.json();
    await enter(page, "pouches");
    await page.setInputFiles("#open", join(folder, name));
    await page.waitForFunction((opened) => document.getElementById("done").textContent.includes(opened), name);
    if (await page.evaluate(() => document.body.dataset.room === "pouches")) {
      assert.match(await page.innerText("#done"), /is no job file/, name);  // not a text
      assert.ok(report.errors.length > 0, name);
      continue;
    }
    await settled(page);
    await judged(page);
    await holdsFaults(page, name, report.errors, report);
  }
  await done(page);
});

test("a link holds the whole job, and reloading finds it again", async () => {
  const page = await desk.page();
  await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
  await openFile(page, sample);
  await enter(page, "pouches");
  await page.click("#link");
  await page.waitForFunction(() => document.getElementById("done").textContent.includes("copied"));
  const link = await page.evaluate(() => navigator.clipboard.readText());
  assert.ok(link.startsWith(`${desk.home}#job=`));
  const other = await desk.page({ fragment: link.slice(desk.home.length) });
  assert.equal(await jobText(other), readFileSync(sample, "utf-8"));
  await page.reload();
  await settled(page);
  assert.equal(await jobText(page), readFileSync(sample, "utf-8"));
  await done(other);
  await done(page);
});

test("a broken link opens the empty job and says so", async () => {
  const page = await desk.page({ fragment: "#job=%%%" });
  assert.match(await page.innerText("#done"), /The link is not whole/);
  assert.ok(await page.isVisible("#done"));
  assert.match(await jobText(page), /^construction = "foldover"/);
  await done(page);
});

test("what is overtaken never shows", served, async () => {
  let held = 0;
  const page = await desk.page({
    prepare: (one) => one.route("**/api/edit?*", async (route) => {
      // The answer for 150 mm comes long after that for 160 mm was asked for.
      if (route.request().url().includes("150")) {
        held += 1;
        await new Promise((resolve) => setTimeout(resolve, 600));
      }
      await route.continue().catch(() => {});
    }),
  });
  await page.locator(field("pouch.width")).fill("150");
  await page.waitForTimeout(50);
  await fill(page, "pouch.width", "160");
  assert.match(await number(page, "Finished"), /^160 mm/);
  await page.waitForTimeout(900);
  assert.match(await number(page, "Finished"), /^160 mm/);
  assert.equal(held, 1);
  await done(page);
});

test("a bad job is told of in full", async () => {
  const page = await desk.page();
  const folder = join(top, "tests/errors");
  const jobs = readdirSync(folder).filter((name) => name.endsWith(".toml") && !name.startsWith("day-")).filter((_, index) => index % 3 === 1);
  assert.ok(jobs.length > 60);
  for (const name of jobs) {
    const job = readFileSync(join(folder, name), "utf-8").replace(/\r/g, "");
    const answer = await page.request.post(`${desk.address}api/check?names=words`, { data: job });
    const report = await answer.json();
    await fill(page, "text", job);
    await holdsFaults(page, name, [...report.errors, ...report.warnings], report);
  }
  await picture(page, "last-bad-job");
  await done(page);
});

/** Each is told in the program's words, or, where it is only still needed, by its field's name. */
async function holdsFaults(page, name, faults, report) {
  const shown = flat(await page.locator("#faults").innerText());
  for (const one of faults) {
    const name = one.path === "construction" ? ".constructions legend" : `label[for="${one.path}"]`;
    const label = one.missing ? page.locator(name) : null;
    const words = label && (await label.count()) > 0 ? await label.innerText() : one.message;
    assert.ok(shown.includes(flat(words)) || shown.includes(flat(one.message)), `${name}: ${one.message}`);
  }
  assert.equal(/wrong|needed/.test(await page.innerText("#summary")), report.errors.length > 0, name);
}

/** Without the differences that showing makes to blanks. */
const flat = (text) => text.replace(/\s+/g, " ");
