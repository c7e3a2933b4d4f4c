"""The `new` command: starter jobs that `check` accepts, by options and at a terminal."""

import json
import os
import pathlib
import pty
import re
import select
import subprocess
import tempfile
import tomllib
import unittest

PROGRAM = os.environ.get("POUCHWRIGHT", "pouchwright")
USUAL = "new-pouch.toml"


def run(folder, *arguments, command="new"):
    return subprocess.run([PROGRAM, command, *arguments], capture_output=True, text=True,
                          stdin=subprocess.DEVNULL, cwd=folder, timeout=60)


def lists():
    return json.loads(run(".", "--json", command="list").stdout)


def typed(folder, *arguments, replies):
    """Runs `new` at a terminal of its own (pty(7)) and types a reply after each question, which
    ends in `] `; returns the status and all that was shown."""
    pid, terminal = pty.fork()
    if pid == 0:
        os.chdir(folder)
        os.execv(PROGRAM, [PROGRAM, "new", *arguments])
    shown, pending = "", list(replies)
    while select.select([terminal], [], [], 60)[0]:
        try:
            piece = os.read(terminal, 4096).decode()
        except OSError:  # the other end is closed (EIO)
            break
        if not piece:
            break
        shown += piece
        if shown.endswith("] ") and pending:
            os.write(terminal, pending.pop(0).encode())
    os.close(terminal)  # a program that still asks is hung up on
    status = os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])
    return status, shown.replace("\r\n", "\n")


class New(unittest.TestCase):
    def setUp(self):
        self.kept = tempfile.TemporaryDirectory()
        self.addCleanup(self.kept.cleanup)
        self.folder = pathlib.Path(self.kept.name)

    def job(self, name=USUAL):
        return tomllib.loads((self.folder / name).read_text(encoding="utf-8"))

    def test_every_construction_gives_a_job_that_check_accepts(self):
        names = [one["name"] for one in lists()["constructions"]]
        self.assertGreaterEqual(len(names), 2)
        for name in names:
            for arguments in ((), ("--units", "in", "--paper", "Letter"),
                              ("--outer", "cotton-110"), ("--width", "200 mm")):
                with self.subTest(name=name, arguments=arguments):
                    made = run(self.folder, "--construction", name, "--force", *arguments)
                    self.assertEqual(made.returncode, 0, made.stderr)
                    checked = run(self.folder, USUAL, command="check")
                    self.assertEqual(checked.returncode, 0, checked.stderr)
                    self.assertNotIn("frays", checked.stderr)
                    self.assertEqual(self.job()["construction"], name)

    def test_the_usual_job_has_no_warnings(self):
        for name in ("foldover", "gusset"):
            made = run(self.folder, "--construction", name, "--force")
            self.assertEqual((made.returncode, made.stderr), (0, ""))

    def test_every_size_of_a_construction_stands_with_its_meaning(self):
        for one in lists()["constructions"]:
            text = run(self.folder, "--construction", one["name"], "--out", "-").stdout
            for size in one["sizes"]:
                self.assertRegex(text, rf'(?m)^# {size["name"]} = "[^"]+" +# \S')
                if size["meaning"]:
                    self.assertIn(size["meaning"], text)

    def test_only_sizes_that_the_construction_has_are_said_to_be_worked_out(self):
        # Worked out by hand from "width, depth, flap and an opened floor": a gusset opens a floor.
        derived = {"width", "depth", "flap", "gusset"}
        for one in lists()["constructions"]:
            with self.subTest(name=one["name"]):
                text = run(self.folder, "--construction", one["name"], "--out", "-").stdout
                lead = text[text.index("# Finished sizes"):text.index("[pouch]")]
                named = re.search(r"worked out from \[liners\]: (.*)\.", lead.replace("\n#", ""))
                self.assertEqual(set(named[1].split(", ")),
                                 derived & {size["name"] for size in one["sizes"]})

    def test_a_comment_shows_what_holds_without_it(self):
        """Sizes, tolerances, ease, margins: taking the # away changes nothing of the report."""
        for one in lists()["constructions"]:
            arguments = ("--construction", one["name"], "--width", "190 mm")
            text = run(self.folder, *arguments, "--out", "-").stdout
            with self.subTest(name=one["name"]):
                before = json.loads(run(self.folder, *arguments, "--force", "--json").stdout)
                examples = r"(?m)^# (?!printed_square|table_length|outer|dots|steam|seconds|count|" \
                           r"length|thickness|columns|width|ease|overlap|turn|fold_at|kind|top_bar|" \
                           r"material|name|aql)([a-z_]+ = )"
                bare = re.sub(r"(?m)^# (?=\[stitches\]$)", "", text)
                (self.folder / "bare.toml").write_text(re.sub(examples, r"\1", bare))
                done = run(self.folder, "bare.toml", "--json", command="size")
                self.assertEqual(done.returncode, 0, done.stderr)
                after = json.loads(done.stdout)
                for key in ("cut", "finished", "clear_seal_worst_mm", "water_line_mm", "spans"):
                    self.assertEqual(before[key], after[key])

    def test_answers_stand_in_the_job(self):
        made = run(self.folder, "--construction", "gusset", "--liners", "2", "--liner",
                   "3 x 5 x 1/2 in", "--laminate", "pul-152", "--outer", "cotton-107", "--pouches",
                   "12", "--helpers", "3", "--title", 'Heron "Quay" \\ two', "--units", "in",
                   "--paper", "letter", "--printed-square", "49.5x50.2", "-o", "own.toml")
        self.assertEqual(made.returncode, 0, made.stderr)
        self.assertNotIn("frays", made.stderr)
        self.assertEqual(made.stdout, "wrote own.toml\n")
        job = self.job("own.toml")
        self.assertEqual(job["title"], 'Heron "Quay" \\ two')
        self.assertEqual(job["units"], "in")
        self.assertEqual(job["liners"], {"count": 2, "width": "3 in", "length": "5 in",
                                         "thickness": "1/2 in"})
        self.assertEqual(job["materials"], {"laminate": "pul-152", "outer": "cotton-107"})
        # Woven cotton frays: both ends are finished, so that no warning is left.
        self.assertEqual(job["pouch"], {"start_finish": "overedge", "end_finish": "overedge"})
        self.assertEqual(job["batch"], {"pouches": 12, "helpers": 3})
        self.assertEqual(job["paper"], {"size": "Letter", "printed_square": "49.5 x 50.2 mm"})

    def test_sizes_instead_of_liners(self):
        made = run(self.folder, "--width", "20 cm", "--depth", "18 cm", "--liner", "80x120x9mm")
        self.assertEqual(made.returncode, 0, made.stderr)
        job = self.job()
        self.assertEqual(job["pouch"], {"width": "200 mm", "depth": "180 mm"})
        self.assertNotIn("count", job["liners"])

    def test_every_line_of_the_file_fits_its_comments(self):
        text = run(self.folder, "--construction", "foldover", "--out", "-").stdout
        for line in text.splitlines():
            self.assertEqual(line, line.rstrip())
            self.assertLessEqual(len(line), 160, line)
        self.assertTrue(text.endswith("\n"))

    def test_standard_output_and_the_report(self):
        shown = run(self.folder, "--construction", "foldover", "--out", "-")
        self.assertEqual(list(self.folder.iterdir()), [])
        report = json.loads(run(self.folder, "--construction", "foldover", "--json").stdout)
        self.assertEqual(report["job"], shown.stdout)
        self.assertEqual(report["errors"], [])
        self.assertEqual((self.folder / USUAL).read_text(encoding="utf-8"), shown.stdout)

    def test_a_file_that_is_there_is_kept(self):
        (self.folder / USUAL).write_text("mine\n")
        made = run(self.folder, "--construction", "foldover")
        self.assertEqual(made.returncode, 3)
        self.assertIn("--force", made.stderr)
        self.assertEqual((self.folder / USUAL).read_text(), "mine\n")
        self.assertEqual(run(self.folder, "--construction", "foldover", "--force").returncode, 0)
        self.assertEqual(self.job()["construction"], "foldover")

    def test_wrong_command_lines(self):
        for arguments, said in (((), "--construction"), (("--paper", "A4"), "--construction"),
                                (("--construction", "foldovr"), "foldover"),
                                (("--liners", "-1"), "0 to 1000"),
                                (("--liners", "1001"), "0 to 1000"),
                                (("--from", "cupboard"), "liners,pouch"),
                                (("--panel", "204 mm"), "204 x 360 mm"),
                                (("--panel", "0 x 360 mm"), "above zero"),
                                (("--panel", "204 x 360 mm", "--fold-at", "six"), "6 in, 12 in"),
                                (("--card", "172"), "204 x 360 mm"),
                                (("--card-kind", "mask"), "shield"),
                                (("--have", "ten yards"), "60 in x 10 yd"),
                                (("--have", "outer = 1 x 2 m"), "--outer"),
                                (("--machine", "laser"), "overedger"),
                                (("--knife", "-1 mm"), "2 mm"),
                                (("--plies", "3"), "folded 4"),
                                (("--liner", "80 x 120"), "80 x 120 x 9 mm"),
                                (("--liner", "80 x 120 x 0 mm"), "above zero"),
                                (("--width", "-3"), "above zero"),
                                (("--laminate", "cotton-110"), "pul-150"),
                                (("--outer", "pul-150"), "cotton-110"),
                                (("--pouches", "0"), "1 to 2000"),
                                (("--helpers", "many"), "1 to 100"), (("--title", ""), "title"),
                                (("--liners", "1", "--paper", "B9"), "A4"),
                                (("--liners", "1", "--set", "pouch.width=1"), "--set")):
            with self.subTest(arguments=arguments):
                made = run(self.folder, *arguments)
                self.assertEqual((made.returncode, made.stdout), (2, ""))
                self.assertIn(said, made.stderr)
                self.assertEqual(list(self.folder.iterdir()), [])

    def test_a_job_that_check_refuses_is_not_written(self):
        # A panel of 3 m fits no cloth of 150 cm either way.
        made = run(self.folder, "--width", "3 m", "--depth", "3 m")
        self.assertEqual(made.returncode, 1)
        self.assertRegex(made.stderr, rf"(?m)^{USUAL}:.*error: ")
        self.assertEqual(list(self.folder.iterdir()), [])

    def test_enter_takes_what_stands_in_brackets(self):
        status, shown = typed(self.folder, replies=["\n"] * 14)
        self.assertEqual(status, 0, shown)
        self.assertEqual(self.job(), tomllib.loads(
            run(self.folder, "--construction", "foldover", "--out", "-").stdout))

    def test_questions_take_numbers_names_and_second_tries(self):
        names = [one["name"] for one in lists()["constructions"]]
        status, shown = typed(self.folder, "--paper", "A3", replies=[
            "neither\n", "liners\n", f"{names.index('gusset') + 1}\n", "in\n", "0\n", "8 in\n", "7\n",
            "pul-152\n", "\n", "\n", "\n", "\n", "20\n", "2\n", "Heron Quay floor pouch\n"])
        self.assertEqual(status, 0, shown)
        self.assertIn("give one of: ", shown)
        job = self.job()
        self.assertEqual(job["construction"], "gusset")
        self.assertEqual(job["pouch"], {"width": "8 in", "depth": "7 in"})
        self.assertEqual(job["materials"], {"laminate": "pul-152"})
        self.assertEqual(job["batch"], {"pouches": 20, "helpers": 2})
        self.assertEqual(job["paper"]["size"], "A3")
        self.assertNotIn("liners", job)

    def test_a_panel_that_is_cut_is_asked_for_with_its_folds(self):
        status, shown = typed(self.folder, "--units", "in", "--paper", "Letter", replies=[
            "panel\n", "\n", "8 1/2 x 15\n", "6, 12\n", "\n", "\n", "\n", "zigzag\n", "20\n", "2\n", "\n"])
        self.assertEqual(status, 0, shown)
        self.assertNotIn("liner,", shown)
        job = self.job()
        self.assertEqual(job["panel"],
                         {"width": "8 1/2 in", "length": "15 in", "fold_at": ["6 in", "12 in"]})
        self.assertEqual(job["stitches"], {"sides": "zigzag"})
        size = json.loads(run(self.folder, USUAL, "--json", command="size").stdout)
        self.assertEqual([fold["at_mm"] for fold in size["folds"]], [152.4, 304.8])

    def test_a_pouch_larger_than_is_likely_is_asked_back(self):
        # Her panel typed as a finished pouch: 2 x 15 in and the flap are over 50 cm of panel.
        status, shown = typed(self.folder, "--units", "in", "--paper", "Letter", replies=[
            "pouch\n", "\n", "8 1/2\n", "15\n", "\n", "8\n", "6\n", *["\n"] * 8])
        self.assertEqual(status, 0, shown)
        self.assertRegex(shown, r"The panel would be .* Is it meant so\?")
        self.assertEqual(self.job()["pouch"], {"width": "8 in", "depth": "6 in"})
        # Nobody can be asked where options answer: it is written, and told of.
        made = run(self.folder, "--width", "8 1/2 in", "--depth", "15 in", "--force")
        self.assertEqual(made.returncode, 0)
        self.assertIn("The panel would be", made.stderr)
        made = run(self.folder, "--liners", "2", "--liner", "15 x 120 x 9 mm", "--force")
        self.assertIn("liners.width is 15 mm, which is unusually small", made.stderr)

    def test_every_way_in_by_options(self):
        ways = {
            "liners": ("--liners", "3", "--liner", "80 x 120 x 9 mm"),
            "pouch": ("--width", "190 mm", "--depth", "150 mm"),
            "panel": ("--panel", "204 x 360 mm", "--fold-at", "140 mm, 290 mm"),
            "card": ("--card", "172 x 150 mm", "--card-kind", "slip"),
            "cloth": ("--have", "laminate = 150 cm x 3 m", "--have", "laminate = 60 x 40 cm"),
        }
        for way, answers in ways.items():
            texts = []
            for more in ((), ("--from", way)):
                with self.subTest(way=way, more=more):
                    made = run(self.folder, *answers, *more, "--force")
                    self.assertEqual(made.returncode, 0, made.stderr)
                    texts.append((self.folder / USUAL).read_text())
                    checked = run(self.folder, USUAL, command="check")
                    self.assertEqual(checked.returncode, 0, checked.stderr)
            self.assertEqual(texts[0], texts[1])
        job = self.job()
        self.assertEqual(job["stock"]["cloth"],
                         [{"material": "laminate", "width": "1500 mm", "length": "3000 mm"},
                          {"material": "laminate", "width": "600 mm", "length": "400 mm"}])
        given = run(self.folder, "check.toml", command="check")
        self.assertEqual(given.returncode, 3)
        # As many pouches as that cloth yields.
        asked = json.loads(run(self.folder, USUAL, "--have", "laminate = 1 x 1 mm", "--json",
                               command="lay").stdout)
        self.assertEqual(job["batch"]["pouches"], asked["have"]["pouches"])

    def test_machines_knife_and_cloth_are_answers(self):
        made = run(self.folder, "--liners", "2", "--outer", "cotton-110", "--machine", "straight",
                   "--plies", "folded 2", "-o", "straight.toml")
        self.assertEqual(made.returncode, 0, made.stderr)
        job = self.job("straight.toml")
        self.assertEqual(job["stitches"], {"sides": "straight"})
        self.assertEqual(job["pouch"], {"start_finish": "turned", "end_finish": "turned"})
        self.assertEqual(job["lay"]["plies"], "folded 2")
        made = run(self.folder, "--liners", "2", "--knife", "2 mm", "-o", "knife.toml")
        self.assertEqual(self.job("knife.toml")["pouch"], {"knife": "2 mm"})

    def test_the_country_suggests_units_and_paper(self):
        for country, units, paper in (("en_US.UTF-8", "in", "Letter"), ("en_GB.UTF-8", "mm", "A4"),
                                      ("C", "mm", "A4")):
            made = subprocess.run([PROGRAM, "new", "--liners", "2", "--force"], cwd=self.folder,
                                  capture_output=True, env={**os.environ, "LC_ALL": country},
                                  stdin=subprocess.DEVNULL, timeout=60, check=True)
            self.assertEqual(made.returncode, 0)
            self.assertEqual((self.job()["units"], self.job()["paper"]["size"]), (units, paper))

    def test_answers_that_end_early_write_nothing(self):
        status, shown = typed(self.folder, replies=["\n", "\x04"])
        self.assertEqual(status, 2, shown)
        self.assertEqual(list(self.folder.iterdir()), [])


class Materials(unittest.TestCase):
    def test_the_list_tells_all_that_a_plan_depends_on(self):
        text = run(".", command="list").stdout
        for one in lists()["materials"]:
            self.assertIn(one["turn"], ("either", "along", "across"))
            for key in ("shrink_length", "shrink_width"):
                self.assertTrue(0 <= one[key] < 0.5, one)
            self.assertEqual(one.get("film") in ("one", "both"), one["kind"] == "laminate")
            line = next(line for line in text.splitlines() if line.startswith(f"  {one['name']}: "))
            self.assertIn("does not fray" if not one["frays"] else ", frays", line)
            self.assertIn(f"{one['shrink_length'] * 100:g} % of its length", line)
            self.assertEqual("both faces" in line, one.get("film") == "both")


if __name__ == "__main__":
    unittest.main()
