// The heads of the words files against Unicode's CLDR: plural rules as cldr-core has them (48.2.0), forms of
// numbers, decimal marks and directions as the browser's own engine, which is built on CLDR, has them.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { createRequire } from "node:module";
import { test } from "node:test";

const source = process.env.POUCHWRIGHT_SOURCE;
const folder = path.join(source, "shared", "words");
const require = createRequire(path.join(source, "tests", "browser", "package.json"));
const rules = require("cldr-core/supplemental/plurals.json").supplemental["plurals-type-cardinal"];
const scripts = require("cldr-core/scriptMetadata.json").scriptMetadata;
const likely = require("cldr-core/supplemental/likelySubtags.json").supplemental.likelySubtags;

const tags = fs.readdirSync(folder).filter((name) => name.endsWith(".toml") && name !== "glossary.toml")
  .map((name) => name.replace(".toml", ""));

function headOf(tag) {
  const rows = fs.readFileSync(path.join(folder, `${tag}.toml`), "utf8").matchAll(/^"language-([a-z-]+)" = "(.*)"$/gm);
  return Object.fromEntries([...rows].map(([, key, text]) => [key, text]));
}

// 0 to 200, a few thousands, and decimals with and without zeros at their end.
const numbers = [
  ...Array.from({ length: 201 }, (_, number) => String(number)),
  "999", "1000", "1001", "1002", "1003", "1010", "1011", "1100", "2000", "3000", "10000", "100000", "1000000", "2000000",
  "0.0", "0.1", "0.5", "1.0", "1.00", "1.5", "2.0", "2.5", "3.0", "10.1", "11.0", "100.0",
];

test("there are words files", () => assert.ok(tags.length >= 10));

for (const tag of tags) {
  const head = headOf(tag);
  const language = tag.split("-")[0];

  test(`${tag}: its plural rules are CLDR's`, () => {
    const known = Object.entries(rules[language])
      .map(([name, rule]) => [name.replace("pluralRule-count-", "plural-"), rule.split("@")[0].trim()])
      .filter(([, rule]) => rule !== "");
    const own = Object.entries(head).filter(([key]) => key.startsWith("plural-"));
    assert.deepEqual(Object.fromEntries(own), Object.fromEntries(known));
  });

  test(`${tag}: every number takes the form that CLDR gives it`, () => {
    const made = execFileSync(process.env.CATEGORIES, [path.join(folder, `${tag}.toml`)],
      { input: `${numbers.join("\n")}\n`, encoding: "utf8" }).trim().split("\n");
    const wanted = numbers.map((number) => {
      const decimals = number.split(".")[1]?.length ?? 0;
      return new Intl.PluralRules(tag, { minimumFractionDigits: decimals }).select(Number(number));
    });
    assert.equal(made.length, numbers.length);
    for (const [at, number] of numbers.entries()) assert.equal(made[at], wanted[at], `${tag}: ${number}`);
  });

  test(`${tag}: its decimal mark is CLDR's`, () => {
    // In digits from 0 to 9, as the program writes them.
    const parts = new Intl.NumberFormat(tag, { numberingSystem: "latn" }).formatToParts(1.5);
    assert.equal(head.decimal, parts.find(({ type }) => type === "decimal").value);
  });

  test(`${tag}: its lines begin where CLDR's script begins them`, () => {
    const script = likely[language].split("-")[1];
    assert.equal(head.direction, scripts[script].rtl === "YES" ? "rtl" : "ltr");
  });

  test(`${tag}: it is called by its own name`, () => {
    const named = new Intl.DisplayNames(tag, { type: "language" }).of(language);
    assert.ok(head.name.toLowerCase().startsWith(named.toLowerCase()), `${head.name}, ${named}`);
  });
}
