// The page in one file in Firefox, opened from a disk: it begins, answers what is typed, and makes a packet byte for
// byte as the installed program does.
//
// POUCHWRIGHT_FILE names the file.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { pathToFileURL } from "node:url";
import { fragmentOf, packetOf, top } from "../browser/support.mjs";
import { firefoxProgram, openFirefox } from "./firefox.mjs";

const sample = readFileSync(`${top}/patterns/heron-quay.toml`, "utf8");
const kUntil = `
  const until = async (is) => { while (!is()) await new Promise((resolve) => setTimeout(resolve, 10)); };
  const cut = () => [...document.querySelectorAll("#numbers div")].find((one) => /Cut/.test(one.textContent))?.textContent;
`;

test("it begins, answers and prints in Firefox", { skip: firefoxProgram() ? false : "firefox is not installed" }, async (t) => {
  const browser = await openFirefox();
  try {
    await browser.go(pathToFileURL(process.env.POUCHWRIGHT_FILE).href + fragmentOf(sample));
    const ready = await browser.run(`${kUntil} await until(() => document.body.matches(".program-ready")); return performance.now();`);
    const shown = await browser.run(`${kUntil} await until(() => document.body.dataset.state === "shown"); return performance.now();`);
    t.diagnostic(`seen ready ${Math.round(ready)} ms, shown ${Math.round(shown)} ms after it was opened`);
    const seen = await browser.run(`${kUntil}
      const before = cut();
      const control = document.getElementById("pouch.width");
      control.value = "200 mm";
      control.dispatchEvent(new Event("input", { bubbles: true }));
      await until(() => cut() !== before && document.body.dataset.state === "shown");
      await until(() => document.getElementById("pouch").naturalWidth > 0);
      return { before, after: cut(), faults: document.querySelectorAll("[data-rank=error]:not(#told):not(#mini)").length };`);
    assert.match(seen.before, /\d+ mm/);
    assert.notEqual(seen.after, seen.before);
    const base64 = await browser.run(`
      const { source, ready } = window.pouchwright;
      const worker = new Worker(source);
      const heard = () => new Promise((resolve) => { worker.onmessage = ({ data }) => resolve(data); });
      worker.postMessage({ module: await ready });
      await heard();
      worker.postMessage({ id: 1, target: "/api/packet/packet.pdf", body: arguments[0] });
      const { status, body } = await heard();
      return status === 200 ? btoa(Array.from(body, (one) => String.fromCharCode(one)).join("")) : String(status);`, sample);
    assert.ok(Buffer.from(base64, "base64").equals(packetOf(sample)), base64.slice(0, 60));
  } finally {
    await browser.close();
  }
});
