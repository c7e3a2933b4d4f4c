"""A group's file: the same job says the same with it as with its values in the job.

There is nothing outside to hold this to: the two ways to say a thing are held to each other.
"""

import json
import os
import pathlib
import shutil
import subprocess
import tempfile
import unittest

import program

GROUP = program.SOURCE / "patterns" / "groups" / "heron-quay.toml"
JOB = """construction = "foldover"
[liners]
count = 3
width = "80 mm"
length = "120 mm"
thickness = "9 mm"
"""


class Group(unittest.TestCase):
    def setUp(self):
        held = tempfile.TemporaryDirectory()
        self.addCleanup(held.cleanup)
        self.folder = pathlib.Path(held.name)
        (self.folder / "job.toml").write_text(JOB, encoding="utf-8")
        shutil.copy(GROUP, self.folder / "our-group.toml")

    def run_in(self, *arguments, group=None):
        environment = {**os.environ}
        environment.pop("POUCHWRIGHT_GROUP", None)
        if group is not None:
            environment["POUCHWRIGHT_GROUP"] = group
        return subprocess.run([program.PROGRAM, *arguments], cwd=self.folder, env=environment,
                              capture_output=True, text=True, check=False)

    def reports(self, command, **options):
        made = self.run_in(command, "job.toml", "--json", **options)
        self.assertEqual(made.returncode, 0, made.stderr)
        return json.loads(made.stdout)

    def test_named_by_the_job_or_by_the_environment_it_says_the_same(self):
        plain = {command: self.reports(command) for command in ("supplies", "schedule", "lay")}
        by_environment = {command: self.reports(command, group="our-group.toml") for command in plain}
        (self.folder / "job.toml").write_text(
            JOB.replace("\n", '\ngroup = "./our-group.toml"\n', 1), encoding="utf-8")
        for command, report in by_environment.items():
            with self.subTest(command):
                self.assertEqual(self.reports(command), report)
                self.assertNotEqual(report, plain[command])

    def test_its_values_in_the_job_say_the_same(self):
        of_group = {command: self.reports(command, group="our-group.toml")
                    for command in ("supplies", "schedule", "lay", "check")}
        head, tables = GROUP.read_text(encoding="utf-8").split("[batch]", 1)
        (self.folder / "job.toml").write_text(f"{head}{JOB}[batch]{tables}", encoding="utf-8")
        for command, report in of_group.items():
            with self.subTest(command):
                self.assertEqual(self.reports(command), report)

    def test_what_comes_from_it_is_told(self):
        made = self.run_in("check", "job.toml", "--explain", "--json", group="our-group.toml")
        told = {one["value"]: one for one in json.loads(made.stdout)["explained"]}
        self.assertEqual((told["batch.helpers"]["from"], told["batch.helpers"]["is"]), ("group", "5"))
        self.assertEqual(told["liners.count"]["from"], "job")
        said = self.run_in("check", "job.toml", "--explain", group="our-group.toml").stdout
        line = GROUP.read_text(encoding="utf-8").splitlines().index("helpers = 5") + 1
        self.assertIn(f"our-group.toml, line {line}", said)

    def test_one_that_is_not_there_is_told_and_makes_nothing(self):
        made = self.run_in("packet", "job.toml", "--out", "day.pdf", group="nowhere.toml")
        self.assertEqual(made.returncode, 3)
        self.assertIn("nowhere.toml", made.stderr)
        self.assertIn("POUCHWRIGHT_GROUP", made.stderr)
        self.assertFalse((self.folder / "day.pdf").exists())

    def test_the_pouch_on_paper_says_that_its_group_is_a_file_beside_it(self):
        made = self.run_in("packet", "job.toml", "--only", "job", "--out", "job.pdf", "--quiet",
                           group="our-group.toml")
        self.assertEqual(made.returncode, 0, made.stderr)
        words = subprocess.run(["pdftotext", self.folder / "job.pdf", "-"], capture_output=True,
                               text=True, check=True).stdout
        self.assertIn("our-group.toml", words)


if __name__ == "__main__":
    unittest.main()
