// A pouch from its packet's last page: pictures of it, the camera, and what a telephone read.
//
// Debian's chromium has no detector of codes, so the tests that need one give the page one of the same
// interface (W3C, Shape Detection: Barcodes), behind which zbar reads the very picture; what the program
// prints is what is read.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { close, open, openPage } from "./rooms_support.mjs";
import { done, enter, jobText, packetOf, picture, settled } from "./support.mjs";

before(open);
after(close);

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf-8");
const kZbar = "/usr/bin/zbarimg";
const needsZbar = { skip: existsSync(kZbar) ? false : "zbarimg (Debian package zbar-tools) is not installed" };
const kJob = 'construction = "foldover"\ntitle = "Täschchen ½"\n[pouch]\nwidth = "191 mm"\ndepth = "165 mm"\n';
/** Remarks that hardly pack, so that the job takes several codes. */
const kLong = kJob + Array.from({ length: 40 }, (_, index) => `# ${[3, 5, 7, 11].map((prime) => Math.sin(index * prime + 1).toString(36).slice(3)).join(" ")}\n`).join("");

const inFolder = (use) => {
  const folder = mkdtempSync(join(tmpdir(), "pouchwright-codes-"));
  try {
    return use(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
};

/** The last page of a job's packet as a camera has it. */
function pictureOf(job) {
  return inFolder((folder) => {
    writeFileSync(join(folder, "packet.pdf"), packetOf(job, ["--only", "job"]));
    execFileSync("pdftoppm", ["-r", "150", "-gray", "-singlefile", "-png", join(folder, "packet.pdf"), join(folder, "page")]);
    return readFileSync(join(folder, "page.png"));
  });
}

/** The texts of a picture's codes, by zbar. */
function readByZbar(bytes) {
  return inFolder((folder) => {
    writeFileSync(join(folder, "it.png"), bytes);
    const found = execFileSync(kZbar, ["-q", "--raw", "-Sdisable", "-Sqrcode.enable", join(folder, "it.png")], { stdio: ["ignore", "pipe", "ignore"] });
    // Each text ends in a line's end of zbar's own.
    return found.toString().split(/\n(?=# \d+\/)/).map((text) => text.replace(/\n$/, ""));
  });
}

/** A detector where there is none: hands the picture's dots to zbar. */
async function withDetector(page) {
  await page.exposeFunction("readByZbar", (base64) => {
    try {
      return readByZbar(Buffer.from(base64, "base64"));
    } catch {
      return [];  // zbarimg leaves with 4 where it finds nothing
    }
  });
  await page.addInitScript(() => {
    globalThis.BarcodeDetector = class {
      static getSupportedFormats = async () => ["code_128", "qr_code"];
      async detect(image) {
        const canvas = document.createElement("canvas");
        [canvas.width, canvas.height] = [image.width || image.videoWidth, image.height || image.videoHeight];
        canvas.getContext("2d").drawImage(image, 0, 0);
        const found = await globalThis.readByZbar(canvas.toDataURL("image/png").split(",")[1]);
        return found.map((rawValue) => ({ rawValue, format: "qr_code" }));
      }
    };
  });
}

const openPouches = async (options) => {
  const page = await openPage(options);
  await enter(page, "pouches");
  return page;
};

async function isOpen(page, job) {
  await page.waitForFunction((text) => document.getElementById("text").value === text, job);
  await settled(page);
  assert.equal(await jobText(page), job);
  assert.equal(await page.evaluate(() => document.body.dataset.room), "pouch");
}

const asFile = (name, buffer) => ({ name, mimeType: "image/png", buffer });

test("a browser without a detector says so, and offers no picture and no camera", async () => {
  const page = await openPouches();
  assert.equal(await page.evaluate(() => "BarcodeDetector" in globalThis), false);
  await page.locator("#codes-none").waitFor();
  assert.equal(await page.locator("#codes-tools").isVisible(), false);
  await page.evaluate(() => {
    const transfer = new DataTransfer();
    transfer.items.add(new File([new Uint8Array(4)], "page.png", { type: "image/png" }));
    window.dispatchEvent(new DragEvent("drop", { dataTransfer: transfer, bubbles: true }));
  });
  await page.waitForFunction(() => document.getElementById("codes-status").textContent.includes("cannot read it from a picture"));
  await done(page);
});

test("a detector that reads no such codes is none", async () => {
  const page = await openPouches({ prepare: (page_) => page_.addInitScript(() => {
    globalThis.BarcodeDetector = class {
      static getSupportedFormats = async () => [];
    };
  }) });
  await page.locator("#codes-none").waitFor();
  assert.equal(await page.locator("#codes-tools").isVisible(), false);
  await done(page);
});

test("what a telephone read is put in, whole or in parts, and opens the pouch", needsZbar, async () => {
  const page = await openPouches();
  await page.fill("#codes-text", readByZbar(pictureOf(kJob)).join(""));
  await isOpen(page, kJob);
  await enter(page, "pouches");
  const parts = readByZbar(pictureOf(kLong));
  assert.ok(parts.length > 1);
  for (const [index, part] of parts.reverse().entries()) {
    await page.fill("#codes-text", part);
    if (index + 1 === parts.length) break;
    await page.getByText(`${index + 1} of ${parts.length} squares are read`).waitFor();
    await page.waitForFunction(() => document.getElementById("codes-text").value === "");
  }
  await isOpen(page, kLong);
  await done(page);
});

test("what is no pouch is said, and changes nothing", async () => {
  const page = await openPouches();
  const before_ = await jobText(page);
  for (const text of ["https://example.org/", "# 1/1 00000000\n#jobz=eNoAAAA", "#job=%%", "hello"]) {
    await page.fill("#codes-text", text);
    await page.getByText("nothing that a packet's last page carries").waitFor();
    assert.equal(await jobText(page), before_);
    assert.equal(await page.inputValue("#codes-text"), text);
    await page.fill("#codes-text", "");
    await page.waitForFunction(() => document.getElementById("codes-status").textContent === "");
  }
  await done(page);
});

test("a picture with all squares, and several with one each, are read", needsZbar, async () => {
  const page = await openPouches({ prepare: withDetector });
  await page.locator("#codes-tools").waitFor();
  assert.equal(await page.locator("#codes-none").isVisible(), false);
  await page.setInputFiles("#codes-pictures", [asFile("page.png", pictureOf(kLong))]);
  await isOpen(page, kLong);
  await enter(page, "pouches");
  await page.setInputFiles("#codes-pictures", [asFile("page.png", pictureOf(kJob))]);
  await isOpen(page, kJob);
  await done(page);
});

test("a dropped and a pasted picture are read, too", needsZbar, async () => {
  const page = await openPage({ prepare: withDetector });
  for (const [kind, job] of [["drop", kLong], ["paste", kJob]]) {
    await page.evaluate(([name, base64]) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))], "page.png", { type: "image/png" }));
      const event = name === "drop" ? new DragEvent("drop", { dataTransfer: transfer, bubbles: true, cancelable: true })
        : new ClipboardEvent("paste", { clipboardData: transfer, bubbles: true, cancelable: true });
      document.body.dispatchEvent(event);
    }, [kind, pictureOf(job).toString("base64")]);
    await isOpen(page, job);
  }
  await done(page);
});

test("a picture without a square, and a file that is none, are told by name", needsZbar, async () => {
  const page = await openPouches({ prepare: withDetector });
  const blank = await page.evaluate(() => {
    const canvas = document.createElement("canvas");
    return canvas.toDataURL("image/png").split(",")[1];
  });
  await page.setInputFiles("#codes-pictures", [asFile("blank.png", Buffer.from(blank, "base64"))]);
  await page.getByText("No square was found in blank.png").waitFor();
  await page.setInputFiles("#codes-pictures", [asFile("broken.png", Buffer.from("no picture"))]);
  await page.getByText("broken.png is no picture").waitFor();
  await done(page);
});

test("the camera looks until the pouch is whole, and is let go then", needsZbar, async () => {
  const picture = pictureOf(kLong).toString("base64");
  const page = await openPouches({ prepare: async (page_) => {
    await withDetector(page_);
    await page_.addInitScript((base64) => {
      navigator.mediaDevices.getUserMedia = async ({ video }) => {
        globalThis.asked = video;
        const image = await createImageBitmap(new Blob([Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))]));
        const canvas = document.createElement("canvas");
        [canvas.width, canvas.height] = [image.width, image.height];
        const draw = () => canvas.getContext("2d").drawImage(image, 0, 0);
        draw();
        setInterval(draw, 50);
        globalThis.given = canvas.captureStream();
        return globalThis.given;
      };
    }, picture);
  } });
  await page.click("#codes-camera");
  await isOpen(page, kLong);
  assert.deepEqual(await page.evaluate(() => globalThis.asked), { facingMode: "environment" });
  await page.waitForFunction(() => globalThis.given.getTracks().every((track) => track.readyState === "ended"));
  await done(page);
});

test("a camera that may not be used is told of", async () => {
  const page = await openPouches({ prepare: async (page_) => {
    await page_.addInitScript(() => {
      globalThis.BarcodeDetector = class {};
      navigator.mediaDevices.getUserMedia = async () => {
        throw new DOMException("no", "NotAllowedError");
      };
    });
  } });
  await page.click("#codes-camera");
  await page.getByText("The camera cannot be used.").waitFor();
  await done(page);
});

test("the link of a code opens its pouch, also where it is packed", needsZbar, async () => {
  const linked = `${kLong.slice(0, 900)}\n[group]\npage = "https://example.org/"\n`;
  const [link] = readByZbar(pictureOf(linked));
  assert.match(link, /^https:\/\/example\.org\/#jobz=/);
  const page = await openPage({ fragment: new URL(link).hash });
  await settled(page);
  assert.equal(await jobText(page), linked);
  await done(page);
});

for (const [name, options] of [["light", {}], ["dark on a telephone", { dark: true, width: 360, height: 780, prepare: withDetector }]]) {
  test(`axe-core finds nothing where a pouch is read from paper, and nothing is wider than the page: ${name}`, async () => {
    const page = await openPouches(options);
    await page.evaluate(axe);
    assert.deepEqual(await page.evaluate(async () => (await window.axe.run(document)).violations.flatMap((one) =>
      one.nodes.map((node) => `${one.impact}: ${one.id}: ${node.target.join(" ")}`))), []);
    assert.equal(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0);
    await page.locator("#codes-text").scrollIntoViewIfNeeded();
    await picture(page, `codes-${name.replaceAll(" ", "-")}`, true);
    await done(page);
  });
}
