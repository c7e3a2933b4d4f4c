// How fast and how much: printed, and held where it does not depend on the machine (requests, bytes, jumps).

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { done, field, fill, isSlowed, openDesk, reveal, settled, top } from "./support.mjs";

let desk;
before(async () => (desk = await openDesk()));
after(async () => desk.close());

const sample = readFileSync(join(top, "patterns/heron-quay.toml"), "utf-8");

/** Milliseconds from setting a size to its picture, a hundred times. */
async function edits(page, count) {
  return page.evaluate(async (many) => {
    const control = document.getElementById("pouch.width");
    const image = document.getElementById("pouch");
    const times = [];
    for (let i = 0; i < many; ++i) {
      const typed = String(150 + (i % 50) + (i % 2) * 40);
      const before_ = image.src;
      const begun = performance.now();
      control.value = typed;
      control.dispatchEvent(new Event("input", { bubbles: true }));
      while (image.src === before_) await new Promise((resolve) => setTimeout(resolve, 1));
      times.push(performance.now() - begun);
      while (document.body.dataset.state !== "shown") await new Promise((resolve) => setTimeout(resolve, 1));
    }
    return times.sort((a, b) => a - b);
  }, count);
}

test("an edit is one request of less than 100 kB, and its picture is there at once", async (t) => {
  const page = await desk.page({ job: sample });
  const client = await page.context().newCDPSession(page);
  await client.send("Network.enable");
  let bytes = 0;
  let requests = 0;
  client.on("Network.loadingFinished", (event) => (bytes += event.encodedDataLength));
  client.on("Network.requestWillBeSent", (event) => (requests += event.request.url.startsWith("blob:") ? 0 : 1));
  await reveal(page, "pouch.width");
  const count = isSlowed ? 10 : 100;
  const times = await edits(page, count);
  t.diagnostic(`median ${times[count / 2].toFixed(0)} ms, worst of ${count} ${times.at(-1).toFixed(0)} ms`);
  t.diagnostic(`requests an edit ${(requests / count).toFixed(2)}, bytes an edit ${(bytes / count).toFixed(0)}`);
  assert.ok(requests / count <= 2);
  assert.ok(bytes / count <= 100000);
  await done(page);
});

test("nothing jumps: at load, and while a size is typed", async (t) => {
  for (const [width, height] of [[360, 740], [768, 1024], [1440, 900], [1920, 1080]]) {
    const page = await desk.page({
      job: sample, width, height,
      prepare: (one) => one.addInitScript(() => {
        window.shift = 0;
        new PerformanceObserver((list) => {
          for (const entry of list.getEntries()) window.shift += entry.hadRecentInput ? 0 : entry.value;
        }).observe({ type: "layout-shift", buffered: true });
      }),
    });
    // The line's last words come when it has rested.
    await page.waitForFunction(() => /sheets/.test(document.getElementById("answer").textContent));
    await page.waitForTimeout(500);
    const atLoad = await page.evaluate(() => window.shift);
    t.diagnostic(`${width}: layout shift at load ${atLoad.toFixed(3)}`);
    assert.ok(atLoad < 0.05, `${width}: ${atLoad}`);
    await reveal(page, "pouch.width");
    await page.locator(field("pouch.width")).fill("");
    await settled(page);
    // What a person sees: the box that is typed into, and what stands next to it.
    const places = () => page.evaluate(() => {
      const seen = [...document.querySelectorAll(".asks .field, #stage")].filter((one) => {
        const box = one.getBoundingClientRect();
        return box.width > 0 && box.bottom > 0 && box.top < innerHeight;
      });
      return Object.fromEntries(seen.map((one) => [one.dataset.path ?? one.id, Math.round(one.getBoundingClientRect().top)]));
    });
    await page.locator(field("pouch.width")).focus();
    const before_ = await places();
    for (const key of "200 mm") {
      await page.keyboard.press(key === " " ? "Space" : key);
      await settled(page);
      const now = await places();
      const moved = Object.keys(before_).filter((one) => one in now && Math.abs(now[one] - before_[one]) > 2);
      assert.deepEqual(moved, [], `${width}: at ${key}`);
    }
    // A complaint needs room, and takes none from the box that it is about.
    const top_ = () => page.evaluate(() => Math.round(document.activeElement.getBoundingClientRect().top));
    const stood = await top_();
    await page.keyboard.type("x");
    await page.waitForSelector('#faults [data-rank="error"]', { state: "attached" });
    await page.waitForTimeout(100);
    assert.ok(Math.abs((await top_()) - stood) <= 2, `${width}: ${stood} ${await top_()}`);
    await done(page);
  }
});

test("what nobody looks at is not asked for", async () => {
  const page = await desk.page({ job: sample });
  const asked = () => page.requested.filter((url) => url.includes("/api/")).map((url) => new URL(url).pathname);
  assert.deepEqual([...new Set(asked())], ["/api/edit"]);
  await page.waitForFunction(() => /sheets/.test(document.getElementById("answer").textContent));
  // Sheets and cloth are in the line that is looked at, and come in one request when nobody types.
  assert.deepEqual([...new Set(asked())], ["/api/edit", "/api/several"]);
  const before_ = asked().length;
  await fill(page, "title", "Other");
  assert.equal(asked().length, before_ + 1);
  await done(page);
});
