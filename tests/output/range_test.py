"""The reports and files of `range`, and those of `size` about what goes in.

Sizes are held to the laws by which a sheet goes round a box, worked out here from the reported
numbers alone; 1 in = 25.4 mm is NIST SP 811, appendix B.
"""

import json
import os
import pathlib
import subprocess
import tempfile
import unittest

PROGRAM = os.environ.get("POUCHWRIGHT", "pouchwright")

OPEN = """
construction = "{construction}"
units = "{units}"
ruler = "{ruler}"
[liners]
count = 3
width = "{width}"
length = "{length}"
thickness = "{thickness}"
"""
METRIC = {"units": "mm", "ruler": "3.175 mm", "width": "82.55 mm", "length": "120.65 mm",
          "thickness": "9.525 mm"}
INCHES = {"units": "in", "ruler": "1/8 in", "width": "3 1/4 in", "length": "4 3/4 in",
          "thickness": "3/8 in"}


def told(command, construction, *options, lengths=METRIC):
    """The report, and the names and sizes of the files made."""
    with tempfile.TemporaryDirectory() as folder:
        job = pathlib.Path(folder) / "job.toml"
        job.write_text(OPEN.format(construction=construction, **lengths), encoding="utf-8")
        out = ["--out", folder + "/out"] if command == "range" else []
        done = subprocess.run([PROGRAM, command, str(job), "--json", *out, *options], check=True,
                              capture_output=True, text=True, timeout=30)
        out = pathlib.Path(folder, "out")
        made = {path.relative_to(out).as_posix(): path.stat().st_size for path in out.rglob("*")
                if path.is_file()}
    return json.loads(done.stdout), made


class Range(unittest.TestCase):
    def test_every_size_carries_its_liners_and_grows(self):
        for construction in ("foldover", "gusset"):
            report, _ = told("range", construction, "--liners", "1,2,3,5,8")
            areas = []
            self.assertEqual([size["liners"] for size in report["sizes"]], [1, 2, 3, 5, 8])
            for size in report["sizes"]:
                self.assertGreaterEqual(size["capacity"]["liners"], size["liners"])
                across, height = size["content"]["width_mm"], size["content"]["height_mm"]
                self.assertGreaterEqual(size["inside_width_mm"] + 1e-9, across + height + 10)
                areas.append(size["cut"]["width_mm"] * size["cut"]["length_mm"])
            self.assertEqual(areas, sorted(areas))

    def test_a_size_of_the_range_is_the_size_alone(self):
        report, _ = told("range", "gusset", "--liners", "2,4")
        for entry in report["sizes"]:
            alone, _ = told("size", "gusset", "--liners", str(entry["liners"]))
            for key in ("cut", "finished", "spans", "seal_zones", "capacity", "water_line_mm"):
                self.assertEqual(entry[key], alone[key], key)

    def test_a_stated_width_that_cannot_take_a_count_is_an_error_with_the_least_that_can(self):
        # 6 + 5 * 3/8 + 3/8 of ease across, and two seals of 5/8: cut 9 1/2 in, finished 9. Eight
        # ask for 6 + 3 + 3/8 and the seals: cut 10 5/8, finished 10 1/8.
        liners = INCHES | {"width": "6 in", "length": "3 1/4 in"}
        for counts, finished, cut in (("1,5", "9 in", "9 1/2 in"), ("2,5,8", "10 1/8 in", "10 5/8 in")):
            with tempfile.TemporaryDirectory() as folder:
                job = pathlib.Path(folder) / "job.toml"
                job.write_text(OPEN.format(construction="foldover", **liners) + 'turn = "as given"\n',
                               encoding="utf-8")
                done = subprocess.run(
                    [PROGRAM, "range", job, "--liners", counts, "--out", folder + "/out",
                     "--set", "pouch.width='8 in'"], capture_output=True, text=True, timeout=30)
                self.assertEqual(done.returncode, 1)
                self.assertIn(f"pouch.width {finished}, which makes a panel of {cut} x", done.stderr)
                self.assertFalse(pathlib.Path(folder, "out").exists())
            size, _ = told("range", "foldover", "--liners", counts, "--set", "liners.turn='as given'",
                           "--set", f"pouch.width='{finished}'", lengths=liners)
            for entry in size["sizes"]:
                self.assertGreaterEqual(entry["capacity"]["liners"], entry["liners"])

    def test_every_document_is_there_and_prints_alone(self):
        report, made = told("range", "foldover", "--liners", "1,3")
        names = [document["name"] for document in report["documents"]]
        self.assertEqual(names, ["nested", "template-1", "slip-card-1", "shield-1", "template-3",
                                 "slip-card-3", "shield-3"])
        named = set()
        for document in report["documents"]:
            named |= {document["pdf"], document["svg"]}
            named |= {page["svg"] for page in document["pages"]}
        self.assertEqual(set(made), named)
        self.assertGreater(min(made.values()), 0)
        # What is printed together lies together; what is for all sizes lies above.
        self.assertEqual({name.split("/")[0] for name in made if "/" in name}, {"liners-1", "liners-3"})
        self.assertTrue(all(name.startswith("nested") for name in made if "/" not in name))

    def test_inches_and_millimetres_agree(self):
        # Each system has defaults of its own, so what follows from them is stated.
        same = [part for text in ("pouch.lip_drop=12.7mm", "pouch.seam_allowance=6.35mm",
                                  "pouch.seal_width=15.875mm", "liners.ease=9.525mm",
                                  "liners.overlap=31.75mm") for part in ("--set", text)]
        metric, _ = told("range", "foldover", "--liners", "1,4,6", *same)
        inches, _ = told("range", "foldover", "--liners", "1,4,6", *same, lengths=INCHES)
        for a, b in zip(metric["sizes"], inches["sizes"]):
            self.assertEqual(a["cut"], b["cut"])
            self.assertEqual(a["capacity"], b["capacity"])


class Size(unittest.TestCase):
    def test_the_chosen_columns_need_the_least_cloth(self):
        report, _ = told("size", "foldover", "--liners", "6")
        ways = report["alternatives"]
        self.assertEqual([way["columns"] for way in ways], [1, 2, 3, 6])
        chosen = [way for way in ways if way["chosen"]]
        self.assertEqual(len(chosen), 1)
        self.assertEqual(chosen[0]["cloth_mm2"], min(way["cloth_mm2"] for way in ways))
        self.assertEqual(chosen[0]["cut"], report["cut"])

    def test_limits_are_told_in_numbers(self):
        report, _ = told("size", "foldover")
        limits = {one["limit"]: one for one in report["capacity"]["limits"]}
        self.assertEqual(set(limits), {"across", "front", "depth", "flap"})
        binding = [name for name, one in limits.items() if one["short_mm"] > 0]
        self.assertEqual(binding, report["capacity"]["limited_by"])
        for one in limits.values():
            self.assertAlmostEqual(one["short_mm"],
                                   max(0, one["next_needs_mm"] - one["has_mm"]), places=6)

    def test_another_liner_of_the_same_size_is_counted_alike(self):
        report, _ = told("size", "foldover", "--other-liner", "same = 82.55 x 120.65 x 9.525 mm",
                         "--other-liner", "1x1x1in")
        same, small = report["other_liners"]
        self.assertEqual(same["name"], "same")
        self.assertEqual(same["capacity"]["liners"], report["capacity"]["liners"])
        self.assertEqual(small["width_mm"], 25.4)
        self.assertGreater(small["capacity"]["liners"], report["capacity"]["liners"])

    def test_a_remnant_is_the_panel(self):
        report, _ = told("size", "foldover", "--remnant", "30 x 45 cm")
        self.assertEqual(sorted(report["cut"].values()), [300, 450])
        self.assertEqual(report["remnant"], report["cut"])

    def test_the_liners_are_drawn(self):
        with tempfile.TemporaryDirectory() as folder:
            picture = pathlib.Path(folder) / "liners.svg"
            told("size", "foldover", "--out", str(picture))
            self.assertIn("Cut through the middle", picture.read_text(encoding="utf-8"))

    def test_what_is_carried_was_tested(self):
        report, _ = told("size", "foldover")
        water = report["water"]
        self.assertLessEqual(water["carry_level_mm"], water["test_level_mm"])
        self.assertLess(water["test_level_mm"], report["water_line_mm"])
        self.assertLess(water["test_fill_ml"], report["water_volume_ml"])


if __name__ == "__main__":
    unittest.main()
