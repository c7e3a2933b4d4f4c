"""What one job's outputs say, taken apart so that two of them can be compared.

    told = text("schedule", job)                        what a person reads in the terminal
    report("size", job)["cards"]                        what a machine reads
    for step in steps_of(job, folder): step.words, step.names, step.shapes
    said("operation-overedge").findall(told)            a sentence of shared/words/en.toml, found again

Outputs are read as they are; sentences are found by the words file, so that a change of words alone
breaks no test. Not for whether what they say is right: see tests/output/.
"""

import functools
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import tomllib
import xml.etree.ElementTree as ElementTree
from dataclasses import dataclass, field

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "output"))

import program  # noqa: E402
import vectors  # noqa: E402

PATTERNS = program.SOURCE / "patterns"
WORDS = tomllib.loads((program.SOURCE / "shared" / "words" / "en.toml").read_text(encoding="utf-8"))
NUMBER = r"(-?[\d.]+)"
LETTER = 5  # mm, higher than any letter
HOLE = re.compile(r"\\\{([a-z_]+)\\\}")


def run(command, job, *options, env=None):
    arguments = [program.PROGRAM, command, str(job), *map(str, options), "--quiet"]
    done = subprocess.run(arguments, capture_output=True, text=True, timeout=60,
                          env=env or program.environment())
    if done.returncode:
        raise program.Refused(done.returncode, f"{' '.join(arguments)}\n{done.stderr}")
    return done.stdout


def report(command, job, *options, env=None):
    return json.loads(run(command, job, *options, "--json", env=env))


def text(command, job, *options, env=None):
    """As in the terminal, a paragraph on a line."""
    return run(command, job, *options, env=env)


def words_of_pdf(path):
    """In the order in which they are drawn, one blank between any two."""
    done = subprocess.run(["pdftotext", "-raw", path, "-"], check=True, text=True, capture_output=True,
                          timeout=60)
    return program.as_typed(" ".join(done.stdout.split()))


def job_of(folder, *lines):
    path = pathlib.Path(folder) / "job.toml"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


@functools.cache
def said(key, hole=r"(?:(?!\. ).)+?"):
    """A pattern for the sentence of `key`, its holes as groups by their names; by default none holds
    the end of a sentence."""
    return re.compile(HOLE.sub(lambda found: f"(?P<{found[1]}>{hole})", re.escape(WORDS[key])))


def filled(key, **holes):
    """The sentence of `key` with its holes filled."""
    return WORDS[key].format(**holes)


@functools.lru_cache(64)
def squeezed(words):
    """Without blanks, which differ where lines are broken."""
    return "".join(words.split())


def steps_by_name(listing):
    """{name: step} of `sew both sides, secure the tails (step 9)`: names that share a step tell it
    once, after the last of them; what has no step has None."""
    found, waiting = {}, []
    for part in listing.split(", "):
        hit = re.fullmatch(r"(.+) " + said("operation-step").pattern, part)
        waiting.append(hit[1] if hit else part)
        if hit:
            found.update(dict.fromkeys(waiting, int(hit["number"])))
            waiting = []
    return found | dict.fromkeys(waiting)


def name_of(span):
    """What a span is called where people read of it."""
    return WORDS.get(f"drawing-span-{span}", span.replace("-", " "))


def part_name(part):
    """Likewise a panel or a piece."""
    return WORDS.get(f"drawing-part-{part}", part.replace("-", " "))


# ---- Pictures ------------------------------------------------------------------------------------


@dataclass
class Label:
    words: str
    x: float
    y: float


@dataclass
class Shape:
    name: str
    path: str

    @functools.cached_property
    def points(self):
        return [point for line, _, _ in vectors.path_lines(self.path) for point in line]

    @property
    def height(self):
        return max(y for _, y in self.points) - min(y for _, y in self.points)

    @property
    def middle(self):
        xs, ys = zip(*self.points)
        return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def picture(path):
    """(labels, shapes) of an SVG file of ours; a shape is named as in its id, without the number
    that makes an id of a name that stood there before: `film--back`, `film--back-2`."""
    labels, shapes, seen = [], [], {}
    for element in ElementTree.parse(path).iter():
        if vectors.tag(element) != "path":
            continue
        if element.get("aria-label") is not None:
            first = re.match(r"[Mm]" + NUMBER + "[ ,]?" + NUMBER, element.get("d"))
            labels.append(Label(program.as_typed(element.get("aria-label")), float(first[1]),
                                float(first[2])))
        elif element.get("id"):
            name, _, number = element.get("id").rpartition("-")
            if not number.isdigit() or seen.get(name) != int(number) - 1:
                name = element.get("id")
            seen[name] = seen.get(name, 0) + 1
            shapes.append(Shape(name, element.get("d")))
    return labels, shapes


@dataclass
class Step:
    """One step of the steps pages: what a report says of it, what stands in its place on the sheet."""
    number: int
    operations: list
    words: str
    labels: list = field(default_factory=list)
    shapes: list = field(default_factory=list)

    def named(self, kind):
        """The shapes called `kind: NAME`, by NAME as in their ids."""
        found = {}
        for shape in self.shapes:
            if shape.name.startswith(kind + "--"):
                found.setdefault(shape.name.removeprefix(kind + "--"), []).append(shape)
        return found


def steps_of(job, *options, env=None, drawn=True):
    """The steps of the sheet, each with the ink of its place where they are `drawn`."""
    if not drawn:
        told = report("steps", job, *options, env=env)["steps"]
        return [Step(i, one["operations"], one["words"]) for i, one in enumerate(told, 1)]
    with tempfile.TemporaryDirectory(prefix="pouchwright-test-") as folder:
        sheet = os.path.join(folder, "steps.svg")
        told = report("steps", job, "--out", sheet, *options, env=env)
        labels, shapes = picture(sheet)
    steps = [Step(0, [], "")]
    steps += [Step(i, one["operations"], one["words"]) for i, one in enumerate(told["steps"], 1)]
    corners = [_corner_of(step.number, labels) for step in steps]
    for label in labels:
        _at((label.x, label.y), steps, corners).labels.append(label)
    for shape in shapes:
        _at(shape.middle, steps, corners).shapes.append(shape)
    return steps[1:]


def _corner_of(number, labels):
    """Where a step's number stands. A letter's first point lies up to its height below its top."""
    if number == 0:
        return (0, 0)
    found = [label for label in labels if label.words == str(number)]
    if len(found) != 1:
        raise AssertionError(f"step {number} has {len(found)} numbers")
    return (found[0].x - LETTER, found[0].y - LETTER)


def _at(point, steps, corners):
    """The step in whose column and below whose number the point lies; above all of them is step 0."""
    column = max(x for x, _ in corners if x <= point[0])
    return max((y, step.number, step) for (x, y), step in zip(corners, steps)
               if x <= point[0] and y <= point[1] and (x > column - 2 * LETTER or step.number == 0))[2]
