#!/usr/bin/env python3
"""Bad inputs, each with what the program is to say about it.

    python3 tests/errors/run_errors.py PROGRAM [unittest options, as -k NAME]
    UPDATE_EXPECTED=1 python3 tests/errors/run_errors.py PROGRAM     rewrites what is stated

A case is a file beside this one: NAME.toml is a job that the program is given, NAME.args only
states a command line. Comments at the top say what happens:

    # about: why the case is here (free text, as many lines as needed)
    # args: check FILE --set pouch.width=19x
    # exit: 1
    # error 12:9 what is said about line 12, column 9 of the case's own file
    # hint what it says below that
    # warning [styles/own.toml:3:1] about another place; [] where no place is named
    # error - about the case's own file as a whole
    # other a line that is none of these, as the count of further errors

FILE stands for NAME.toml; where the line does not name it, it comes last. Every error, warning, note and
hint must be stated, in order, word for word. Held of every case besides: it takes less than a second
of the processor, exit codes 1, 2 and 3 leave no file behind, standard output is empty on them, and
with --json on exit code 1 it is a report of exactly these warnings and errors.

A case about a construction says what it changes in constructions/base.toml, `|` for a new line, and
names constructions/own.toml, which comes out:

    # change: turn = "flap" => turn = "front"

Each case runs in a folder of its own that holds its job, constructions/, and what `made_files` makes
since it cannot be kept as a readable text.
"""

import json
import os
import pathlib
import re
import resource
import shlex
import shutil
import subprocess
import sys
import tempfile
import unittest

HERE = pathlib.Path(__file__).resolve().parent
PROGRAM = ""
# Of the processor, as often as much under the sanitizers.
SECONDS = 1.0 * int(os.environ.get("POUCHWRIGHT_PATIENCE", "1"))
STATED = re.compile(r"# (about|args|change|exit|error|warning|note|hint|other)\b:? ?(.*)")
SOURCE_LINE = re.compile(r" *\d* \| ")
TOLD = re.compile(r"(?:(.*?): )?(error|warning|note): (.*)")


def made_files(folder):
    """Files that are no readable text, or too large to keep."""
    (folder / "junk.toml").write_bytes(b"\x7fELF\x02\x01\x01" + bytes(range(256)) * 16)
    (folder / "zeros.toml").write_bytes(bytes(4096))
    (folder / "latin-1.toml").write_bytes('title = "Größe"\n'.encode("latin-1"))
    (folder / "utf-16.toml").write_bytes('construction = "foldover"\n'.encode("utf-16"))
    (folder / "huge.toml").write_bytes(b"# ten megabytes\n" * (10 * 1024 * 1024 // 16))
    (folder / "huge-line.toml").write_bytes(b'title = "' + b"x" * (10 * 1024 * 1024) + b'"\n')
    (folder / "long-name.toml").write_bytes(b'construction = "' + b"x" * 200_000 + b'"\n')
    (folder / "long-title.toml").write_bytes(
        b'construction = "foldover"\ntitle = "' + b"word " * 40_000 + b'"\n')
    (folder / "dotted-key.toml").write_bytes(b"a." * 40_000 + b"a = 1\n")
    (folder / "dotted-header.toml").write_bytes(b"[" + b"a." * 40_000 + b"a]\n")
    (folder / "brackets.toml").write_bytes(b"a = " + b"[" * 40_000 + b"\n")
    (folder / "inline-tables.toml").write_bytes(b"a = " + b"{ a = " * 40_000 + b"\n")
    (folder / "five-thousand.toml").write_bytes(
        b'construction = "foldover"\n' + b"".join(b"wrong-%d = 1\n" % i for i in range(5000)))
    (folder / "empty.toml").write_bytes(b"")
    (folder / "folder.toml").mkdir()
    os.mkfifo(folder / "pipe.toml")
    (folder / "good.toml").write_text('construction = "foldover"\n', encoding="utf-8")
    (folder / "empty.csv").write_bytes(b"")
    (folder / "zeros.csv").write_bytes(bytes(4096))
    (folder / "knitting.csv").write_text("bundle,operation\n1,knit\n2,purl\n", encoding="utf-8")
    (folder / "a-file").write_text("in the way\n", encoding="utf-8")
    (folder / "taken" / "template.pdf").mkdir(parents=True)


def snapshot(folder):
    """Names, sizes and times of all that lies in a folder, to see that nothing was written."""
    found = {}
    for path in sorted(folder.rglob("*")):
        status = path.lstat()
        found[str(path.relative_to(folder))] = (status.st_size, status.st_mtime_ns)
    return found


class Case:
    """A file's expectations and its command line."""

    def __init__(self, path):
        self.path = path
        self.is_job = path.suffix == ".toml"
        self.about, self.changes, self.told, self.args, self.exit = [], [], [], None, None
        self.body_from = 0
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines()):
            stated = STATED.fullmatch(line)
            if not stated:
                break
            self.body_from = number + 1
            kind, text = stated.groups()
            if kind == "about":
                self.about.append(text)
            elif kind == "args":
                self.args = text
            elif kind == "change":
                self.changes.append(text)
            elif kind == "exit":
                self.exit = int(text)
            else:
                self.told.append((kind, text))
        if self.args is None:
            raise ValueError(f"{path.name}: the line '# args: COMMAND' is missing")

    def command_line(self):
        words = shlex.split(self.args)
        names_file = not self.is_job or any("FILE" in word for word in words)
        words = [word.replace("FILE", self.path.name) for word in words]
        return words if names_file else words + [self.path.name]

    def own_construction(self):
        text = (HERE / "constructions" / "base.toml").read_text(encoding="utf-8")
        for change in self.changes:
            old, _, new = change.replace("|", "\n").partition(" =>")
            new = new.removeprefix(" ")
            if text.count(old) != 1:
                raise ValueError(f"{self.path.name}: {old!r} stands {text.count(old)} times")
            text = text.replace(old, new)
        return text

    def place_as_stated(self, place):
        """`FILE:12:9` as it stands in the case: `12:9`, `-`, or the whole text in brackets."""
        own = self.path.name
        if place == own:
            return "-"
        if place.startswith(own + ":"):
            return place[len(own) + 1:]
        return f"[{place}]"

    def told_by(self, standard_error):
        """What was said, as a case states it; lines that are none of it come out as `other`."""
        told = []
        for line in standard_error.splitlines():
            if SOURCE_LINE.match(line):
                continue
            found = TOLD.fullmatch(line)
            if found:
                place, severity, message = found.groups()
                told.append((severity, f"{self.place_as_stated(place or '')} {message}"))
            elif line.startswith("hint: "):
                told.append(("hint", line[len("hint: "):]))
            else:
                told.append(("other", line))
        return told

    def rewritten(self, exit_code, told):
        lines = [f"# about: {text}" for text in self.about]
        lines += [f"# args: {self.args}"]
        lines += [f"# change: {text}".rstrip() for text in self.changes]
        lines += [f"# exit: {exit_code}"]
        lines += [f"# {kind} {text}" for kind, text in told]
        body = self.path.read_text(encoding="utf-8").split("\n")[self.body_from:]
        return "\n".join(lines + body)


class Run:
    """One call of the program in a folder of its own, seen from outside."""

    prepared = None

    @classmethod
    def prepare(cls):
        """Made once: links to these files are quicker than twenty megabytes a case."""
        cls.prepared = tempfile.TemporaryDirectory()
        folder = pathlib.Path(cls.prepared.name)
        made_files(folder)
        for path in HERE.glob("constructions/*.toml"):
            (folder / "constructions").mkdir(exist_ok=True)
            shutil.copy(path, folder / "constructions")

    def __init__(self, case, further=()):
        with tempfile.TemporaryDirectory() as name:
            folder = pathlib.Path(name)
            shutil.copytree(self.prepared.name, folder, copy_function=os.link, dirs_exist_ok=True)
            if case.is_job:
                shutil.copy(case.path, folder)
            if case.changes:
                own = folder / "constructions" / "own.toml"
                own.write_text(case.own_construction(), encoding="utf-8")
            before = snapshot(folder)
            spent = resource.getrusage(resource.RUSAGE_CHILDREN)
            done = subprocess.run([PROGRAM, *case.command_line(), *further], cwd=folder,
                                  stdin=subprocess.DEVNULL, capture_output=True, timeout=30,
                                  check=False)
            used = resource.getrusage(resource.RUSAGE_CHILDREN)
            self.left_behind = sorted(set(snapshot(folder).items()) ^ set(before.items()))
        self.seconds = used.ru_utime + used.ru_stime - spent.ru_utime - spent.ru_stime
        self.exit = done.returncode
        self.out = done.stdout.decode("utf-8")
        self.err = done.stderr.decode("utf-8")


class Errors(unittest.TestCase):
    """A method for each case is added below, so that each is counted and named."""

    maxDiff = None

    def hold(self, path):
        case = Case(path)
        run = Run(case)
        told = case.told_by(run.err)
        if os.environ.get("UPDATE_EXPECTED") == "1":
            case, told = self.updated(case, run.exit, told)
        self.assertEqual(stated_text(case.told), stated_text(told), run.err)
        self.assertEqual(case.exit, run.exit, run.err)
        self.assertLess(run.seconds, SECONDS, "seconds of the processor")
        if run.exit != 0:
            self.assertEqual(run.left_behind, [], "files written")
            self.assertEqual(run.out, "", "standard output")
        self.hold_report(case, told)

    def updated(self, case, exit_code, told):
        """Rewriting moves the lines, so what is said changes once more."""
        for _ in range(3):
            case.path.write_text(case.rewritten(exit_code, told), encoding="utf-8")
            case = Case(case.path)
            told = case.told_by(Run(case).err)
        return case, told

    def hold_report(self, case, told):
        """With --json the same is told to machines, and what is said to people stays as it is."""
        run = Run(case, ["--json"])
        self.assertEqual(run.exit, case.exit, run.err)
        if run.exit in (2, 3):
            self.assertEqual(run.out, "", "standard output")
            return
        report = json.loads(run.out)
        if run.exit == 1:
            self.assertEqual(sorted(report), ["errors", "warnings"])
            self.assertEqual(run.left_behind, [], "files written")
        self.assertEqual(run.exit == 1, bool(report["errors"]))
        # For machines what is always so stands behind the warnings.
        for severity, kinds in (("warning", ("warning", "note")), ("error", ("error",))):
            said = [text.split(" ", 1)[1] if not text.startswith("[") else text.split("] ", 1)[1]
                    for one in kinds for kind, text in told if kind == one]
            reported = [re.sub(r"[\x00-\x1f]", "?", one["message"])
                        for one in report[severity + "s"]]
            self.assertEqual(reported, said)


def stated_text(told):
    return "\n".join(f"# {kind} {text}" for kind, text in told)


def add_cases():
    for path in sorted([*HERE.glob("*.toml"), *HERE.glob("*.args")]):
        name = "test_" + path.name.replace("-", "_").replace(".", "_")
        setattr(Errors, name, lambda self, path=path: self.hold(path))


if __name__ == "__main__":
    PROGRAM = str(pathlib.Path(sys.argv.pop(1)).resolve())
    Run.prepare()
    add_cases()
    unittest.main()
