"""The `supplies` command: what is bought, what it costs, and where the figures come from."""

import csv
import io
import json
import os
import pathlib
import subprocess
import tempfile
import unittest

PROGRAM = os.environ.get("POUCHWRIGHT", "pouchwright")
SOURCE = pathlib.Path(os.environ.get("POUCHWRIGHT_SOURCE",
                                     pathlib.Path(__file__).resolve().parents[2]))
SAMPLE = str(SOURCE / "patterns" / "heron-quay.toml")
PRICES = ("--set", "prices.laminate=14.5", "--set", "prices.outer=9", "--set", "prices.cone=4.2",
          "--set", 'batch.currency="EUR"')


def run(*arguments):
    return subprocess.run([PROGRAM, *arguments], capture_output=True, text=True, timeout=20)


def report(command, *arguments, job=SAMPLE):
    done = run(command, job, *arguments, "--json", "--quiet")
    if done.returncode:
        raise AssertionError(done.stderr)
    return json.loads(done.stdout)


def written(ending, *arguments):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / ("list" + ending)
        done = run("supplies", SAMPLE, *arguments, "--out", str(path), "--quiet")
        if done.returncode:
            raise AssertionError(done.stderr)
        return path.read_bytes()


def line(made, name):
    return next(one for one in made["supplies"] if one["name"] == name)


class Supplies(unittest.TestCase):
    def test_cloth_is_what_the_cut_plan_takes(self):
        made = report("supplies")
        lays = {lay["material"]: lay for lay in report("lay")["lays"]}
        # Shops cut to the next 10 cm (the job's default step). The laminate does not shrink, the
        # outer loses 4 % of its length before the wash (ISO 5077).
        for name, lost in (("laminate", 0), ("outer", 0.04)):
            lay = lays[name]
            table = lay["length_mm"] + sum(one["length_mm"] for one in lay["extra"])
            bought = line(made, name)["amount"] * 1000
            self.assertGreaterEqual(bought, table / (1 - lost) - 1e-6)
            self.assertLess(bought, table / (1 - lost) + 100)
            self.assertIn("squaring", [one["what"] for one in lay["extra"]])

    def test_thread_by_hand(self):
        # The sample: sides of 165 mm twice, ends of 204 mm twice (190 + 2 * 7),
        # 40 pouches. 14 m a metre: Carr & Latham, quoted in course notes; 15 % waste: textile
        # calculation handbook pages; 25 mm of chain between pieces: common practice, no source.
        seams = 2 * 40 * 165 + 2 * 40 * 204
        chains = 25 * (81 + 41 + 41)
        overedge = next(one for one in report("supplies")["thread"] if one["stitch"] == "504")
        self.assertAlmostEqual(overedge["seam_m"], seams / 1000)
        self.assertAlmostEqual(overedge["thread_m"], (seams + chains) / 1000 * 14 * 1.15, places=2)
        self.assertGreaterEqual(overedge["packages"], 3)

    def test_cost_is_the_sum_of_its_lines_and_says_what_it_lacks(self):
        made = report("supplies", *PRICES)
        cost = made["cost"]
        self.assertEqual(cost["currency"], "EUR")
        self.assertAlmostEqual(cost["known"], sum(one["cost"] or 0 for one in made["supplies"]),
                               places=3)
        self.assertAlmostEqual(cost["known_per_pouch"] * made["pouches"], cost["known"], places=2)
        without = {one["name"] for one in made["supplies"] if one["cost"] is None}
        self.assertEqual(set(cost["without"]), without)
        self.assertIn("spool", without)
        self.assertNotIn("cone", without)

    def test_a_snap_is_one_set_and_tape_is_sold_by_length(self):
        # Common practice, no source: snaps are sold as sets of both halves, tape by the metre.
        free = {"job": str(SOURCE / "patterns" / "heron-quay-freeflap.toml")}
        snaps = line(report("supplies", **free), "snap")
        made = report("supplies", **free)
        # For the spare pouches as well: the first one, and 3 % that are spoiled.
        self.assertEqual(made["spare_pouches"], {"first": 1, "spoiled": round(0.03 * made["pouches"])})
        pouches = made["pouches"] + sum(made["spare_pouches"].values())
        self.assertEqual((snaps["amount"], snaps["unit"]), (pouches, "piece"))
        tape = line(report("supplies", "--set", 'pouch.closure="hook-and-loop"', "--set",
                           "pouch.closure_width=50mm", **free), "hook-and-loop")
        self.assertEqual(tape["unit"], "m")
        self.assertAlmostEqual(tape["amount"], pouches * 0.05)
        rolled = report("supplies", job=str(SOURCE / "patterns" / "heron-quay-rolltop.toml"))
        self.assertEqual(line(rolled, "snap")["amount"],
                         rolled["pouches"] + sum(rolled["spare_pouches"].values()))
        self.assertEqual(rolled["thread_not_counted"], [])

    def test_every_card_is_counted_for_every_iron_that_is_held(self):
        double = str(SOURCE / "patterns" / "heron-quay-double.toml")
        made = report("supplies", "--set", 'pouch.cards="both"', "--set", "batch.irons=2",
                      "--set", "batch.helpers=3", job=double)
        self.assertEqual(made["card_sets"], 2)
        slips = [one for one in made["cards"] if one["card"] == "slip_card"]
        # Two pockets are pressed at once: a slip card in each, for each iron.
        self.assertEqual(sum(one["cards"] for one in slips), 4)
        self.assertEqual(sum(one["cards"] for one in made["cards"] if one["card"] == "shield"), 2)

    def test_stated_stitches_change_the_thread(self):
        made = report("supplies", "--set", "stitches.sides=301")
        seams = {one["operation"]: one for one in made["seams"]}
        self.assertEqual(seams["sew-sides"]["stitch"], "301")
        # A lockstitch leaves no chain to secure.
        self.assertNotIn("tails", seams)
        locked = next(one for one in made["thread"] if one["stitch"] == "301")
        # 40 pouches, two sides of 165 mm, 10 mm sewn twice more at each end, and no chain between them;
        # 2.5 m a metre: Carr & Latham, quoted in course notes; 15 % waste, as above.
        sewn = 80 * (165 + 4 * 10) / 1000
        self.assertAlmostEqual(locked["thread_m"], sewn * 2.5 * 1.15, places=2)

    def test_pages_are_those_of_the_template_and_the_cards(self):
        # Both hold the fold gauge, which is printed once.
        pages = 0
        with tempfile.TemporaryDirectory() as folder:
            for command in ("template", "mask"):
                made = report(command, "--out", folder)
                pages += max(page["page"] for one in made["documents"] for page in one["pages"]
                             if command == "mask" or one["name"] != "gauge")
        self.assertEqual(line(report("supplies"), "page")["amount"], pages)

    def test_the_spreadsheet_has_the_report_lines(self):
        made = report("supplies", *PRICES)
        rows = list(csv.DictReader(io.StringIO(written(".csv", *PRICES).decode())))
        self.assertEqual([row["name"] for row in rows], [one["name"] for one in made["supplies"]])
        for row, one in zip(rows, made["supplies"]):
            self.assertAlmostEqual(float(row["amount"]), one["amount"])
            self.assertEqual(row["cost"] == "", one["cost"] is None)
            self.assertEqual(row["currency"], "EUR")
        self.assertEqual(json.loads(written(".json", *PRICES))["supplies"], made["supplies"])

    def test_pages_and_pictures_hold_the_list(self):
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / "list.pdf"
            path.write_bytes(written(".pdf"))
            text = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True,
                                  text=True, check=True).stdout
        self.assertIn("150 cm PUL", text)
        self.assertIn("machine needles", text)
        self.assertIn("rule of thumb", text)
        self.assertIn(b"<svg", written(".svg"))


if __name__ == "__main__":
    unittest.main()
