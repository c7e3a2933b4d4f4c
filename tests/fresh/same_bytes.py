"""Compares all that two builds of the program say and write, byte for byte: every command, every
starter job, as words and as reports, in millimetres and inches, at other sizes.

    python3 tests/fresh/same_bytes.py .build/gcc/src/pouchwright .build/clang/src/pouchwright

Prints each difference and, last, how much was compared; exit code 1 where anything differs. Run by
hand, by compilers.sh; tests/output/sameness_test.py compares runs of one build.
"""

import pathlib
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "faults"))

import commands  # noqa: E402  (the commands that are tried)
import program  # noqa: E402

VARIANTS = ((), ("--json",), ("--units", "in", "--json"),
            ("--paper", "Letter", "--printed-square", "49.6x50.3"),
            ("--set", "pouch.seal_width=17.3mm", "--set", "batch.pouches=61", "--json"))
# Lays and volumes of odd numbers, without a job.
LAYS = tuple(("lay", "--cloth", "1103.7 mm", "--cuts", cuts, "--piece", "a = 203.1 x 361.9 mm * 37",
              "--piece", "b = 7 3/8 in x 95.55 mm * 53", "--json")
             for cuts in ("straight", "free"))


def ran(build, line, folder):
    """(exit code, standard output, standard error, files) of a run into an empty folder."""
    done = subprocess.run([build, *line], cwd=folder, env=program.environment(), check=False,
                          stdin=subprocess.DEVNULL, capture_output=True, timeout=300)
    return {"exit code": done.returncode, "standard output": done.stdout,
            "standard error": done.stderr, **commands.contents(folder)}


def lines():
    """Every command line; what is written lies in the working folder."""
    for job in commands.starter_jobs():
        for command in commands.COMMANDS:
            for variant in VARIANTS:
                # A job from answers, not from a job, takes its own options only.
                if command.name == "new" and "--set" in variant:
                    continue
                out = command.out_in(pathlib.Path("out"))
                yield command.line(job=job, out=out, further=variant)[1:]
    yield from LAYS


def first_difference(one, other):
    if not isinstance(one, bytes) or not isinstance(other, bytes):
        return f"{one!r} and {other!r}"
    at = next((i for i, (a, b) in enumerate(zip(one, other)) if a != b), min(len(one), len(other)))
    around = slice(max(0, at - 40), at + 40)
    return f"at byte {at}: {one[around]!r} and {other[around]!r}"


def compare(builds):
    """Prints what differs; (runs, things compared, differences)."""
    runs = compared = differences = 0
    for line in lines():
        made = []
        for build in builds:
            with commands.temporary_folder() as folder:
                (folder / "out").mkdir()
                made.append(ran(build, line, folder))
        runs += 1
        for name in sorted(made[0].keys() | made[1].keys()):
            compared += 1
            one, other = (of.get(name) for of in made)
            if one != other:
                differences += 1
                print(" ".join(map(str, line)), name, first_difference(one, other), sep="\n  ")
    return runs, compared, differences


if __name__ == "__main__":
    counts = compare([str(pathlib.Path(word).resolve()) for word in sys.argv[1:3]])
    print("{} runs, {} files and texts compared, {} differences".format(*counts))
    sys.exit(counts[2] != 0)
