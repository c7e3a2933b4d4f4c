"""Runs the program for the tests in this folder and holds what it made.

    made = run("template", job="heron-quay", options=("--paper", "A3"))
    made.report["documents"], made.folder / "template.pdf"
    for page in pages_of(made): page.number, page.svg, page.placements

The environment says where things lie: POUCHWRIGHT is the program, POUCHWRIGHT_SOURCE the source
folder. Not for what a refusal says: a status other than 0 is raised as Refused.
"""

import atexit
import contextlib
import json
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
from dataclasses import dataclass, field

PROGRAM = os.environ.get("POUCHWRIGHT", "pouchwright")
SOURCE = pathlib.Path(os.environ.get("POUCHWRIGHT_SOURCE",
                                     pathlib.Path(__file__).resolve().parents[2]))
SAMPLE = SOURCE / "patterns" / "heron-quay.toml"

GUSSET = """construction = "gusset"
[pouch]
width = "200 mm"
depth = "180 mm"
gusset = "60 mm"
[paper]
size = "A4"
"""
INCHES = """construction = "foldover"
units = "in"
[pouch]
width = "7 1/2 in"
depth = "6 in"
flap = "2 3/4 in"
seam_allowance = "1/4 in"
seal_width = "1/2 in"
[paper]
size = "Letter"
"""


@dataclass(frozen=True)
class Job:
    """A job that several tests run: its text (None: the sample), options, the paper it says."""
    name: str
    text: str
    options: tuple
    paper: tuple  # width and height in mm, held upright


def as_typed(text):
    """Words of a paper with their fractions as the terminal has them: `7½` as `7 1/2`, `9 5⁄16` as
    `9 5/16`."""
    text = text.replace("\u202f", " ").replace("\u2044", "/")
    for sign, typed in (("¼", "1/4"), ("½", "1/2"), ("¾", "3/4"), ("⅛", "1/8"), ("⅜", "3/8"),
                        ("⅝", "5/8"), ("⅞", "7/8")):
        text = re.sub(rf"(?<=\d){sign}", f" {typed}", text).replace(sign, typed)
    return text


# ISO 216:2007, table 1: A3 297 x 420, A4 210 x 297, A6 105 x 148 mm.
# ASME Y14.1, size A: 8 1/2 x 11 in; 1 in = 25.4 mm (NIST SP 811, app. B).
JOBS = (
    Job("the sample", None, (), (210, 297)),
    Job("a gusset", GUSSET, (), (210, 297)),
    Job("inches on Letter", INCHES, (), (215.9, 279.4)),
    Job("the sample on A3", None, ("--paper", "A3"), (297, 420)),
    Job("the sample on 180 x 240 mm", None, ("--paper", "180x240mm"), (180, 240)),
    Job("the sample on A6", None, ("--paper", "A6"), (105, 148)),
    Job("the sample to the paper's edges", None, ("--set", "paper.margin=0 mm"), (210, 297)),
    Job("the sample, printer corrected", None, ("--printed-square", "49.5x50.2"), (210, 297)),
)
COMMANDS = ("template", "mask")


class Refused(RuntimeError):
    """The program ended with `status`, not 0."""

    def __init__(self, status, told):
        super().__init__(f"exit {status}: {told}")
        self.status = status


@dataclass
class Made:
    """What one run wrote."""
    command: str
    folder: pathlib.Path
    report: dict
    pages: list = field(default_factory=list)

    @property
    def pdf(self):
        return self.folder / f"{self.command}.pdf"


@dataclass
class Placed:
    """A window of a drawing on a page; `document` is its entry in the report."""
    document: dict
    page: dict

    @property
    def window(self):
        """(x0, y0, x1, y1) on the canvas."""
        w = self.page["window"]
        return (w["x_mm"], w["y_mm"], w["x_mm"] + w["width_mm"], w["y_mm"] + w["height_mm"])

    def on_paper(self, point):
        """Where a canvas point stands on the paper (design, section 10): the window is turned
        clockwise, its then top left corner stands at `at`, and it is scaled about `at`."""
        x0, y0, _, y1 = self.window
        turned = {0: (point[0] - x0, point[1] - y0),
                  90: (y1 - point[1], point[0] - x0)}[self.page["turn_deg"]]
        scale, at = self.document["scale"], self.page["at"]
        return (at["x_mm"] + scale["x"] * turned[0], at["y_mm"] + scale["y"] * turned[1])

    def on_canvas(self, point):
        """The reverse of on_paper."""
        x0, y0, _, y1 = self.window
        scale, at = self.document["scale"], self.page["at"]
        x, y = (point[0] - at["x_mm"]) / scale["x"], (point[1] - at["y_mm"]) / scale["y"]
        return {0: (x0 + x, y0 + y), 90: (x0 + y, y1 - x)}[self.page["turn_deg"]]


@dataclass
class SheetOfPaper:
    """A page of the PDF, which may show windows of several drawings."""
    number: int
    label: str
    svg: pathlib.Path
    check_square: dict
    scale: dict
    placements: list


def environment(**changes):
    """The tests' environment with `changes`; None takes a variable away."""
    made = dict(os.environ)
    made.pop("POUCHWRIGHT_DATA", None)
    for name, value in changes.items():
        made.pop(name, None)
        if value is not None:
            made[name] = value
    return made


@contextlib.contextmanager
def temporary_folder():
    with tempfile.TemporaryDirectory(prefix="pouchwright-test-") as folder:
        yield pathlib.Path(folder)


def run(command, job, folder, options=(), env=None, cwd=None):
    """Runs `command` on the file `job` with its output in `folder`."""
    arguments = [PROGRAM, command, str(job), *options, "--json", "--quiet", "-o", str(folder)]
    done = subprocess.run(arguments, capture_output=True, env=env or environment(), cwd=cwd)
    if done.returncode != 0:
        raise Refused(done.returncode, f"{' '.join(arguments)}\n{done.stderr.decode()}")
    made = Made(command, pathlib.Path(folder), json.loads(done.stdout))
    made.pages = _pages_of(made)
    return made


def run_text(command, text, folder, options=()):
    """As run, for a job given as text."""
    folder = pathlib.Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    job = folder / "job.toml"
    job.write_text(text, encoding="utf-8")
    return run(command, job, folder / "out", options)


_kept = {}


def made_by(job, command):
    """What `command` made of one of JOBS; made once, gone when the tests end."""
    if not _kept:
        _kept["folder"] = pathlib.Path(tempfile.mkdtemp(prefix="pouchwright-test-"))
        atexit.register(shutil.rmtree, _kept["folder"], True)
    key = (job.name, command)
    if key not in _kept:
        folder = _kept["folder"] / f"{JOBS.index(job)}-{command}"
        _kept[key] = (run(command, SAMPLE, folder, job.options) if job.text is None
                      else run_text(command, job.text, folder, job.options))
    return _kept[key]


def every_output():
    """(job, Made) for every job and command."""
    for job in JOBS:
        for command in COMMANDS:
            yield job, made_by(job, command)


def _pages_of(made):
    sheets = {}
    for document in made.report["documents"]:
        for page in document["pages"]:
            sheet = sheets.setdefault(page["page"], SheetOfPaper(
                page["page"], page["cell"], made.folder / page["svg"], page["check_square"],
                document["scale"], []))
            if page["window"] is not None:
                sheet.placements.append(Placed(document, page))
    return [sheets[number] for number in sorted(sheets)]
