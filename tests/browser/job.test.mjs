// The page's way with the text of a job, without a browser. Source: TOML 1.0.0, for what a value is.

import assert from "node:assert/strict";
import { test } from "node:test";
import { plain, readJob, withValue, withoutTable, written } from "../../src/desk/page/job.mjs";
import { lengthAsText, lengthAtMostAsText } from "../../src/desk/page/lengths.mjs";

const kJob = `# a job
construction = "foldover"   # how it is folded
title = 'Say "hi" # now'
units = "mm"

[pouch]
width = "190 mm"    # seam line to seam line
start_finish = { finish = "overedge", takes = "0 mm" }   # brackets } in a comment
list = [
  "a ] b",  # ] not here
  "c"
]
depth = 165

# of the cloth
[[lay.remnant]]
width = "60 cm"

[materials.outer]
width = "110 cm"
"""
text = """
one
width = "no value"
"""
`.replace('"""\ntext', "text");

const value = (text, path) => readJob(text).values.get(path)?.written;

test("values are found by their path, as they are written", () => {
  assert.equal(value(kJob, "construction"), '"foldover"');
  assert.equal(value(kJob, "title"), `'Say "hi" # now'`);
  assert.equal(value(kJob, "pouch.width"), '"190 mm"');
  assert.equal(value(kJob, "pouch.start_finish"), '{ finish = "overedge", takes = "0 mm" }');
  assert.equal(value(kJob, "pouch.depth"), "165");
  assert.equal(value(kJob, "materials.outer.width"), '"110 cm"');
  assert.equal(value("pouch.width = 3 # three\n", "pouch.width"), "3");
});

test("values that go on over lines are one, and what stands in them is none", () => {
  const list = readJob(kJob).values.get("pouch.list");
  assert.equal(list.last - list.line, 3);
  assert.match(value(kJob, "materials.outer.text"), /no value/);
  assert.equal(readJob(kJob).values.size, 9);
});

test("tables that there are many of have no path", () => {
  assert.ok(![...readJob(kJob).values.keys()].some((path) => path.includes("remnant")));
});

test("a change keeps all the rest, comments too", () => {
  const changed = withValue(kJob, "pouch.width", '"200 mm"');
  assert.equal(changed, kJob.replace('"190 mm"', '"200 mm"'));
  assert.equal(withValue(changed, "pouch.width", '"190 mm"'), kJob);
  assert.equal(withValue(kJob, "pouch.depth", null), kJob.replace("depth = 165\n", ""));
});

test("a new value goes to its table, which is made where there is none", () => {
  assert.equal(value(withValue(kJob, "pouch.flap", "70"), "pouch.flap"), "70");
  assert.equal(withValue("a = 1\n", "pouch.flap", "70"), "a = 1\n\n[pouch]\nflap = 70\n");
  assert.equal(withValue("[pouch]\nflap = 1\n", "units", '"in"'), 'units = "in"\n[pouch]\nflap = 1\n');
  assert.equal(withValue("", "units", '"in"'), 'units = "in"\n');
  assert.equal(value(withValue(kJob, "title", '"new"'), "title"), '"new"');
});

test("a table goes whole, and so does a value of that name", () => {
  assert.equal(withoutTable("[materials]\nouter = 1\nlaminate = 2\n", "materials.outer"), "[materials]\nlaminate = 2\n");
  const without = withoutTable("[materials.outer]\nwidth = 1\nfrays = true\n\n[paper]\nsize = 2\n", "materials.outer");
  assert.equal(without, "\n[paper]\nsize = 2\n");
});

test("what is typed comes back as it was typed", () => {
  for (const typed of ["190 mm", '7½"', "a \\ b", "7 1/2 in", "true", "12", "-3.5", "007", "# [x] = {y}", "tab\there", "'"]) {
    for (const kind of ["text", "length"]) {
      const text = withValue("", "pouch.width", written(typed, kind));
      assert.equal(plain(value(text, "pouch.width")), typed);
    }
  }
});

test("numbers and truths are written bare, but in texts", () => {
  assert.equal(written("12", "number"), "12");
  assert.equal(written("true", "choice"), "true");
  assert.equal(written("12", "text"), '"12"');
  assert.equal(written("012", "number"), '"012"');
  assert.equal(written("1e9", "number"), '"1e9"');
});

test("text that is no job is read without harm", () => {
  for (const text of ["= 1", "[", "[[", "a = [1, 2", 'a = """ never closed', "a = 'x\nb = 2", "\0", "a = {", "[a]\n[a]\nb=1"]) {
    readJob(text);
    assert.ok(withValue(text, "pouch.width", "1").includes("width = 1"), text);
  }
  assert.equal(value("a = 'x\nb = 2", "b"), "2");
});

test("lengths read as on a ruler", () => {
  // 1 in = 25.4 mm exactly, NIST SP 811, appendix B.
  for (const [mm, units, text] of [[190, "mm", "190 mm"], [12.5, "mm", "≈ 13 mm"], [178.04, "mm", "≈ 178 mm"],
                                   [-2, "mm", "-2 mm"], [190.5, "in", "7 1/2 in"], [9.525, "in", "3/8 in"],
                                   [25.4, "in", "1 in"], [0, "in", "0 in"], [190, "in", "≈ 7 1/2 in"],
                                   [-3.175, "in", "-1/8 in"], [6.35, "in", "1/4 in"]]) {
    assert.equal(lengthAsText(mm, units), text);
  }
  // What must not be passed is never more than it is.
  for (const [mm, units, text] of [[130, "in", "≈ 5 in"], [152.4, "in", "6 in"], [130, "mm", "130 mm"],
                                   [149.98, "mm", "≈ 149 mm"], [25.4 / 8, "in", "1/8 in"]]) {
    assert.equal(lengthAtMostAsText(mm, units), text);
  }
});
