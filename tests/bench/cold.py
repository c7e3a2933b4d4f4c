"""What the program takes from nothing, beside the bare drawing: `python3 tests/bench/cold.py
[PROGRAM] [JOB.toml]`.

Every run is a fresh process: words, data, fonts and the job are read anew. Beside it stands the
bare drawing: poppler's pdftocairo reads the finished PDF and draws the same pages with the same
library, and works nothing out; for `size`, which draws nothing, it draws one page. Printed for
people, as the tables that DEVELOPERS.md holds: the least of a few runs, in milliseconds of the
processor (so that a busy machine matters little), the greatest memory, and ratios to the bare
drawing; then how both grow by the page, and the program by the piece. It judges nothing, since
times depend on the machine; the aim for a packet is a ratio of at most 2, with a release build.
"""

import collections
import os
import pathlib
import subprocess
import sys
import tempfile

TOP = pathlib.Path(__file__).resolve().parents[2]
RUNS = 10
# Wider pouches, for more pages of the template.
WIDTHS_MM = (190, 400, 800)
POUCHES = (40, 400, 2000)

Took = collections.namedtuple("Took", "ms mib")


def once(line):
    """Processor time and greatest memory of one run."""
    with open(os.devnull, "wb") as nothing:
        child = subprocess.Popen([str(word) for word in line], stdout=nothing, stderr=nothing)
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        raise SystemExit(f"exit {child.returncode}: {' '.join(map(str, line))}")
    return Took(1000 * (used.ru_utime + used.ru_stime), used.ru_maxrss / 1024)


def best(line, runs=RUNS):
    all_runs = [once(line) for _ in range(runs)]
    return Took(min(one.ms for one in all_runs), max(one.mib for one in all_runs))


def pages_of(pdf):
    return int(subprocess.run(["qpdf", "--show-npages", pdf], check=True, capture_output=True,
                              text=True).stdout)


def bare(pdf, folder, *options):
    return best(["pdftocairo", "-pdf", *options, pdf, folder / "redrawn.pdf"])


class Bench:
    def __init__(self, program, job, folder):
        self.program, self.job, self.folder = program, job, folder

    def line(self, command, *options):
        return [self.program, command, self.job, "--quiet", *options]

    def template(self, *options):
        """Its line and its PDF, made."""
        line = self.line("template", "--out", self.folder, *options)
        once(line)
        return line, self.folder / "template.pdf"

    def commands(self):
        line, template = self.template()
        packet = self.folder / "packet.pdf"
        packet_line = self.line("packet", "--out", packet)
        once(packet_line)
        print("| command | pages | ms | bare drawing, ms | ratio | MiB | bare, MiB |")
        print("| --- | ---: | ---: | ---: | ---: | ---: | ---: |")
        self.row("size", 0, self.line("size"), bare(template, self.folder, "-f", "1", "-l", "1"))
        self.row("template", pages_of(template), line, bare(template, self.folder))
        self.row("packet", pages_of(packet), packet_line, bare(packet, self.folder))

    @staticmethod
    def row(name, pages, line, floor):
        took = best(line)
        print(f"| `{name}` | {pages or ''} | {took.ms:.0f} | {floor.ms:.0f} | "
              f"{took.ms / floor.ms:.2f} | {took.mib:.0f} | {floor.mib:.0f} |")

    def by_the_page(self):
        print("\n| pages of a template | ms | bare drawing, ms | ratio | MiB |")
        print("| ---: | ---: | ---: | ---: | ---: |")
        for width in WIDTHS_MM:
            line, pdf = self.template("--set", f"pouch.width={width}mm")
            took, floor = best(line), bare(pdf, self.folder)
            print(f"| {pages_of(pdf)} | {took.ms:.0f} | {floor.ms:.0f} | "
                  f"{took.ms / floor.ms:.2f} | {took.mib:.0f} |")

    def by_the_piece(self):
        commands = ("lay", "supplies", "schedule", "packet")
        print("\n| pouches | " + " | ".join(f"`{name}`, ms" for name in commands) +
              " | MiB of a packet |")
        print("| ---: |" + " ---: |" * (len(commands) + 1))
        for pouches in POUCHES:
            took = [best(self.line(name, "--set", f"batch.pouches={pouches}",
                                   *(("--out", self.folder / "packet.pdf", "--copies", "40")
                                     if name == "packet" else ())), 3)
                    for name in commands]
            print(f"| {pouches} | " + " | ".join(f"{one.ms:.0f}" for one in took) +
                  f" | {took[-1].mib:.0f} |")


def main():
    program = pathlib.Path(sys.argv[1] if len(sys.argv) > 1
                           else TOP / ".build/release/src/pouchwright").resolve()
    job = pathlib.Path(sys.argv[2] if len(sys.argv) > 2 else TOP / "patterns/heron-quay.toml")
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(program, job, pathlib.Path(folder))
        bench.commands()
        bench.by_the_page()
        bench.by_the_piece()


if __name__ == "__main__":
    main()
