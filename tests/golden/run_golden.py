#!/usr/bin/env python3
"""What the program makes of one job of each construction, stage by stage.

    python3 tests/golden/run_golden.py                       all; or a test's name, as Golden.test_gusset_size
    UPDATE_EXPECTED=1 python3 tests/golden/run_golden.py     rewrites what is expected

A case is a folder beside this file. Its job is job.toml in it, else the starter job in patterns/ of
the construction that the folder is named after. Each stage has an expectation of its own, so that a
failure names the stage:

    size.json       the report of `size`: a value or one entry of a list on a line
    drawings.txt    every path and label of the whole-drawing SVGs of `template` and `mask`
    lay.json        the report of `lay`, for four pouches
    pdf.txt         what qpdf and poppler say of the PDFs: pages, boxes, labels, bookmarks, and lengths
                    measured from their content

These expectations are the program's own output: they show what a change changes, not what is right.
Numbers worked by hand stand in tests/unit/pouch/, tests/output/hand_worked_test.py and
tests/output/constructions_test.py, which is the outside check. Read the difference before you commit
it. The environment is that of tests/output (POUCHWRIGHT, POUCHWRIGHT_SOURCE).
"""

import difflib
import json
import os
import pathlib
import re
import subprocess
import sys
import tomllib
import unittest
import xml.etree.ElementTree as ElementTree

HERE = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "output"))

import program  # noqa: E402
import vectors  # noqa: E402

UPDATES = os.environ.get("UPDATE_EXPECTED") == "1"
PATTERNS = program.SOURCE / "patterns"
# A plan for four shows how pieces lie as well as one for forty.
OPTIONS = ("--set", "batch.pouches=4")
WIDEST = 100  # letters of a line of JSON
# A path with more segments than this is told by its box: a hatch.
MOST_SEGMENTS = 40
SQUARE = 50
CUT_WIDTH = 0.7  # of cut lines, mm; no other line of a sheet is as wide
LONGEST_SAMPLE = 20  # of a line in the legend, mm


def constructions():
    return sorted(path.stem for path in PATTERNS.glob("*.toml") if "operation" in said(path))


def said(path):
    return tomllib.loads(path.read_text(encoding="utf-8"))


def starter_jobs(construction):
    return sorted(path for path in PATTERNS.glob("*.toml")
                  if said(path).get("construction") == construction)


def cases():
    return sorted(path for path in HERE.iterdir() if path.is_dir() and path.name != "__pycache__")


def job_of(case):
    own = case / "job.toml"
    return own if own.exists() else starter_jobs(case.name)[0]


def report(command, job, *options):
    done = subprocess.run([program.PROGRAM, command, str(job), *OPTIONS, *options, "--json", "--quiet"],
                          capture_output=True, env=program.environment(), timeout=60)
    if done.returncode:
        raise program.Refused(done.returncode, done.stderr.decode())
    return json.loads(done.stdout)


def lines_of(value, indent=0):
    """JSON with whatever fits on a line in one line."""
    flat = json.dumps(value, ensure_ascii=False)
    if len(flat) + indent <= WIDEST or not isinstance(value, (dict, list)):
        return flat
    blanks = " " * (indent + 2)
    opened, closed = ("{", "}") if isinstance(value, dict) else ("[", "]")
    parts = ([f"{json.dumps(key)}: {lines_of(part, indent + 2)}" for key, part in value.items()]
             if isinstance(value, dict) else [lines_of(part, indent + 2) for part in value])
    return opened + "\n" + ",\n".join(blanks + part for part in parts) + "\n" + " " * indent + closed


# ---- Drawings ----

def drawing_text(path):
    """One line a path: its name, its points or its box, its line."""
    root = ElementTree.parse(path).getroot()
    lines = [f"{path.name}: {root.get('width')} x {root.get('height')}"]
    for group in root:
        if not group.get("id"):
            continue
        shapes = [shape_text(shape) for shape in group]
        if shapes:
            lines.append(f"  {group.get('id')}")
            lines += [f"    {shape}" for shape in shapes]
    return "\n".join(lines)


def shape_text(shape):
    words = shape.get("aria-label")
    data = shape.get("d") or ""
    if words:
        start = vectors.numbers(re.match(r"[Mm][^a-zA-Z]*", data).group())[:2]
        return f"“{words}” at " + ", ".join(f"{number:.1f}" for number in start)
    style = [shape.get("stroke-width") or "filled"]
    if shape.get("stroke-dasharray"):
        style.append("dashes " + shape.get("stroke-dasharray"))
    return f"{shape.get('id') or '-'}: {path_text(data)} | {', '.join(style)}"


def path_text(data):
    if len(re.findall(r"[A-Za-z]", data)) <= MOST_SEGMENTS:
        # The geometry, however it is written: less than a thousandth of a millimetre is no difference.
        return "".join(verb + " ".join(f"{round(number, 3) + 0:g}" for point in points for number in point)
                       for verb, points in vectors.path_steps(data))
    points = [point for line, _, _ in vectors.path_lines(data) for point in line]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    box = " ".join(f"{value:.3f}" for value in (min(xs), min(ys), max(xs), max(ys)))
    return f"{data.count('M')} lines within {box}"


# ---- PDF ----

def qpdf_facts(pdf):
    done = subprocess.run(["qpdf", "--json=2", "--json-key=outlines", "--json-key=pages", str(pdf)],
                          capture_output=True, check=True)
    return json.loads(done.stdout)


def boxes(pdf, pages):
    """Box -> its sizes over all pages, mm."""
    text = subprocess.run(["pdfinfo", "-box", "-f", "1", "-l", str(pages), str(pdf)],
                          capture_output=True, check=True, text=True).stdout
    found = {}
    for name, numbers in re.findall(r"^Page +\d+ (\w+Box):(.*)$", text, re.MULTILINE):
        x0, y0, x1, y1 = (float(number) * 25.4 / 72 for number in numbers.split())
        size = f"{x1 - x0:.1f} x {y1 - y0:.1f} mm from {x0:.1f}, {y0:.1f}"
        if size not in found.setdefault(name, []):
            found[name].append(size)
    return found


def pdf_text(pdf):
    facts = qpdf_facts(pdf)
    labels = [page["label"]["/P"].removeprefix("u:") for page in facts["pages"]]
    lines = [f"{pdf.name}: {len(labels)} pages", "  labels: " + " ".join(labels)]
    for name, sizes in boxes(pdf, len(labels)).items():
        lines.append(f"  {name}: " + "; ".join(sizes))
    for mark in facts["outlines"]:
        lines.append(f"  bookmark: page {mark['destpageposfrom1']} {mark['title']}")
    return lines


def measured(made):
    """What poppler draws of each page at full size: its check square, and how far its cut lines run
    across and down."""
    lines = []
    for sheet in made.pages:
        page = vectors.pdf_page(made.pdf, sheet.number, strokes_only=True)
        square = sheet.check_square
        near = (square["x_mm"], square["y_mm"])
        found = vectors.squares(page, SQUARE, near=near)
        cut = [one for one in vectors.segments(page) if abs(one.width - CUT_WIDTH) < 0.02
               and one.length > LONGEST_SAMPLE]
        across = max((one.length for one in cut if abs(one.y1 - one.y0) < 0.01), default=0)
        down = max((one.length for one in cut if abs(one.x1 - one.x0) < 0.01), default=0)
        told = "; ".join(f"{w:.2f} x {h:.2f} at {x:.1f}, {y:.1f}" for x, y, w, h in found)
        lines.append(f"  {sheet.label}: check square {told}; longest cut across {across:.2f},"
                     f" down {down:.2f}")
    return lines


# ---- The stages ----

class Stages:
    """What the program makes of a case, each stage as text."""

    @staticmethod
    def size(job, _):
        return "size.json", lines_of(report("size", job)) + "\n"

    @staticmethod
    def lay(job, _):
        return "lay.json", lines_of(report("lay", job)) + "\n"

    @staticmethod
    def drawings(job, folder):
        texts = []
        for command in program.COMMANDS:
            made = program.run(command, job, folder / command, OPTIONS)
            texts += [drawing_text(made.folder / one["svg"]) for one in made.report["documents"]]
        return "drawings.txt", "\n\n".join(texts) + "\n"

    @staticmethod
    def pdf(job, folder):
        lines = []
        for command in program.COMMANDS:
            made = program.run(command, job, folder / command, OPTIONS)
            lines += pdf_text(made.pdf) + measured(made)
        report("packet", job, "-o", str(folder / "packet.pdf"))
        return "pdf.txt", "\n".join(lines + pdf_text(folder / "packet.pdf")) + "\n"


STAGES = ("size", "lay", "drawings", "pdf")


class Golden(unittest.TestCase):
    maxDiff = None

    def hold(self, case, stage):
        with program.temporary_folder() as folder:
            name, made = getattr(Stages, stage)(job_of(case), folder)
        path = case / name
        if UPDATES:
            path.write_text(made, encoding="utf-8")
            return
        expected = path.read_text(encoding="utf-8") if path.exists() else ""
        if made != expected:
            difference = difflib.unified_diff(expected.splitlines(), made.splitlines(),
                                              f"{case.name}/{name}, expected", "made now",
                                              lineterm="", n=1)
            self.fail(f"{case.name}: the stage {stage} has changed; UPDATE_EXPECTED=1 rewrites it\n"
                      + "\n".join(difference))

    def test_every_construction_has_a_case_and_a_starter_job(self):
        named = {case.name for case in cases()}
        for construction in constructions():
            with self.subTest(construction):
                self.assertIn(construction, named, "make a folder of that name in tests/golden/")
                self.assertTrue(starter_jobs(construction), "add a starter job to patterns/")

    def test_no_case_holds_anything_else(self):
        known = {"size.json", "lay.json", "drawings.txt", "pdf.txt", "job.toml"}
        for case in cases():
            self.assertLessEqual({path.name for path in case.iterdir()}, known, case.name)


for _case in cases():
    for _stage in STAGES:
        setattr(Golden, f"test_{_case.name}_{_stage}",
                lambda self, case=_case, stage=_stage: self.hold(case, stage))


if __name__ == "__main__":
    unittest.main()
