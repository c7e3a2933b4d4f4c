"""The `schedule` command: its report as somebody else would check it, its files, its words."""

import csv
import json
import os
import pathlib
import re
import subprocess
import tempfile
import tomllib
import unittest

PROGRAM = os.environ.get("POUCHWRIGHT", "pouchwright")
SOURCE = pathlib.Path(os.environ.get("POUCHWRIGHT_SOURCE",
                                     pathlib.Path(__file__).resolve().parents[2]))
SAMPLE = str(SOURCE / "patterns" / "heron-quay.toml")
MM_PER_PT = 25.4 / 72


def run(*arguments):
    return subprocess.run([PROGRAM, "schedule", *arguments], capture_output=True, text=True,
                          timeout=60)


def report(*arguments):
    done = run(*arguments, "--json")
    if done.returncode:
        raise AssertionError(done.stderr)
    return json.loads(done.stdout)


def job_of(construction, *lines):
    file = tempfile.NamedTemporaryFile("w", suffix=".toml", delete=False)
    with file:
        file.write(f'construction = "{construction}"\n' + "\n".join(lines) + "\n")
    return file.name


def hold(test, made, pouches, stations):
    """Nobody and no station in two places, nothing before what it needs, all pouches through all."""
    tasks = made["tasks"]
    test.assertEqual(max(t["end_min"] for t in tasks), made["makespan_min"])
    test.assertLessEqual(made["bound_min"], made["makespan_min"])
    test.assertEqual([t["start_min"] for t in tasks], sorted(t["start_min"] for t in tasks))
    for key in ("helper", "station"):
        for name in {t[key] for t in tasks} - {"hands"}:
            own = [t for t in tasks if t[key] == name]
            for a, b in zip(own, own[1:]):
                test.assertLessEqual(a["end_min"], b["start_min"] + 1e-9, (a, b))
    test.assertLessEqual({t["helper"] for t in tasks}, set(range(1, made["helpers"] + 1)))
    for name, count in stations.items():
        numbers = {t["station"] for t in tasks if t["station"].startswith(name)}
        test.assertLessEqual(len(numbers), count, numbers)
    done = {}
    for task in tasks:
        done[task["operation"], task["bundle"]] = task
    once = {one["operation"] for step in made["steps"] if step["once"] for one in step["operations"]}
    for pause in made["breaks"]:
        for task in tasks:
            test.assertFalse(task["start_min"] < pause["to_min"] - 1e-9
                             and task["end_min"] > pause["from_min"] + 1e-9, (task, pause))
    for operation in {t["operation"] for t in tasks}:
        own = [t for t in tasks if t["operation"] == operation]
        # Of the first pouches one for each who presses, at an iron each.
        wanted = pouches if operation != "fill-first" else min(stations["iron"], made["helpers"])
        if operation in once:
            wanted = 1
        test.assertEqual(sum(t["pieces"] for t in own), wanted, operation)
        test.assertEqual(len({t["bundle"] for t in own}), len(own))
    for load in made["loads"]:
        own = sum(t["end_min"] - t["start_min"] for t in tasks if t["helper"] == load["helper"])
        test.assertAlmostEqual(load["work_min"], own)
    return done


class Schedule(unittest.TestCase):
    def test_the_sample_by_the_report_alone(self):
        made = report(SAMPLE)
        hold(self, made, 40, {"machine": 1, "iron": 1, "table": 1})
        self.assertEqual(made["helpers"], 4)
        self.assertEqual(made["bottleneck"], "machine")

    def test_operations_are_the_construction_s_in_their_order(self):
        for name, extra in (("foldover", ()), ("gusset", ())):
            with open(SOURCE / "patterns" / f"{name}.toml", "rb") as file:
                operations = tomllib.load(file)["operation"]
            job = job_of(name, "[batch]", "pouches = 12", "helpers = 3", *extra)
            made = report(job, "--set", "materials.outer=cotton-110",
                          "--set", "pouch.start_finish=overedge",
                          "--set", "pouch.end_finish=overedge", "--set", "pouch.needle_reach=8mm",
                          "--set", "pouch.seal_width=15mm")
            done = hold(self, made, 12, {"machine": 1, "iron": 1})
            ids = {operation for operation, _ in done}
            for operation in operations:
                self.assertIn(operation["id"], ids)
                for need in operation.get("needs", ()):
                    for bundle in (1, 2, 3):
                        # Only the first bundle has a first pouch; the others pass the filling by.
                        if bundle > 1 and "fill-first" in (need, operation["id"]):
                            continue
                        self.assertLessEqual(
                            done[need, bundle]["end_min"],
                            done[operation["id"], bundle]["start_min"] + 1e-9)
            work = tomllib.loads((SOURCE / "shared" / "work.toml").read_text())["work"]
            self.assertGreaterEqual(
                done["fold-flap", 1]["start_min"] + 1e-9,
                done["fill-first", 1]["end_min"] + work["fill first"]["waits"])
            for derived in ("cut-laminate", "cut-outer", "finish-start-snip-apart",
                            "sew-sides-snip-apart"):
                self.assertIn(derived, ids)
            os.unlink(job)

    def test_pictures_are_the_numbers_of_the_steps_pages(self):
        # The other witness is the command `steps`, for each construction's own job.
        jobs = sorted((SOURCE / "patterns").glob("heron-quay*.toml"))
        self.assertEqual(len(jobs), 7)
        for job in jobs:
            done = subprocess.run([PROGRAM, "steps", str(job), "--json"], capture_output=True,
                                  text=True, timeout=60)
            steps = json.loads(done.stdout)["steps"]
            number = {one: i for i, step in enumerate(steps, 1) for one in step["operations"]}
            made = report(str(job))
            planned = [one for step in made["steps"] for one in step["operations"]]
            shown = {one["operation"]: one["picture"] for one in planned}
            for operation, picture in shown.items():
                with self.subTest(job=job.name, operation=operation):
                    # What the work table adds is shown with the operation that it follows.
                    shown_with = [one for one in number
                                  if operation == one or operation.startswith(one + "-")]
                    if not shown_with:
                        # What is done once, cutting and marking.
                        self.assertRegex(operation, "^(cut|open|thread)-|^mark$|iron|cards")
                        self.assertIsNone(picture)
                    else:
                        self.assertEqual(picture, number[max(shown_with, key=len)])
            self.assertEqual({t["operation"]: t["picture"] for t in made["tasks"]}, shown)
            # The table says the same: each letter has the numbers of its operations, in order.
            table = run(str(job)).stdout
            for step in made["steps"]:
                line = re.search(rf"(?m)^  {step['step']}  (.*)$", table)[1]
                said = [int(one) for one in re.findall(r"\(step (\d+)\)", line)]
                own = [one["picture"] for one in step["operations"] if one["picture"]]
                self.assertEqual(said, list(dict.fromkeys(own)), line)

    def test_the_station_follows_the_stitch(self):
        # ISO 4915: class 500 are the overedges. The other witness for stitches is `supplies`.
        for extra in ((), ("--set", "batch.overedge_machines=1"),
                      ("--set", "batch.overedge_machines=2", "--set", "stitches.sides=301")):
            for job in sorted((SOURCE / "patterns").glob("heron-quay*.toml")):
                done = subprocess.run([PROGRAM, "supplies", str(job), *extra, "--json"],
                                      capture_output=True, text=True, timeout=60)
                stitch = {seam["operation"]: seam["stitch"]
                          for seam in json.loads(done.stdout)["seams"]}
                for step in report(str(job), *extra)["steps"]:
                    for one in step["operations"]:
                        if one["kind"] not in ("sew", "finish", "hem"):
                            continue
                        overedge = extra and stitch[one["operation"]].startswith("5")
                        with self.subTest(job=job.name, extra=extra, operation=one["operation"]):
                            self.assertEqual(step["station"], "overedge" if overedge else "machine")

    def test_a_machine_that_has_to_overedge_is_not_called_a_sewing_machine(self):
        said = run(SAMPLE).stdout
        self.assertIn("The serger (overlocker) and the sewing machine of the list take turns here", said)
        self.assertRegex(said, r"sew both sides \(step \d+\): machine,")
        said = run(SAMPLE, "--set", "batch.overedge_machines=1").stdout
        self.assertRegex(said, r"sew both sides \(step \d+\): serger \(overlocker\),")
        self.assertNotIn("No overedge machine is counted", said)

    def test_nobody_reads_an_id(self):
        for job in sorted((SOURCE / "patterns").glob("heron-quay*.toml")):
            made = report(str(job))
            ids = {one["operation"] for step in made["steps"] for one in step["operations"]}
            for command in ("schedule", "supplies"):
                said = subprocess.run([PROGRAM, command, str(job)], capture_output=True, text=True,
                                      timeout=60).stdout
                for one in ids:
                    if "-" in one:
                        self.assertNotIn(one, said, (job.name, command))

    def test_the_first_pouches_are_those_that_the_job_asks_for(self):
        for extra, firsts in ((("batch.first_pouch='none'",), 0), (("batch.first_pouch='one'",), 1),
                              ((), 1), (("batch.irons=3",), 3),
                              (("batch.irons=3", "batch.first_pouch='one'"), 1)):
            sets = [word for one in extra for word in ("--set", one)]
            own = [t for t in report(SAMPLE, *sets)["tasks"] if t["operation"] == "fill-first"]
            self.assertEqual([t["pieces"] for t in own], [1] * firsts, extra)
            self.assertEqual(sorted(t["bundle"] for t in own), list(range(1, firsts + 1)))
            said = run(SAMPLE, *sets).stdout
            self.assertEqual(said.count("until it is dry, 30 min"), 1 if firsts else 0)

    def test_a_stitch_without_a_chain_has_no_tails_in_plan_list_and_steps(self):
        # ISO 4915: 504 is an overedge, whose threads run on; 301 and 304 are sewn back and forth
        # (common practice, no source).
        def said(command, *sets):
            return subprocess.run([PROGRAM, command, SAMPLE, *sets], capture_output=True, text=True,
                                  timeout=60).stdout
        none = ("--set", "stitches.sides=304", "--set", "stitches.ends=304")
        for sets, chains in (((), True), (none, False)):
            for command in ("schedule", "supplies", "steps"):
                with self.subTest(sets=sets, command=command):
                    text = said(command, *sets)
                    self.assertEqual("tails" in text, chains)
                    if command != "supplies":
                        self.assertEqual("chain" in text or "snip apart" in text, chains)
        # The tails are zigzagged, so at the sewing machine, not by hand.
        plan = run(SAMPLE, "--set", "batch.overedge_machines=1").stdout
        self.assertRegex(plan, r"secure the tails \(step \d+\): sewing machine,")

    def test_what_is_always_so_is_told_where_a_job_is_looked_through(self):
        # The sample's outer frays, so its ends are overedged, which lowers the water line.
        for command, told in (("check", True), ("size", True), ("schedule", False),
                              ("supplies", False), ("lay", False)):
            done = subprocess.run([PROGRAM, command, SAMPLE], capture_output=True, text=True,
                                  timeout=60)
            self.assertEqual("note: the finish of the start" in done.stderr, told, command)
            self.assertNotIn("left unfinished", done.stderr)

    def test_letters_of_work_are_no_names_of_sheets(self):
        for job in sorted((SOURCE / "patterns").glob("heron-quay*.toml")):
            letters = {step["step"] for step in report(str(job))["steps"]}
            cells = set()
            with tempfile.TemporaryDirectory() as folder:
                for command in ("template", "mask"):
                    done = subprocess.run([PROGRAM, command, str(job), "--json", "--out", folder],
                                          capture_output=True, text=True, timeout=60)
                    for document in json.loads(done.stdout)["documents"]:
                        cells |= {page["cell"][0] for page in document["pages"] if page["cell"]}
            self.assertTrue(cells)
            self.assertTrue(letters.isdisjoint(cells), (job.name, letters & cells))

    def test_what_a_job_skips_is_not_planned(self):
        job = job_of("foldover", "[batch]", "pouches = 5")
        ids = {t["operation"] for t in report(job)["tasks"]}
        self.assertTrue({"pair", "finish-start", "finish-end", "cut-outer"}.isdisjoint(ids))
        self.assertIn("card-in", ids)
        ids = {t["operation"] for t in report(job, "--set", "pouch.cards=on_top")["tasks"]}
        self.assertTrue({"card-in", "card-out"}.isdisjoint(ids))
        os.unlink(job)

    def test_two_people_make_about_twenty_in_about_an_hour(self):
        # Common practice, no source; for fold-over pouches. About: within a third.
        job = job_of("foldover", "[batch]", "pouches = 20", "helpers = 2")
        with_outer = report(job, "--set", "materials.outer=cotton-110",
                            "--set", "pouch.start_finish=overedge",
                            "--set", "pouch.end_finish=overedge", "--set", "pouch.needle_reach=8mm",
                            "--set", "pouch.seal_width=15mm")
        # What is done once a day comes on top, and so do marking and changing from work to work.
        once = {one["operation"] for step in with_outer["steps"] if step["once"]
                for one in step["operations"]}
        work = sum(t["end_min"] - t["start_min"] for t in with_outer["tasks"]
                   if t["operation"] not in once)
        self.assertGreater(work / 2, 40)
        self.assertLess(work / 2, 80)
        # Without an outer there is less to do.
        self.assertLess(report(job)["makespan_min"], with_outer["makespan_min"])
        os.unlink(job)

    def test_one_more_of_each_is_what_a_run_with_one_more_says(self):
        plan = ("--set", "batch.plan=any")
        made = report(SAMPLE, *plan)
        more = {one["one_more"]: one for one in made["what_if"]}
        for key, path, now in (("helper", "helpers", 4), ("machine", "machines", 1),
                               ("iron", "irons", 1)):
            again = report(SAMPLE, *plan, "--set", f"batch.{path}={now + 1}")
            # The run of its own may not know that the plan at hand would do as well.
            self.assertAlmostEqual(more[key]["makespan_min"],
                                   min(again["makespan_min"], made["makespan_min"]))
            self.assertAlmostEqual(more[key]["saves_min"],
                                   made["makespan_min"] - more[key]["makespan_min"])

    def test_more_helpers_never_take_longer(self):
        for plan, more in (("any", 1), ("stations", 1.05)):
            last = None
            for helpers in range(1, 13, 1 if plan == "any" else 3):
                made = report(SAMPLE, "--set", f"batch.helpers={helpers}", "--set",
                              f"batch.plan={plan}", "--set", "batch.machines=2", "--set",
                              "batch.irons=2")
                hold(self, made, 40, {"machine": 2, "iron": 2})
                if last is not None:
                    # Stations are sought, not proved: what chance brings is a few minutes.
                    self.assertLessEqual(made["makespan_min"], last * more)
                last = made["makespan_min"]

    def test_a_hundred_pouches_and_five_helpers_have_a_plan_that_people_can_keep(self):
        made = report(SAMPLE, "--set", "batch.pouches=100", "--set", "batch.helpers=5")
        hold(self, made, 100, {"machine": 1, "iron": 1, "table": 1})
        self.assertLessEqual(made["changes"], 1)
        # Set-ups at the machine are in no bound; when this was written: 0.129.
        self.assertLessEqual(made["gap_fraction"], 0.14)
        self.assertEqual(made["bottleneck"], "machine")
        self.assertAlmostEqual(made["gap_fraction"],
                               1 - made["bound_min"] / made["makespan_min"], places=6)
        # Each task lies in a stretch of its helper that names it; nobody has more than two.
        for task in made["tasks"]:
            self.assertTrue(any(one["helper"] == task["helper"]
                                and task["operation"] in one["operations"]
                                and one["from_min"] <= task["start_min"] + 1e-9
                                and task["end_min"] <= one["to_min"] + 1e-9
                                for one in made["stations"]), task)
        per = [sum(one["helper"] == helper for one in made["stations"]) for helper in range(1, 6)]
        self.assertEqual(max(per) - 1, made["changes"])
        # Nobody's work lies apart in the line, and nobody has water beside the iron.
        for one in made["stations"]:
            self.assertFalse(one["gaps"] or one["water_and_iron"], one)
            wet = {"fill-first", "test", "test-look-for-drops"} & set(one["operations"])
            self.assertFalse(wet and "press-sides" in one["operations"], one)
        said = run(SAMPLE, "--set", "batch.pouches=100", "--set", "batch.helpers=5").stdout
        # Above a tenth the page says where the time goes, to the last minute.
        self.assertEqual("Where the time goes: " in said, made["gap_fraction"] > 0.1)
        self.assertAlmostEqual(sum(value for key, value in made["fullest"].items() if key != "by"),
                               made["makespan_min"])
        for helper in range(1, 6):
            self.assertRegex(said, rf"(?m)^  helper {helper}, 0:\d\d to \d:\d\d: .*bundle")

    def test_who_has_to_do_everything_is_told_that_it_is_no_station(self):
        alone = ("--set", "batch.helpers=1", "--set", "batch.plan=stations", "--set",
                 "batch.changes=0")
        self.assertTrue(report(SAMPLE, *alone)["stations"][0]["water_and_iron"])
        self.assertIn("water and iron apart: helper 1 has both", run(SAMPLE, *alone).stdout)
        self.assertNotIn("water and iron apart", run(SAMPLE).stdout)

    def test_what_is_done_once_is_no_minute_of_a_pouch(self):
        said = run(SAMPLE).stdout
        for step in report(SAMPLE)["steps"]:
            line = next(l for l in said.splitlines() if l.startswith(f"  {step['step']}  "))
            self.assertEqual(", once: " in line, step["once"], line)

    def test_a_line_can_be_read_aloud(self):
        for job in sorted((SOURCE / "patterns").glob("heron-quay*.toml")):
            said = run(str(job), "--set", "batch.helpers=4").stdout
            lines = [line for line in said.splitlines() if re.match(r"  helper \d, \d+:\d\d to ", line)]
            self.assertGreaterEqual(len(lines), 2)
            for line in lines:
                with self.subTest(job=job.name, line=line):
                    work = line.split(": ", 1)[1].split("Then ")[-1]
                    # A few kinds of work, each once; two who share all that comes last have the most.
                    kinds = re.split(r", | and ", work.split(": bundle")[0])
                    self.assertLessEqual(len(kinds), 9)
                    self.assertEqual(len(kinds), len(set(kinds)))

    def test_skills_names_speeds_and_breaks(self):
        job = job_of("foldover", "[batch]", "pouches = 20", "helpers = 3", "break_every = 40",
                     "break = 7", "[[batch.helper]]", 'name = "Ada"', 'can = ["press", "cut"]',
                     "[[batch.helper]]", 'name = "Bo"', "speed = 0.5")
        made = report(job)
        hold(self, made, 20, {"machine": 1, "iron": 1})
        own = {t["operation"] for t in made["tasks"] if t["helper"] == 1}
        self.assertTrue(own)
        self.assertTrue(own <= {"cut-laminate", "open-laminate", "warm-iron", "iron-trial",
                                "trace-cards", "card-in", "fold-front", "press-sides", "card-out",
                                "look"}, own)
        self.assertEqual(made["breaks"][0], {"from_min": 40, "to_min": 47})
        self.assertIn("Ada", run(job).stdout)
        os.unlink(job)

    def test_seconds_of_the_iron_trial_hold(self):
        short = report(SAMPLE, "--set", "iron={ dots = 2, seconds = 5 }")
        long = report(SAMPLE, "--set", "iron={ dots = 2, seconds = 45 }")

        def pressing(made):
            return sum(t["end_min"] - t["start_min"] for t in made["tasks"]
                       if t["operation"] == "press-sides")
        # Two sides of less than 20 cm, 40 s more each, 11 % allowance, 40 pouches.
        self.assertAlmostEqual(pressing(long) - pressing(short), 40 * 2 * 40 / 60 * 1.11, places=2)
        self.assertEqual(long["bottleneck"], "iron")

    def test_files_by_their_endings(self):
        with tempfile.TemporaryDirectory() as folder:
            folder = pathlib.Path(folder)
            for ending in ("pdf", "svg", "csv", "json"):
                done = run(SAMPLE, "--out", str(folder / f"plan.{ending}"))
                self.assertEqual(done.returncode, 0, done.stderr)
            made = json.loads((folder / "plan.json").read_text())
            self.assertEqual(made["makespan_min"], report(SAMPLE)["makespan_min"])
            with open(folder / "plan.csv", newline="") as file:
                rows = list(csv.DictReader(file))
            self.assertEqual(len(rows), len(made["tasks"]))
            for row, task in zip(rows, made["tasks"]):
                self.assertEqual(row["operation"], task["operation"])
                self.assertAlmostEqual(float(row["end_min"]), task["end_min"], delta=0.0051)
            self.assertIn("<svg", (folder / "plan.svg").read_text()[:400])
            self.words_of_the_chart(folder / "plan.pdf")

    def words_of_the_chart(self, pdf):
        text = subprocess.run(["pdftotext", "-bbox", str(pdf), "-"], capture_output=True, text=True,
                              check=True).stdout
        words = re.findall(r'yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">([^<]*)<', text)
        self.assertIn("helper", [word for _, _, word in words])
        # 8 pt is the em; poppler's boxes are as high as the font's ascent and descent, over the em.
        for top, bottom, word in words:
            self.assertGreaterEqual(float(bottom) - float(top), 8, word)

    def test_the_table_says_who_does_what_when(self):
        said = run(SAMPLE).stdout
        self.assertRegex(said, r"Finished after 2 h \d+ min; no plan takes less than")
        self.assertRegex(said, r"(?m)^helper 4, (\d h )?\d+ min of work:$")
        self.assertRegex(said, r"(?m)^  0:00-0:\d\d  K open and fold the laminate, bundle")
        self.assertRegex(said, r"one more machine: (finished after .* sooner|saves nothing)")

    def test_more_helpers_than_work(self):
        job = job_of("foldover", "[batch]", "pouches = 3", "helpers = 50")
        made = report(job)
        hold(self, made, 3, {"machine": 1, "iron": 1})
        self.assertEqual(made["bottleneck"], "chain")
        self.assertRegex(run(job).stdout, r"\d+ helpers have nothing to do")
        os.unlink(job)


if __name__ == "__main__":
    unittest.main()
