"""Odd machines: no HOME, another language, another time zone, long and foreign paths, a strict
umask. Every command says and writes the same everywhere, for every starter job."""

import json
import os
import pathlib
import shutil
import stat
import subprocess
import unittest

import commands
import program
from commands import COMMANDS, WRITERS, run, starter_jobs, temporary_folder
from odd_machines import HOMES, LOCALES, Locales

# POSIX: the sign counts west; a name that is none means UTC.
ZONES = ("Pacific/Chatham", "XXX+12:30", ":nonsense", "", "XXX-14")
PLACES = ("/", "/tmp", "/", "/tmp", "/")
PATH_MAX = 4096  # Linux, limits.h: bytes of a path with the ending null


def said_and_made(command, job, folder, **how):
    """(exit code, standard output, standard error, files) of a run into `folder`/out."""
    out = folder / "out"
    done = run(command.line(job=job, out=command.out_in(out)), **how)
    shown = [text.replace(str(out), "OUT") for text in (done.stdout, done.stderr)]
    return (done.returncode, *shown, commands.contents(out) if out.exists() else {})


class Same(unittest.TestCase):
    """Everything that a run says and makes, against a run in plain surroundings."""

    maxDiff = 2000

    @classmethod
    def setUpClass(cls):
        cls.plain = {}
        for job in starter_jobs():
            for command in COMMANDS:
                with temporary_folder() as folder:
                    cls.plain[job, command] = said_and_made(command, job, folder)

    def each(self, jobs=None):
        for (job, command), expected in self.plain.items():
            if jobs is not None and job not in jobs:
                continue
            with temporary_folder() as folder:
                yield job, command, expected, folder

    def assert_same(self, environment=None, jobs=None, **how):
        how["env"] = environment or program.environment()
        for job, command, expected, folder in self.each(jobs):
            with self.subTest(command.name, job=job.name):
                self.assertEqual(said_and_made(command, job, folder, **how), expected)

    def test_every_plain_run_is_done(self):
        self.assertGreater(len(self.plain), len(COMMANDS) - 1)
        for (job, command), (status, said, _, files) in self.plain.items():
            self.assertEqual(status, 0, (job, command))
            self.assertTrue(said)
            self.assertEqual(bool(files), command.writes, (job, command))

    def test_from_run_to_run(self):
        self.assert_same()

    def test_odd_machines(self):
        """Each differs in all at once, to save time: which of them matters shows by hand."""
        locales = Locales()
        try:
            environments = dict(locales.environments())
            if not any(locales.works(one) for one in environments.values()):
                self.skipTest("no locale with a decimal comma: neither installed nor to be made")
            for (name, environment), zone, place in zip(environments.items(), ZONES, PLACES):
                jobs = starter_jobs() if name in LOCALES[:2] else starter_jobs()[:1]
                with self.subTest(name, zone=zone), temporary_folder() as home:
                    # No home at all, or one that is not to be written to.
                    homes = dict.fromkeys(HOMES, None if place == "/" else str(home))
                    changed = {**environment, **homes, "TZ": zone, "SOURCE_DATE_EPOCH": "86400"}
                    changed = {key: value for key, value in changed.items() if value is not None}
                    home.chmod(0o555)
                    try:
                        self.assert_same(changed, jobs, cwd=place,
                                         preexec_fn=commands.bound_by_permissions())
                        self.assertEqual(list(home.iterdir()), [], "files were left at home")
                    finally:
                        home.chmod(0o755)
        finally:
            locales.remove()

    def test_an_empty_environment(self):
        # But for what the sanitizers are told, where they are built in.
        told = {name: value for name, value in os.environ.items() if name.endswith("SAN_OPTIONS")}
        self.assert_same({"PATH": os.environ.get("PATH", ""), **told}, starter_jobs()[:1])

    def test_a_working_folder_that_is_gone(self):
        script = 'mkdir "$0/gone" && cd "$0/gone" && rmdir "$0/gone" && exec "$@"'
        for job, command, expected, folder in self.each(starter_jobs()[:1]):
            with self.subTest(command.name, job=job.name):
                out = folder / "out"
                line = command.line(job=job, out=command.out_in(out))
                done = run(["sh", "-c", script, str(folder), *line])
                said = done.stdout.replace(str(out), "OUT")
                self.assertEqual((done.returncode, said), expected[:2])
                self.assertEqual(commands.contents(out) if out.exists() else {}, expected[3])

    def test_umask(self):
        for job, command, expected, folder in self.each(starter_jobs()[:1]):
            with self.subTest(command.name, job=job.name):
                made = said_and_made(command, job, folder, preexec_fn=lambda: os.umask(0o077))
                self.assertEqual(made, expected)
                for path in (folder / "out").rglob("*"):
                    allowed = 0o600 if path.is_file() else 0o700
                    self.assertEqual(stat.S_IMODE(path.stat().st_mode), allowed, path)


class Paths(unittest.TestCase):
    # Letters of three scripts, one outside the basic plane, blanks, quotes, a line break; then a
    # name that is no UTF-8 at all.
    NAMES = ("Größe – 縫 ポーチ 👝", "it's \"here\" & there; $HOME `x`", " -dash ", "line\nbreak",
             os.fsdecode(b"latin-1 \xfc"))

    def assert_same_files(self, command, job, out, expected, **how):
        done = run(command.line(job=job, out=command.out_in(out)), errors="surrogateescape", **how)
        self.assertEqual(done.returncode, 0, done.stderr)
        found = commands.contents(pathlib.Path(how.get("cwd", ".")) / out)
        self.assertEqual(list(found.values()), list(expected.values()))
        return done

    def each(self):
        for command in WRITERS:
            with temporary_folder() as folder:
                expected = said_and_made(command, program.SAMPLE, folder)[3]
                shutil.rmtree(folder / "out")
                yield command, expected, folder

    def test_odd_names(self):
        for command, expected, folder in self.each():
            for name in self.NAMES:
                with self.subTest(command.name, name=name):
                    place = folder / name
                    place.mkdir()
                    job = place / (name + ".toml")
                    shutil.copy(program.SAMPLE, job)
                    self.assert_same_files(command, job, place / "out", expected)

    def test_odd_names_in_reports(self):
        # RFC 8259, 8.1: JSON is UTF-8, whatever the file is called.
        for name in self.NAMES:
            for words in (("size",), ("check",), ("size", "--set", "pouch.seal_width=1mm")):
                with self.subTest(name, words=words), temporary_folder() as folder:
                    job = folder / (name + ".toml")
                    shutil.copy(program.SAMPLE, job)
                    done = subprocess.run([program.PROGRAM, *words, str(job), "--json"],
                                          capture_output=True, check=False)
                    self.assertIn(done.returncode, (0, 1), done.stderr)
                    json.loads(done.stdout.decode("utf-8"))
                    done.stderr.decode("utf-8")

    def test_relative_paths(self):
        for command, expected, folder in self.each():
            (folder / "a" / "b").mkdir(parents=True)
            shutil.copy(program.SAMPLE, folder / "a" / "job.toml")
            for out in ("out", "./out/", "../out", "b/../../c/out"):
                with self.subTest(command.name, out=out):
                    self.assert_same_files(command, "job.toml", pathlib.Path(out), expected,
                                           cwd=folder / "a")

    def test_the_longest_path(self):
        for command, expected, folder in self.each():
            # As long as the longest name that is written beside a goal still allows.
            room = PATH_MAX - 1 - len(str(folder)) - len("/.pouchwright-4194304-9-1.part") - 1
            parts = ["d" * 200] * (room // 201)
            with self.subTest(command.name):
                self.assert_same_files(command, program.SAMPLE, folder.joinpath(*parts), expected)

    def test_a_path_that_is_too_long(self):
        for command, _, folder in self.each():
            for out in (folder.joinpath(*["d" * 200] * 21), folder / ("d" * 300)):
                with self.subTest(command.name, letters=len(str(out))):
                    done = run(command.line(out=command.out_in(out)))
                    self.assertEqual(done.returncode, 3, done.stderr)
                    self.assertIn("File name too long\nhint: ", done.stderr)
                    self.assertEqual(commands.contents(folder), {})

    def test_a_job_at_the_end_of_a_long_path(self):
        for command in COMMANDS:
            with self.subTest(command.name), temporary_folder() as folder:
                room = PATH_MAX - 1 - len(str(folder)) - len("/job.toml")
                place = folder.joinpath(*["d" * 200] * (room // 201))
                place.mkdir(parents=True)
                shutil.copy(program.SAMPLE, place / "job.toml")
                done = run(command.line(job=place / "job.toml", out=command.out_in(folder / "out")))
                self.assertEqual(done.returncode, 0, done.stderr)


if __name__ == "__main__":
    unittest.main()
