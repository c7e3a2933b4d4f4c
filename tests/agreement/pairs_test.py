"""Pairs of outputs that have contradicted each other once: what the one says, the other says too."""

import json
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest

from outputs import PATTERNS, job_of, name_of, picture, program, report, run, said, text

# Their spans have names of more than one word.
LONG_NAMES = ("gusset", "double", "rolltop")


class Outputs(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory(prefix="pouchwright-test-")
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)


class Chains(Outputs):
    """How much thread is left between two pieces."""

    def test_a_group_s_own_chain_is_on_every_sheet(self):
        data = self.folder / "shared"
        shutil.copytree(program.SOURCE / "shared", data)
        stitches = data / "stitches.toml"
        given = stitches.read_text(encoding="utf-8")
        stitches.write_text(given.replace('chain = "25 mm"', 'chain = "60 mm"'), encoding="utf-8")
        self.assertNotEqual(given, stitches.read_text(encoding="utf-8"))
        own = program.environment(POUCHWRIGHT_DATA=str(self.folder))
        for env in (None, own):
            for options in ((), ("--units", "in")):
                bought = {one["chain"] for one in said("supply-thread-waste").finditer(
                    text("supplies", program.SAMPLE, *options, env=env))}
                steps = report("steps", program.SAMPLE, *options, env=env)["steps"]
                sewn = {one["chain"] for step in steps for one in said("steps-chain").finditer(step["words"])}
                self.assertEqual(bought, sewn)
                self.assertEqual(len(sewn), 1)


class Folds(Outputs):
    """What two spans are called where a fold lies between them."""

    def test_the_nested_sheet_names_the_folds_as_the_templates_do(self):
        for construction in LONG_NAMES:
            job = PATTERNS / f"heron-quay-{construction}.toml"
            folder = self.folder / construction
            run("range", job, "--liners", "2,4", "-o", folder)
            names = [self.folds_of(folder / "nested.svg", "drawing-nested-fold")]
            names += [self.folds_of(folder / f"template-{liners}.svg", "drawing-fold") for liners in (2, 4)]
            with self.subTest(construction):
                self.assertEqual(*names[:2])
                self.assertEqual(*names[1:])
                folds = report("size", job)["folds"]
                self.assertEqual(names[0], {tuple(map(name_of, one["between"])) for one in folds})

    @staticmethod
    def folds_of(path, key):
        labels, _ = picture(path)
        found = [said(key).fullmatch(words) for label in labels for words in label.words.split("; ")]
        return {(one["before"], one["after"]) for one in found if one}


class Lengths(Outputs):
    """How a length reads on the page in the browser and in the terminal."""

    SCRIPT = """
import { lengthAsText, lengthAtMostAsText } from %s;
const asked = JSON.parse(await new Promise((done) => {
  let text = ""; process.stdin.on("data", (part) => (text += part)).on("end", () => done(text)); }));
console.log(JSON.stringify(asked.map(([mm, units, ruler, atMost]) =>
  (atMost ? lengthAtMostAsText : lengthAsText)(mm, units, ruler ?? undefined))));
"""

    def on_page(self, asked):
        node = shutil.which("node")
        if node is None:
            self.skipTest("node is not installed")
        page = (program.SOURCE / "src" / "desk" / "page" / "lengths.mjs").as_uri()
        done = subprocess.run([node, "--input-type=module", "-e", self.SCRIPT % json.dumps(page)],
                              input=json.dumps(asked), capture_output=True, text=True, timeout=60)
        self.assertEqual(done.returncode, 0, done.stderr)
        return json.loads(done.stdout)

    def test_the_page_shows_what_the_table_prints(self):
        rows, asked = [], []
        for units, ruler, sizes in self.jobs():
            job = job_of(self.folder, 'construction = "foldover"', f'units = "{units}"',
                         *([f'ruler = "{ruler}"'] if ruler else []), "[pouch]",
                         *(f'{name} = "{size}"' for name, size in sizes.items()))
            told, made = text("size", job), report("check", job)
            for key, values, at_most in (
                    ("size-finished", (made["finished"]["width_mm"], made["finished"]["depth_mm"]), False),
                    ("size-flap", (made["finished"]["flap_mm"],), False),
                    ("size-inside", (made["inside_width_mm"],), False),
                    ("size-clear-seal-worst", (made["clear_seal_worst_mm"],), True),
                    ("size-water-line", (made["water_line_mm"],), True)):
                row = re.search(r"^  " + said(key).pattern + r"  +(.+)$", told, re.M)[1]
                for mm, shown in zip(values, row.split(" x "), strict=True):
                    own, other = re.fullmatch(r"(.+?) \((.+)\)", shown).groups()
                    rows += [own, other]
                    asked += [(mm, units, made["ruler_mm"], at_most),
                              (mm, "mm" if units == "in" else "in", None, at_most)]
        self.assertGreater(len(rows), 200)
        self.assertEqual(self.on_page(asked), rows)

    @staticmethod
    def jobs():
        for n in range(8):
            yield "mm", None, {"width": f"{150 + n * 7}.{n} mm", "depth": f"{152 + n}.5 mm",
                               "flap": f"{60 + n}.{9 - n}9 mm", "needle_reach": f"7.{n} mm"}
            yield "mm", "0.5 mm", {"width": f"{150 + n}.5 mm", "depth": f"{152 + n}.{n} mm", "flap": "64.5 mm"}
            yield "in", None, {"width": f"{6 + n} {n}/8 in", "depth": f"{6 + n} {2 * n + 1}/64 in",
                               "flap": f"2 {n + 1}/16 in"}
            yield "in", "1/16 in", {"width": f"{6 + n} {2 * n + 1}/16 in", "depth": f"{6 + n}.{n} in"}


if __name__ == "__main__":
    unittest.main()
