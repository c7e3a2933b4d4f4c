"""The commands that every fault of the machine is tried on, and how the tests run them.

A command that writes files is added to COMMANDS, and all tests of this folder hold for it.
"""

import ctypes
import os
import pathlib
import shutil
import subprocess
import sys
import unittest
from dataclasses import dataclass

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "output"))

import program  # noqa: E402  (the tests of finished files: where the program lies, environments)

temporary_folder = program.temporary_folder


# Another flap changes every sheet of paper, another number what is bought and planned.
OTHER_SIZES = ("--set", "pouch.flap=75mm", "--set", "batch.pouches=30")


@dataclass(frozen=True)
class Command:
    """`words` with JOB for a job's file and OUT for where to write; `files` are what is made in
    OUT if that is a folder, empty if OUT is the file itself, None if nothing is written. With the
    options `other` every file comes out otherwise."""
    name: str
    words: tuple
    files: tuple | None = None
    other: tuple = OTHER_SIZES

    @property
    def writes(self):
        return self.files is not None

    def out_in(self, folder):
        """What stands for OUT where the command is to write into `folder`."""
        if self.files != ():
            return folder
        ending = next(word for word in self.words if word.startswith("OUT")).removeprefix("OUT")
        return folder / (self.name.replace(" ", "-") + ending)

    def made_in(self, folder):
        """The files that the command makes in `folder`."""
        return [folder / name for name in self.files] or [self.out_in(folder)]

    def line(self, job=program.SAMPLE, out=None, further=()):
        """The whole command line."""
        ending = next((word.removeprefix("OUT") for word in self.words if word.startswith("OUT")), "")
        put = str(out).removesuffix(ending)
        words = [word.replace("JOB", str(job)).replace("OUT", put) for word in self.words]
        return [program.PROGRAM, *words, *further]


COMMANDS = (
    Command("check", ("check", "JOB")),
    Command("size", ("size", "JOB")),
    Command("size as a report", ("size", "JOB", "--json")),
    Command("savings", ("savings", "JOB")),
    Command("list", ("list",)),
    Command("template", ("template", "JOB", "--png", "--out", "OUT"),
            ("template.pdf", "template.svg", "template.png", "template-A1.svg")),
    Command("mask", ("mask", "JOB", "--out", "OUT"),
            ("mask.pdf", "slip-card.svg", "shield.svg", "mask-A1.svg")),
    Command("range", ("range", "JOB", "--liners", "1,2", "--set", "paper.size=A2", "--out", "OUT"),
            ("liners-1/template-1.pdf", "liners-2/mask-2.pdf", "nested.svg")),
    # One page of the same bytes whatever the job; and a job from answers, not from another job.
    Command("test page", ("template", "--test-page", "--out", "OUT"), ("test-page.pdf",),
            ("--paper", "A3")),
    Command("new", ("new", "--construction", "foldover", "--force", "--out", "OUT.toml"), (),
            ("--pouches", "30")),
    Command("steps", ("steps", "JOB")),
    Command("steps as pages", ("steps", "JOB", "--out", "OUT.pdf"), ()),
    Command("steps as a picture", ("steps", "JOB", "--out", "OUT.svg"), ()),
    Command("lay as pages", ("lay", "JOB", "--out", "OUT.pdf"), ()),
    Command("lay as a picture", ("lay", "JOB", "--out", "OUT.svg"), ()),
    Command("lay as a table", ("lay", "JOB", "--out", "OUT.csv"), ()),
    Command("lay as a report", ("lay", "JOB", "--out", "OUT.json"), ()),
    Command("packet", ("packet", "JOB", "--out", "OUT.pdf"), ()),
    Command("schedule", ("schedule", "JOB", "--out", "OUT.svg"), ()),
    Command("supplies", ("supplies", "JOB")),
    Command("supplies as pages", ("supplies", "JOB", "--out", "OUT.pdf"), ()),
    Command("supplies as a table", ("supplies", "JOB", "--out", "OUT.csv"), ()),
)
WRITERS = tuple(command for command in COMMANDS if command.writes)
INTO_FOLDERS = tuple(command for command in WRITERS if command.files)


def starter_jobs():
    """The jobs of patterns/; constructions, which state operations, lie beside them."""
    return [path for path in sorted((program.SOURCE / "patterns").glob("*.toml"))
            if "[[operation]]" not in path.read_text(encoding="utf-8")]


def run(line, **how):
    """Runs a command line; standard output and error come back as text."""
    how.setdefault("env", program.environment())
    how.setdefault("stdout", subprocess.PIPE)
    how.setdefault("stdin", subprocess.DEVNULL)
    return subprocess.run(line, stderr=subprocess.PIPE, text=True, timeout=120, check=False, **how)


def contents(folder):
    """Name -> bytes of every file below a folder, hidden ones as well."""
    return {str(path.relative_to(folder)): path.read_bytes()
            for path in sorted(folder.rglob("*")) if path.is_file()}


def left_overs(folder):
    return sorted(path.name for path in folder.rglob(".pouchwright-*"))


def bound_by_permissions():
    """How a child is started so that permissions bind it, even where the tests are run by root:
    without the right to pass them over (Linux, capabilities(7): CAP_DAC_OVERRIDE is number 1,
    PR_CAPBSET_DROP 24). At exec, root keeps only what the bounding set has."""
    if os.geteuid() != 0:
        return None
    libc = ctypes.CDLL(None, use_errno=True)

    def drop():
        if libc.prctl(24, 1, 0, 0, 0) != 0:
            os._exit(99)
    return drop


# Under the sanitizers the list of known leaks lies in the folder that is hidden: it is handed on open.
KEEP_LEAKS = ('case "${LSAN_OPTIONS-}" in suppressions=*) leaks=${LSAN_OPTIONS#suppressions=}; '
              'exec 9<"${leaks%%:*}"; export LSAN_OPTIONS=suppressions=/proc/self/fd/9:${leaks#*:} ;; '
              'esac')


def hiding(hidden):
    """What a command line begins with so that the folder `hidden` is empty for it, in a mount
    namespace of its own; skips the test where that may not be done."""
    if not shutil.which("unshare"):
        raise unittest.SkipTest("no unshare(1) here to hide a folder with")
    before = ["unshare", "-m"] if os.geteuid() == 0 else ["unshare", "-r", "-m"]
    line = [*before, "sh", "-c", f'{KEEP_LEAKS} && mount -t tmpfs tmpfs "$0" && exec "$@"', str(hidden)]
    tried = run([*line, "true"])
    if tried.returncode != 0:
        raise unittest.SkipTest(f"no folder can be hidden here: {tried.stderr.strip()}")
    return line


def with_data(folder):
    """A copy of the program's data in `folder`, to be damaged; what to set to have it used."""
    for name in ("patterns", "fonts", "shared"):
        shutil.copytree(program.SOURCE / name, folder / name)
    return program.environment(POUCHWRIGHT_DATA=str(folder))
