"""Every limit stands once in the help text and once in the code, with the same number; just under
it a run gets done within 300 MB, just over it is a clear error. How long each took is printed and
not judged, since a time depends on the machine: two seconds of the processor are the aim."""

import json
import os
import pathlib
import re
import subprocess
import sys
import unittest
from dataclasses import dataclass

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "output"))

import program  # noqa: E402  (where the program lies)

GETS_DONE = 40  # seconds of the processor, on the slowest of machines
MEGABYTES = 300
JUDGED = os.environ.get("POUCHWRIGHT_JUDGED") == "yes"


@dataclass(frozen=True)
class Limit:
    """A line of the help text, the constant in the code, and how a run reaches it."""
    row: str        # the line up to its colon
    most: str       # what follows it
    file: str       # of src/
    constant: str   # as it is written there
    under: tuple    # the command line just under the limit; JOB stands for a file with `job`
    over: tuple     # just over it
    said: str       # what is said then
    exit: int = 1
    job_under: str = 'construction = "foldover"\n'
    job_over: str | None = None
    # Where only an error can reach the limit, it is another one.
    said_under: str | None = None
    files: tuple = ()  # further files: name, text


FOLDOVER = 'construction = "foldover"\n'
PANEL = 'name = "panel"\nspan = [\n'


def job_of(size):
    """A job of so many bytes."""
    return FOLDOVER + "#" * (size - len(FOLDOVER) - 1) + "\n"


def keys_of(count):
    """So many unknown keys."""
    return FOLDOVER + "".join(f"wrong-{number} = 1\n" for number in range(count))


def own(name):
    return f'construction = "./{name}.toml"\n'


def construction():
    return (program.SOURCE / "patterns" / "foldover.toml").read_text(encoding="utf-8")


def with_spans(count):
    """The fold-over pouch with a flap that lies flat in so many spans, three of them its own."""
    further = "".join(f'  {{ name = "flap{n}", length = {{ flap = 1 }} }},\n'
                      for n in range(count - 3))
    flap = '  { name = "flap", length = { flap = 1 } },\n'
    return construction().replace(flap, flap + further)


def with_panels(count):
    """The fold-over pouch with so many panels, the further ones laid under it first of all."""
    panels = "".join(f'[[panel]]\nname = "tag{n}"\nspan = [{{ name = "tag{n}-span", '
                     'length = { flap = 1 } }]\n\n' for n in range(count - 1))
    laid = "".join(f'[[operation]]\nid = "lay{n}"\ndo = "lay panel"\npanel = "tag{n}"\n'
                   f'film = "up"\nmeets = ["tag{n}-span", "flap"]\nend = "end"\n\n'
                   for n in range(count - 1))
    text = construction().replace("[[compartment]]", panels + "[[compartment]]")
    first, rest = text.split("[[operation]]", 1)
    return first + laid + "[[operation]]" + rest


def with_operations(count):
    """The fold-over pouch, tested so often at its end that it has so many operations."""
    text = construction()
    further = "".join(f'\n[[operation]]\nid = "again{n}"\ndo = "test"\n'
                      for n in range(count - text.count("[[operation]]")))
    return text + further


def with_pieces(count):
    """The fold-over pouch with so many further pieces of cloth."""
    return construction() + "".join(
        f'\n[[piece]]\nname = "tab{n}"\nwidth = {{ lip_drop = 1 }}\nlength = {{ lip_drop = 1 }}\n'
        for n in range(count))


def with_attachments(count):
    """The fold-over pouch with so many labels on its outer, one above the other."""
    labels = "".join(f'[[attachment]]\nname = "label{n}"\nkind = "label"\nspan = "back"\n'
                     f'distance = {{ depth = "{n + 1}/{count + 2}" }}\n\n' for n in range(count))
    sewn = "".join(f'[[operation]]\nid = "sew{n}"\ndo = "attach"\nattachment = "label{n}"\n'
                   'through = "outer"\n\n' for n in range(count))
    first, rest = construction().split("[[operation]]", 1)
    return first + labels + sewn + "[[operation]]" + rest


def by_products(count):
    return FOLDOVER + "[batch]\npouches = 100\n" + "".join(
        f'[[lay.by_product]]\nname = "tag{n}"\nwidth = "{20 + n} mm"\nlength = "80 mm"\ncount = 9\n'
        for n in range(count))


def liners(count):
    return (FOLDOVER + f'[liners]\ncount = {count}\nwidth = "20 mm"\nlength = "30 mm"\n'
            'thickness = "1 mm"\n')


def pouches(count):
    return FOLDOVER + f'[pouch]\nwidth = "190 mm"\n[batch]\npouches = {count}\n'


def people(count):
    return (FOLDOVER + f'[batch]\npouches = 100\nhelpers = {count}\nmachines = {count}\n'
            f'irons = {count}\n')


def stacked(count):
    return FOLDOVER + f'[batch]\npouches = 100\n[lay]\nplies = {count}\n'


def long_panel(depth):
    """Takes 400 sheets of A6 where `depth` is 8.2 m: the template is 154 mm x 16 m, and the fold
    gauge half as long."""
    return (FOLDOVER + f'[pouch]\nwidth = "140 mm"\ndepth = "{depth}"\n[paper]\nsize = "A6"\n')


def kinds(count, each):
    pieces = [f"p{number} = {100 + 3 * number} x {200 + 7 * number} mm * {each}"
              for number in range(count)]
    return ("lay", "--cloth", "150 cm", "--quiet",
            *(word for piece in pieces for word in ("--piece", piece)))


def piece(text):
    return ("lay", "--cloth", "150 cm", "--quiet", "--piece", text)


LIMITS = (
    Limit("a job, construction or data file", "256 KiB", "input/node.h", "256UL * 1024",
          ("check", "JOB"), ("check", "JOB"), "the file is larger than 256 KiB",
          job_under=job_of(256 * 1024), job_over=job_of(256 * 1024 + 1)),
    Limit("dotted parts of a key, and brackets in brackets with the parts of their keys", "64", "input/node.h", "kMostDepth = 64",
          ("check", "JOB"), ("check", "JOB"), "a key with more than 64 dotted parts",
          job_under=FOLDOVER + "a." * 63 + "a = 1\n", job_over=FOLDOVER + "a." * 64 + "a = 1\n",
          said_under="the key a is not known"),
    Limit("dotted parts of a key, and brackets in brackets with the parts of their keys", "64", "input/node.h", "kMostDepth = 64",
          ("check", "JOB"), ("check", "JOB"), "brackets nested deeper than 64",
          job_under=FOLDOVER + "title = " + "[" * 64 + "]" * 64 + "\n",
          job_over=FOLDOVER + "title = " + "[" * 65 + "]" * 65 + "\n",
          said_under="title must be"),
    Limit("letters of a text, such as a title", "500", "input/reader.h", "kMostLetters = 500",
          ("template", "JOB", "--out", "OUT"), ("template", "JOB", "--out", "OUT"), "500",
          job_under=FOLDOVER + f'title = "{"Größe " * 83 + "ab"}"\n',
          job_over=FOLDOVER + f'title = "{"Größe " * 83 + "abc"}"\n'),
    Limit("errors told at once", "50", "base/diagnostic.h", "kMost = 50",
          ("check", "JOB"), ("check", "JOB"), "\nand one more error", job_under=keys_of(50),
          job_over=keys_of(51), said_under="wrong-49"),
    Limit("any length", "100 m", "base/length.h", "kLongest = Length::whole_mm(100'000)",
          ("lay", "--cloth", "100 m", "--piece", "sheet = 100 m x 100 m"),
          ("lay", "--cloth", "100 m", "--piece", "sheet = 100 m x 100.000001 m"),
          "100 m", exit=2),
    Limit("any length", "100 m", "base/length.h", "kLongest = Length::whole_mm(100'000)",
          ("size", "JOB"), ("size", "JOB"), "the most is 100000 mm either way",
          job_under=FOLDOVER + '[pouch]\ndepth = "49.9 m"\n',
          job_over=FOLDOVER + '[pouch]\ndepth = "50 m"\n'),
    Limit("spans of a construction", "64", "pouch/construction.h", "kMostSpans = 64",
          ("check", "JOB"), ("check", "JOB"), "65 spans are more than the most, 64",
          job_under=own("under"), job_over=own("over"),
          files=(("under.toml", lambda: with_spans(64)), ("over.toml", lambda: with_spans(65)))),
    Limit("panels of a construction", "32", "pouch/construction.h", "kMostPanels = 32",
          ("check", "JOB"), ("check", "JOB"), "33 panels are more than the most, 32",
          job_under=own("under"), job_over=own("over"),
          files=(("under.toml", lambda: with_panels(32)), ("over.toml", lambda: with_panels(33)))),
    *(Limit("operations of a construction", "256", "pouch/construction.h", "kMostOperations = 256",
            words, words, "257 operations; at most 256 are allowed", job_under=own("under"),
            job_over=own("over"), files=(("under.toml", lambda: with_operations(256)),
                                         ("over.toml", lambda: with_operations(257))))
      for words in (("check", "JOB"), ("schedule", "JOB"), ("packet", "JOB", "--out", "OUT.pdf"))),
    Limit("pieces of a construction", "32", "pouch/construction.h",
          "kMostPieceRules = 32", ("check", "JOB"), ("check", "JOB"),
          "33 pieces; at most 32 are allowed", job_under=own("under"), job_over=own("over"),
          files=(("under.toml", lambda: with_pieces(32)), ("over.toml", lambda: with_pieces(33)))),
    Limit("attachments of a construction", "32", "pouch/construction.h",
          "kMostAttachments = 32", ("template", "JOB", "--out", "OUT"), ("check", "JOB"),
          "33 attachments; at most 32 are allowed", job_under=own("under"), job_over=own("over"),
          files=(("under.toml", lambda: with_attachments(32)),
                 ("over.toml", lambda: with_attachments(33)))),
    Limit("liners", "1000", "pouch/request.h", "kMostLiners = 1000",
          ("size", "JOB"), ("size", "JOB"), "1000", job_under=liners(1000), job_over=liners(1001)),
    Limit("liner counts of one range", "10", "draw/full_size/nested.h", "kMostNested = 10",
          ("range", "JOB", "--out", "OUT", "--liners", "1,2,3,4,5,6,7,8,9,10"),
          ("range", "JOB", "--out", "OUT", "--liners", "1,2,3,4,5,6,7,8,9,10,11"),
          "names more than 10 sizes", exit=2, job_under=liners(1)),
    *(Limit("pouches", "2000", "batch/settings.h", "kMostPouches = 2000", (command, "JOB"),
            (command, "JOB"), "2000", job_under=pouches(2000), job_over=pouches(2001))
      for command in ("lay", "savings", "supplies", "schedule")),
    Limit("helpers, machines, irons", "100", "batch/settings.h", "kMostPeople = 100",
          ("check", "JOB"), ("check", "JOB"), "100", job_under=people(100), job_over=people(101)),
    Limit("pieces of a cut plan", "2000", "lay/lay.h", "kMostPieces = 2000",
          piece("panel = 204 x 360 mm * 2000"), piece("panel = 204 x 360 mm * 2001"), "2000"),
    Limit("kinds of pieces, of by-products", "20 each", "lay/lay.h", "kMostKinds = 20",
          kinds(20, 100), kinds(21, 90), "20"),
    Limit("kinds of pieces, of by-products", "20 each", "lay/lay.h", "kMostKinds = 20",
          ("lay", "JOB"), ("lay", "JOB"), "more than 20 by-products", job_under=by_products(20),
          job_over=by_products(21)),
    Limit("layers cut at once", "50", "lay/settings.h", "kMostPlies = 50",
          (*piece("panel = 204 x 360 mm * 2000"), "--plies", "50"),
          (*piece("panel = 204 x 360 mm * 2000"), "--plies", "51"), "stack 1 to 50 layers"),
    Limit("layers cut at once", "50", "lay/settings.h", "kMostPlies = 50",
          ("lay", "JOB"), ("lay", "JOB"), "from 1 to 50",
          job_under=stacked(50), job_over=stacked(51)),
    Limit("pages of a document", "400", "paper/pages.h", "kMostPages = 400",
          ("template", "JOB", "--out", "OUT", "--json"), ("template", "JOB", "--out", "OUT"),
          "the most is 400", job_under=long_panel("8.2 m"), job_over=long_panel("8.6 m")),
    Limit("side of a sheet of paper", "5080 mm", "paper/pages.h", "whole_mm(5080)",
          ("template", "JOB", "--out", "OUT", "--paper", "914x5080mm"),
          ("template", "JOB", "--out", "OUT", "--paper", "914x5080.1mm"),
          "is longer than a PDF page can be, 5080 mm"),
)


def told_limits():
    """What is limited -> the most, as `pouchwright --help` tells them."""
    text = subprocess.run([program.PROGRAM, "--help"], env=program.environment(), check=True,
                          capture_output=True, text=True).stdout
    return dict(re.findall(r"(?m)^  (.+): (\S.*)$", text[text.index("\nLIMITS\n"):]))


class Ran:
    """One run in a folder of its own, with what it took."""

    def __init__(self, limit, words, job):
        with program.temporary_folder() as folder:
            (folder / "job.toml").write_text(job, encoding="utf-8")
            for name, text in limit.files:
                (folder / name).write_text(text(), encoding="utf-8")
            put = {"JOB": str(folder / "job.toml"), "OUT": str(folder / "out"),
                   "OUT.pdf": str(folder / "out.pdf")}
            line = [program.PROGRAM, *(put.get(word, word) for word in words)]
            with open(folder / "said", "wb") as out, open(folder / "told", "wb") as err:
                process = subprocess.Popen(line, stdout=out, stderr=err,
                                           env=program.environment(), cwd=folder)
                _, status, used = os.wait4(process.pid, 0)
            process.returncode = os.waitstatus_to_exitcode(status)
            self.exit = process.returncode
            self.out = (folder / "said").read_text(encoding="utf-8")
            self.err = (folder / "told").read_text(encoding="utf-8")
            self.left = (folder / "out").exists() or (folder / "out.pdf").exists()
        self.seconds = used.ru_utime + used.ru_stime
        self.megabytes = used.ru_maxrss / 1024  # Linux counts in KiB


class Limits(unittest.TestCase):

    def test_the_help_states_each_limit_and_no_other(self):
        rows = told_limits()
        self.assertEqual(set(rows), {limit.row for limit in LIMITS})
        for limit in LIMITS:
            self.assertRegex(rows[limit.row], rf"^{re.escape(limit.most)}\b")

    def test_the_code_has_the_same_numbers(self):
        for limit in LIMITS:
            text = (program.SOURCE / "src" / limit.file).read_text(encoding="utf-8")
            self.assertEqual(text.count(limit.constant), 1, (limit.file, limit.constant))

    def test_the_code_has_no_limit_twice(self):
        # A second constant of the same name with a number of its own would drift.
        found = {}
        for path in (p for p in (program.SOURCE / "src").rglob("*") if p.suffix in (".cc", ".h")):
            for name in re.findall(r"\b(kMost(?:Liners|Plies|Kinds|Spans|Panels)) = [\d(]",
                                   path.read_text(encoding="utf-8")):
                found.setdefault(name, []).append(path.name)
        self.assertEqual({name: files for name, files in found.items() if len(files) > 1}, {})

    def test_just_under(self):
        for limit in LIMITS:
            with self.subTest(limit.row, under=limit.under[:3]):
                run = Ran(limit, limit.under, limit.job_under)
                print(f"{limit.row}: {run.seconds:.2f} s, {run.megabytes:.0f} MB")
                if limit.said_under is None:
                    self.assertEqual(run.exit, 0, run.err)
                else:
                    self.assertIn(limit.said_under, run.err)
                    self.assertNotIn(limit.said, run.err)
                self.assertLess(run.seconds, GETS_DONE)
                if JUDGED:
                    self.assertLess(run.megabytes, MEGABYTES)

    def test_just_over(self):
        for limit in LIMITS:
            with self.subTest(limit.row, over=limit.over[:3]):
                run = Ran(limit, limit.over, limit.job_over or limit.job_under)
                self.assertEqual(run.exit, limit.exit, run.err)
                self.assertRegex(run.err, r"(^|\n|: )error: ")
                self.assertIn(limit.said, run.err)
                self.assertFalse(run.left, "files were written")
                self.assertLess(run.seconds, GETS_DONE)

    def test_the_pages_are_near_the_limit(self):
        limit, = (one for one in LIMITS if one.row == "pages of a document")
        report = json.loads(Ran(limit, limit.under, limit.job_under).out)
        pages = {page["page"] for document in report["documents"] for page in document["pages"]}
        self.assertEqual(pages, set(range(1, 401)))


if __name__ == "__main__":
    unittest.main()
