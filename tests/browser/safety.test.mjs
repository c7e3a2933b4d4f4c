// The page holds to its own machine: nothing goes out, nothing foreign comes in, and no text of a
// job becomes part of the page.
//
// Sources: the Fetch, HTML and Content Security Policy standards, as a browser applies them.

import assert from "node:assert/strict";
import { createServer } from "node:http";
import { after, before, test } from "node:test";
import { fill, openDesk, served, settled } from "./support.mjs";

let desk;
let foreign;
before(async () => {
  desk = await openDesk();
  foreign = await foreignServer();
});
after(async () => {
  foreign.server.close();
  await desk.close();
});

/** A page of another origin: the same machine, another port. */
async function foreignServer() {
  const server = createServer((request, answer) => {
    answer.setHeader("Content-Type", "text/html");
    answer.end(`<!doctype html><title>foreign</title>
      <form method="post" action="${desk.address}print"><input name="construction" value="foldover">
      <button name="make" value="template">send</button></form>
      <iframe src="${desk.address}"></iframe>`);
  });
  await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
  return { server, address: `http://127.0.0.1:${server.address().port}/` };
}

async function foreignPage() {
  const page = await desk.browser.newPage();
  await page.goto(foreign.address);
  return page;
}

test("a foreign page cannot ask, by no kind of request", async () => {
  const page = await foreignPage();
  const results = await page.evaluate(async (address) => {
    const attempts = [
      { method: "POST", body: 'construction = "foldover"' },
      { method: "POST", mode: "no-cors", body: 'construction = "foldover"' },
      { method: "POST", headers: { "Content-Type": "application/toml" }, body: "" },
      { method: "GET" },
    ];
    return Promise.all(attempts.map(async (attempt) => {
      try {
        const answer = await fetch(`${address}api/size`, attempt);
        return [answer.type, answer.status, await answer.text()];
      } catch {
        return "refused";
      }
    }));
  }, desk.address);
  assert.deepEqual(results, ["refused", ["opaque", 0, ""], "refused", "refused"].map((one, index) =>
    index === 1 && results[1] === "refused" ? "refused" : one));
  await page.close();
});

test("a foreign form is refused", async () => {
  const page = await foreignPage();
  const [answer] = await Promise.all([
    page.waitForResponse((one) => one.url().endsWith("/print")),
    page.click("button"),
  ]);
  assert.equal(answer.status(), 403);
  await page.close();
});

test("the page does not show in a foreign frame", async () => {
  const page = await foreignPage();
  const [, frame] = page.frames();
  await frame.waitForLoadState();
  assert.equal(await frame.locator("#asks").count(), 0);
  await page.close();
});

test("a link from a foreign page leads here all the same", async () => {
  const page = await foreignPage();
  await page.evaluate((address) => {
    document.body.insertAdjacentHTML("beforeend", `<a id="there" href="${address}#job=eA">there</a>`);
  }, desk.address);
  await page.click("#there");
  await settled(page);
  assert.equal(await page.inputValue("#text"), "x");
  await page.close();
});

// In one file, tests/web holds that nothing is asked for at all.
test("no request leaves the machine", served, async () => {
  const page = await desk.page();
  await fill(page, "title", "https://elsewhere.example/x.png");
  await fill(page, "pouch.width", "200");
  assert.ok(page.requested.length > 10);
  assert.deepEqual(page.requested.filter((url) => !url.startsWith(desk.address) && !url.startsWith(`blob:${desk.address}`)), []);
  await page.context().close();
});

test("the page keeps to its own content policy", async () => {
  const page = await desk.page({
    prepare: (one) => one.addInitScript(() => {
      window.violations = [];
      addEventListener("securitypolicyviolation", (event) => window.violations.push(event.violatedDirective));
    }),
  });
  await fill(page, "pouch.width", "200");
  assert.deepEqual(await page.evaluate(() => window.violations), []);
  // And the policy is in force.
  await page.evaluate(() => document.body.insertAdjacentHTML("beforeend", "<img src='http://elsewhere.example/x.png'>"));
  await page.waitForFunction(() => window.violations.length === 1);
  await page.context().close();
});

test("no text of a job becomes markup", async () => {
  const page = await desk.page();
  const elements = () => page.evaluate(() => [document.images.length, document.scripts.length, document.querySelectorAll("b").length]);
  const before_ = await elements();
  const markup = "</script><script>window.hit = 1</script><img src=x onerror='window.hit = 1'><b>";
  await fill(page, "title", markup);
  await fill(page, "pouch.width", markup);
  await fill(page, "text", `construction = "${markup.replace(/"/g, "")}"\n${markup} = 1\n`);
  await fill(page, "text", `construction = "foldover"\n[lay]\n[[lay.by_product]]\nname = "${markup}"\nwidth = "2 cm"\nlength = "3 cm"\n`);
  assert.deepEqual(await elements(), before_);
  assert.equal(await page.evaluate(() => window.hit), undefined);
  await page.context().close();
});
