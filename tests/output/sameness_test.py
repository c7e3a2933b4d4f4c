"""The same job gives the same bytes, wherever, whenever and by whomever it is run."""

import pathlib
import subprocess
import sys
import unittest

import program

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "faults"))

import commands  # noqa: E402  (all commands, all starter jobs)
import odd_machines  # noqa: E402

SURROUNDINGS = {
    "again": {},
    "without HOME": {name: None for name in ("HOME", "XDG_CACHE_HOME", "XDG_CONFIG_HOME")},
    # All but the messages: language_test.py asks for other words.
    "in another country": {"LC_ALL": None, "LANG": "de_DE.UTF-8", "LC_MESSAGES": "C"},
    "in another time zone": {"TZ": "Pacific/Chatham"},
    "with SOURCE_DATE_EPOCH": {"SOURCE_DATE_EPOCH": "1"},
    "with odd fonts set up": {"FONTCONFIG_FILE": "/nowhere/fonts.conf"},
}


def locale_is_missing(changes):
    """A locale that this machine has not would be the C locale again, and prove nothing."""
    wanted = changes.get("LANG", "C").lower().replace("-", "")
    known = subprocess.run(["locale", "-a"], check=True, capture_output=True, text=True).stdout
    return wanted not in [name.lower().replace("-", "") for name in known.split()]


def bytes_in(folder):
    return {file.name: file.read_bytes() for file in sorted(pathlib.Path(folder).iterdir())}


class Sameness(unittest.TestCase):
    def test_surroundings_change_nothing(self):
        for job in (program.JOBS[0], program.JOBS[-1]):
            for command in program.COMMANDS:
                made = program.made_by(job, command)
                first = bytes_in(made.folder)
                self.assertTrue(first)
                for name, changes in SURROUNDINGS.items():
                    with self.subTest(name, command=command), program.temporary_folder() as folder:
                        if locale_is_missing(changes):
                            self.skipTest("the locale de_DE.UTF-8 is not installed")
                        again = program.run(command, program.SAMPLE, folder / "out", job.options,
                                            env=program.environment(**changes), cwd=folder)
                        self.assertEqual(bytes_in(folder / "out"), first)
                        self.assertEqual(again.report, made.report)

    def test_every_report_of_every_starter_job(self):
        # With all that the command writes besides; tests/faults/surroundings_test.py does the same
        # for what is said to people.
        locales = odd_machines.Locales()
        self.addCleanup(locales.remove)
        odd = {name: one for name, one in locales.environments() if locales.works(one)}
        if not odd:
            self.skipTest("no locale with a decimal comma: neither installed nor to be made")
        for number, job in enumerate(commands.starter_jobs()):
            name = sorted(odd)[number % len(odd)]
            elsewhere = {"env": {**odd[name], "TZ": "Pacific/Chatham"}, "cwd": "/"}
            for command in commands.COMMANDS:
                with self.subTest(command.name, job=job.name, locale=name):
                    first, again = (self.reported(command, job, **how) for how in ({}, elsewhere))
                    self.assertEqual(again, first)

    def reported(self, command, job, **how):
        """(report, files) of a run into a folder of its own."""
        with program.temporary_folder() as folder:
            line = command.line(job=job, out=command.out_in(folder / "out"), further=("--json",))
            done = commands.run(line, **how)
            self.assertEqual(done.returncode, 0, done.stderr)
            self.assertTrue(done.stdout.startswith("{"), done.stdout[:80])
            return done.stdout.replace(str(folder), ""), commands.contents(folder)

    def test_a_relative_path_from_another_folder_changes_nothing(self):
        made = program.made_by(program.JOBS[0], "template")
        with program.temporary_folder() as folder:
            again = program.run("template", pathlib.Path(program.SAMPLE.parent.name,
                                                         program.SAMPLE.name),
                                folder, cwd=program.SOURCE)
            self.assertEqual(bytes_in(folder), bytes_in(made.folder))
            self.assertEqual(again.report, made.report)

    def test_files_and_reports_name_no_folder_of_this_machine(self):
        # Design, section 10: no report or output file holds an absolute path.
        for command in program.COMMANDS:
            made = program.made_by(program.JOBS[0], command)
            for name, data in bytes_in(made.folder).items():
                for folder in (program.SOURCE, program.SOURCE.parent, made.folder):
                    if len(str(folder)) > 1:
                        self.assertNotIn(str(folder).encode() + b"/", data, name)
            self.assertNotIn(str(program.SOURCE), str(made.report))
            self.assertNotIn(str(made.folder), str(made.report))

    def test_another_job_gives_other_bytes(self):
        made = program.made_by(program.JOBS[0], "template")
        with program.temporary_folder() as folder:
            program.run("template", program.SAMPLE, folder, ("--set", "pouch.flap=75mm"))
            self.assertNotEqual(bytes_in(folder)["template.pdf"],
                                bytes_in(made.folder)["template.pdf"])


if __name__ == "__main__":
    unittest.main()
