"""A day of several jobs: each command's answers, held to those of the jobs by themselves.

There is nothing outside to hold a day to: what is made together is held to what its jobs take apart,
counted here anew. Cut plans are looked at piece by piece (no overlap, on the cloth, all there).
"""

import json
import pathlib
import random
import shutil
import subprocess
import tempfile
import unittest

import program

DAYS = program.SOURCE / "patterns" / "days"
DAY = DAYS / "heron-quay.toml"
TITLES = {"Three liners, herons": 20, "Three liners, reeds": 10, "One liner, herons": 20}


def run(*arguments, cwd=None, code=0):
    made = subprocess.run([program.PROGRAM, *map(str, arguments)], cwd=cwd, capture_output=True,
                          text=True, check=False)
    assert made.returncode == code, (made.returncode, made.stdout, made.stderr)
    return made


def report(*arguments, cwd=None):
    return json.loads(run(*arguments, "--json", cwd=cwd).stdout)


def bought(lays):
    """Cloth off the roll, mm by material and print."""
    sums = {}
    for lay in lays:
        if not lay["remnant"]:
            key = (lay["cloth"], lay.get("print", ""))
            sums[key] = sums.get(key, 0) + lay["length_mm"]
    return sums


def areas_meet(a, b):
    return (a["x_mm"] < b["x_mm"] + b["width_mm"] and b["x_mm"] < a["x_mm"] + a["width_mm"] and
            a["y_mm"] < b["y_mm"] + b["height_mm"] and b["y_mm"] < a["y_mm"] + a["height_mm"])


class Day(unittest.TestCase):
    def setUp(self):
        held = tempfile.TemporaryDirectory()
        self.addCleanup(held.cleanup)
        self.folder = pathlib.Path(held.name)

    def check_plan(self, lays, wanted):
        """Every piece once, on its cloth, over no other."""
        counted = {}
        for lay in lays:
            pieces = [one for one in lay["pieces"] if not one.get("by_product")]
            for at, one in enumerate(pieces):
                key = (lay["cloth"], lay.get("print", ""), one.get("make"))
                counted[key] = counted.get(key, 0) + 1
                self.assertLessEqual(one["x_mm"] + one["width_mm"], lay["usable_width_mm"] + 1e-6)
                self.assertLessEqual(one["y_mm"] + one["height_mm"], lay["length_mm"] + 1e-6)
                for other in pieces[at + 1:]:
                    self.assertFalse(areas_meet(one, other), (one, other))
        self.assertEqual(counted, wanted)

    # ---- The example ----

    def test_each_cloth_is_cut_for_all_its_jobs_and_each_print_alone(self):
        lays = report("lay", DAY)["lays"]
        self.check_plan(lays, {
            **{("pul-150", "", title): count for title, count in TITLES.items()},
            ("cotton-110", "herons", "Three liners, herons"): 20,
            ("cotton-110", "herons", "One liner, herons"): 20,
            ("cotton-110", "reeds", "Three liners, reeds"): 10})
        self.assertEqual([lay["cloth"] for lay in lays if lay["remnant"]], ["cotton-110"])

    def test_the_list_adds_up(self):
        day = report("supplies", DAY)
        self.assertEqual(day["pouches"], 50)
        apart = [report("supplies", program.SAMPLE, "--set", f"batch.pouches={count}")
                 for count in (20, 10)]
        apart.append(report("supplies", DAYS / "one-liner.toml", "--set", "batch.pouches=20"))
        for stitch in day["thread"]:
            seams = sum(one["seam_m"] for each in apart for one in each["thread"]
                        if one["stitch"] == stitch["stitch"])
            # Each is told to a millimetre of thread.
            self.assertAlmostEqual(stitch["seam_m"], seams, delta=0.002)
        clips = next(line for line in day["supplies"] if line["name"] == "clips")
        self.assertGreater(clips["in_stock"], 0)

    def test_people_are_shared(self):
        day = report("schedule", DAY)
        pieces = {}
        spans = {}
        for task in day["tasks"]:
            if task["make"] is not None:
                key = (task["make"], task["operation"])
                pieces[key] = pieces.get(key, 0) + task["pieces"]
            spans.setdefault(task["helper"], []).append((task["start_min"], task["end_min"]))
        for title, count in TITLES.items():
            done = [sum_ for (make, operation), sum_ in pieces.items()
                    if make == title and operation == "sew-sides"]
            self.assertEqual(done, [count], (title, sorted(pieces)))
            bundles = {task["bundle"] for task in day["tasks"] if task["make"] == title}
            self.assertEqual(min(bundles), 1)
        for helper, own in spans.items():
            own.sort()
            for before, after in zip(own, own[1:]):
                self.assertLessEqual(before[1], after[0] + 1e-6, helper)
        # Both prints of the outer are opened.
        once = [task["operation"] for task in day["tasks"]
                if task["make"] is None and task["operation"] != "open-outer"]
        self.assertEqual(len(once), len(set(once)))
        self.assertIn("warm-iron", once)

    def test_the_packet_has_common_pages_once_and_each_jobs_own(self):
        made = report("packet", DAY, "--out", "day.pdf", cwd=self.folder)
        names = [one["name"] for one in made["sections"]]
        self.assertEqual(len(names), len(set(names)))
        for common in ("day", "cautions", "supplies", "schedule", "lay", "record", "printing"):
            self.assertIn(common, names)
        for title in TITLES:
            own = [one["name"].split("/")[1] for one in made["sections"] if one.get("make") == title]
            # Another print of a pouch has that one's template, cards and steps.
            pages = ("template", "mask", "steps", "first") if title != "Three liners, reeds" else ()
            self.assertEqual(set(own), {"overview", "checks", "home", *pages}, title)
        pages = sum(one["pages"] for one in made["sections"])
        told = subprocess.run(["pdfinfo", self.folder / "day.pdf"], capture_output=True, text=True,
                              check=True).stdout
        self.assertIn(f"Pages:           {pages}\n", told)
        text = subprocess.run(["pdftotext", "-layout", self.folder / "day.pdf", "-"],
                              capture_output=True, text=True, check=True).stdout
        for page in text.split("\f")[:-1]:
            self.assertNotRegex(page, r"00000|\[[a-z]+[-.][a-z-]+")
        for title in TITLES:
            first = next(one["first_page"] for one in made["sections"] if one.get("make") == title)
            self.assertIn(f"from page {first} on", text.split("\f")[0])
        cells = [page["cell"] for one in made["documents"] for page in one["pages"]
                 if page["window"] is not None]
        self.assertEqual(len(set(cells)), len(cells))

    def test_every_other_command_takes_it(self):
        for command in ("check", "size", "steps", "savings"):
            with self.subTest(command):
                made = report(command, DAY)
                self.assertEqual([one["make"] for one in made["makes"]], list(TITLES))
        for command in ("template", "mask"):
            made = report(command, DAY, "--out", self.folder)
            for one in made["makes"]:
                for document in one["documents"]:
                    self.assertTrue((self.folder / one["folder"] / document["pdf"]).is_file())

    def test_a_make_is_as_its_job_alone(self):
        alone = report("size", program.SAMPLE)
        inside = report("size", DAY)["makes"][0]
        for key in ("cut", "finished", "capacity", "water_line_mm", "seal_zones"):
            self.assertEqual(inside[key], alone[key], key)

    # ---- Cloth ----

    def test_what_is_cut_together_takes_no_more_than_apart(self):
        dice = random.Random(23)
        for number in range(12):
            names = []
            for index in range(dice.randint(2, 3)):
                width = dice.randrange(140, 300, 5)
                depth = dice.randrange(120, 260, 5)
                name = f"job-{number}-{index}.toml"
                (self.folder / name).write_text(
                    f'construction = "foldover"\n[pouch]\nwidth = "{width} mm"\ndepth = "{depth} mm"\n'
                    f'[batch]\npouches = {dice.randint(3, 30)}\n', encoding="utf-8")
                names.append(name)
            day = self.folder / f"day-{number}.toml"
            day.write_text("".join(f'[[make]]\njob = "{name}"\n' for name in names), encoding="utf-8")
            apart = {}
            for name in names:
                for key, length in bought(report("lay", self.folder / name)["lays"]).items():
                    apart[key] = apart.get(key, 0) + length
            for key, length in bought(report("lay", day)["lays"]).items():
                self.assertLessEqual(length, apart[key] + 1e-6, (number, key))

    # ---- Making one ----

    def test_new_writes_a_day_that_can_be_read(self):
        shutil.copy(program.SAMPLE, self.folder)
        shutil.copy(DAYS / "one-liner.toml", self.folder)
        run("new", "--day", "one-liner.toml * 6", "--day", "heron-quay.toml", "--title", "Sunday",
            "--out", "sunday.toml", cwd=self.folder, code=1)
        self.assertFalse((self.folder / "sunday.toml").exists())  # they count different helpers
        (self.folder / "two.toml").write_text(
            (self.folder / "one-liner.toml").read_text(encoding="utf-8").replace("count = 1", "count = 2"),
            encoding="utf-8")
        run("new", "--day", "one-liner.toml * 6", "--day", "two.toml * 4", "--title", "Sunday",
            "--out", "sunday.toml", cwd=self.folder)
        self.assertEqual(report("supplies", self.folder / "sunday.toml")["pouches"], 10)
        run("new", "--day", "one-liner.toml * 0", cwd=self.folder, code=2)

    def test_a_range_becomes_a_day_of_the_same_sizes(self):
        shutil.copy(DAYS / "one-liner.toml", self.folder / "job.toml")
        sizes = report("range", "job.toml", "--liners", "1,2,4", "--day", "day.toml", "--out", "prints",
                       cwd=self.folder)["sizes"]
        made = report("size", self.folder / "day.toml")["makes"]
        self.assertEqual([one["cut"] for one in made], [one["cut"] for one in sizes])

    def test_a_record_knows_the_makes(self):
        (self.folder / "record.csv").write_text(
            "date,make,bundle,operation,helper,minutes,pouches,leaks,place\n"
            "2026-05-02,\"Three liners, herons\",1,test,A,,5,1,left corner\n"
            "2026-05-02,\"One liner, herons\",1,test,A,,5,0,\n"
            "2026-05-02,\"No such pouch\",1,test,A,,5,5,\n", encoding="utf-8")
        made = {one["make"]: one for one in
                report("record", DAY, self.folder / "record.csv")["makes"]}
        self.assertEqual(made["Three liners, herons"]["leaked"], 1)
        self.assertEqual(made["One liner, herons"]["tested"], 5)
        self.assertEqual(made["One liner, herons"]["leaked"], 0)
        self.assertEqual([row["line"] for row in made["One liner, herons"]["rows_left_out"]], [4])

    def test_same_day_same_bytes(self):
        for name in ("a.pdf", "b.pdf"):
            run("packet", DAY, "--out", name, "--quiet", cwd=self.folder)
        self.assertEqual((self.folder / "a.pdf").read_bytes(), (self.folder / "b.pdf").read_bytes())


if __name__ == "__main__":
    unittest.main()
