"""What the program takes from nothing, beside the same libraries without it:
`python3 tests/bench/cold.py [BUILD] [JOB.toml]`.

Every run is a fresh process: words, data, fonts and the job are read anew. Beside each stands
`bare` (tests/bench/bare.cc), run by turns with it, so that a busy machine slows both: for `size` it
starts and leaves, for `template` and `packet` it draws as many pages, SVG files, texts and strokes
as the command did. Printed for people, as the tables that DEVELOPERS.md holds: milliseconds of the
processor, the least and the median, their ratios, and the greatest memory; how the program grows by
the page and by the piece; and the desk. It judges nothing, since times depend on the machine.
"""

import collections
import os
import pathlib
import re
import statistics
import subprocess
import sys
import tempfile

TOP = pathlib.Path(__file__).resolve().parents[2]
RUNS = 15
# Wider pouches, for more pages of the template.
WIDTHS_MM = (190, 400, 800)
POUCHES = (40, 400, 2000)
NOTHING = (0, 0, 0, 0, 0)

Took = collections.namedtuple("Took", "least median mib")


def once(line):
    """Processor time in ms and greatest memory of one run."""
    with open(os.devnull, "wb") as nothing:
        child = subprocess.Popen([str(word) for word in line], stdout=nothing, stderr=nothing)
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        raise SystemExit(f"exit {child.returncode}: {' '.join(map(str, line))}")
    return 1000 * (used.ru_utime + used.ru_stime), used.ru_maxrss / 1024


def by_turns(*lines, runs=RUNS):
    """What each of the lines took."""
    rounds = [[once(line) for line in lines] for _ in range(runs)]
    took = [list(zip(*one)) for one in zip(*rounds)]
    return [Took(min(ms), statistics.median(ms), max(mib)) for ms, mib in took]


def out_of(*line):
    return subprocess.run([str(word) for word in line], check=True, capture_output=True).stdout


def contents_of_pdf(pdf):
    """Pages, and a page's texts, letters in each, strokes, and straight steps in each, as `bare`
    takes them. What is drawn is counted in the pages' own operators."""
    pages = int(out_of("qpdf", "--show-npages", pdf))
    drawn = out_of("qpdf", "--qdf", "--object-streams=disable", pdf, "-")
    texts = len(re.findall(rb"\bT[dDm]\b", drawn))
    strokes = len(re.findall(rb"\bS\b", drawn))
    steps = len(re.findall(rb"\b[lc]\b", drawn))
    letters = len(out_of("pdftotext", pdf, "-").decode())
    return (pages, texts // pages, letters // texts, strokes // pages,
            max(1, steps // max(1, strokes)))


def contents_of_svg(files):
    if not files:
        return NOTHING
    text = "".join(file.read_text() for file in files)
    words = re.findall(r'aria-label="([^"]*)"', text)
    strokes = re.findall(r'<path(?! role)[^>]* d="([^"]*)"', text)
    steps = sum(len(re.findall("[LC]", path)) for path in strokes)
    return (len(files), len(words) // len(files), sum(map(len, words)) // len(words),
            len(strokes) // len(files), steps // len(strokes))


def pinned_fonts():
    """The family, and its regular and bold file."""
    rows = [[part.strip() for part in line.split("|")]
            for line in (TOP / "fonts/pinned.txt").read_text().splitlines() if "|" in line
            and not line.startswith("#")]
    files = {row[0]: row[2] for row in reversed(rows)}  # the first of each weight
    return rows[0][1], files["regular"], files["bold"]


class Bench:
    def __init__(self, build, job, folder):
        self.program, self.bare = build / "src/pouchwright", build / "tests/bench/bare"
        self.job, self.folder = job, folder

    def line(self, command, *options):
        return [self.program, command, self.job, "--quiet", *options]

    def drawing(self, pdf, svgs=()):
        """The line that draws as much as these files hold."""
        (self.folder / "bare").mkdir(exist_ok=True)
        return [self.bare, "draw", self.folder / "bare", *pinned_fonts(), *contents_of_pdf(pdf),
                *contents_of_svg(svgs)]

    def template(self, *options):
        """Its line, the bare one, and how many pages it has."""
        out = self.folder / "template"
        line = self.line("template", "--out", out, *options)
        once(line)
        pdf = out / "template.pdf"
        return line, self.drawing(pdf, sorted(out.glob("*.svg"))), contents_of_pdf(pdf)[0]

    def packet(self):
        out = self.folder / "packet.pdf"
        line = self.line("packet", "--out", out)
        once(line)
        return line, self.drawing(out), contents_of_pdf(out)[0]

    def commands(self):
        print("| command | pages | ms, least | bare | ratio | ms, median | bare | ratio "
              "| MiB | bare |")
        print("| --- |" + " ---: |" * 9)
        for name, line, bare, pages in (
                ("size", self.line("size"), [self.bare, "start"], ""),
                ("template", *self.template()), ("packet", *self.packet())):
            took, floor = by_turns(line, bare)
            print(f"| `{name}` | {pages} | {took.least:.1f} | {floor.least:.1f} | "
                  f"{took.least / floor.least:.2f} | {took.median:.1f} | {floor.median:.1f} | "
                  f"{took.median / floor.median:.2f} | {took.mib:.0f} | {floor.mib:.0f} |")

    def by_the_page(self):
        print("\n| pages of a template | ms | bare | ratio | MiB |")
        print("| ---: | ---: | ---: | ---: | ---: |")
        for width in WIDTHS_MM:
            line, bare, pages = self.template("--set", f"pouch.width={width}mm")
            took, floor = by_turns(line, bare)
            print(f"| {pages} | {took.least:.0f} | {floor.least:.0f} | "
                  f"{took.least / floor.least:.2f} | {took.mib:.0f} |")

    def by_the_piece(self):
        commands = ("lay", "supplies", "schedule", "packet")
        print("\n| pouches | " + " | ".join(f"`{name}`, ms" for name in commands) +
              " | MiB of a packet |")
        print("| ---: |" + " ---: |" * (len(commands) + 1))
        for pouches in POUCHES:
            took = by_turns(*(self.line(name, "--set", f"batch.pouches={pouches}",
                                        *(("--out", self.folder / "packet.pdf", "--copies", "40")
                                          if name == "packet" else ()))
                              for name in commands), runs=3)
            print(f"| {pouches} | " + " | ".join(f"{one.least:.0f}" for one in took) +
                  f" | {took[-1].mib:.0f} |")

    def desk(self):
        print(flush=True)
        subprocess.run([self.bare.parent / "desk_load", self.program, "10", "1", "8", "31"], check=False)


def main():
    build = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else TOP / ".build/release").resolve()
    job = pathlib.Path(sys.argv[2] if len(sys.argv) > 2 else TOP / "patterns/heron-quay.toml")
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(build, job, pathlib.Path(folder))
        bench.commands()
        bench.by_the_page()
        bench.by_the_piece()
        bench.desk()


if __name__ == "__main__":
    main()
