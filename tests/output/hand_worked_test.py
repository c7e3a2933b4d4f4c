"""The reports of `size --json` for pouches that were worked by hand (see pouch_test.cc).

They are given as 190 x 150 mm, flap 70, lip drop 10, seam allowance and
needle reach 7, seal width 13; the gusset pouch with a pleat of 2 x 25 mm.
"""

import json
import os
import subprocess
import tempfile
import unittest

PROGRAM = os.environ.get("POUCHWRIGHT", "pouchwright")

SIZES = """
[pouch]
width = "190 mm"
depth = "150 mm"
flap = "70 mm"
lip_drop = "10 mm"
seam_allowance = "7 mm"
seal_width = "13 mm"
"""


def size_of(construction, *options):
    with tempfile.NamedTemporaryFile("w", suffix=".toml") as job:
        job.write(f'construction = "{construction}"\n{SIZES}')
        job.flush()
        done = subprocess.run([PROGRAM, "size", job.name, "--json", *options], check=True,
                              capture_output=True, text=True, timeout=10)
    return json.loads(done.stdout)


class HandWorked(unittest.TestCase):
    def test_fold_over(self):
        report = size_of("foldover")
        self.assertEqual(report["cut"], {"width_mm": 204, "length_mm": 360})
        self.assertEqual([(s["name"], s["from_mm"], s["to_mm"]) for s in report["spans"]],
                         [("front", 0, 140), ("back", 140, 290), ("flap", 290, 360)])
        self.assertEqual([f["at_mm"] for f in report["folds"]], [140, 290])
        self.assertEqual([(z["x0_mm"], z["x1_mm"], z["y0_mm"], z["y1_mm"])
                          for z in report["seal_zones"]], [(0, 13, 0, 280), (191, 204, 0, 280)])
        self.assertEqual([(c["layers"], c["from_mm"], c["to_mm"]) for c in report["contacts"]],
                         [(["back", "front"], 0, 140)])
        self.assertEqual(report["exposed_film"], [{"from_mm": 140, "to_mm": 220}])
        self.assertEqual((report["clear_seal_mm"], report["clear_seal_worst_mm"]), (6, 1))
        self.assertEqual((report["inside_width_mm"], report["water_line_mm"]), (178, 140))
        self.assertEqual((report["shield"]["stem_width_mm"], report["shield"]["arms_width_mm"]),
                         (178, 224))
        card = report["slip_card"]
        self.assertEqual((card["stem_width_mm"], card["stem_length_mm"],
                          card["crossbar_width_mm"]), (174, 140, 204))
        self.assertEqual(report["warnings"], [])
        self.assertIsNone(report["capacity"])

    def test_overedged_ends(self):
        report = size_of("foldover", "--set", "pouch.start_finish=overedge",
                         "--set", "pouch.end_finish=overedge")
        self.assertEqual({(z["y0_mm"], z["y1_mm"]) for z in report["seal_zones"]}, {(5, 275)})
        self.assertEqual(report["water_line_mm"], 135)
        self.assertEqual(len(report["warnings"]), 1)

    def test_gusset(self):
        report = size_of("gusset", "--set", "pouch.gusset=50mm")
        self.assertEqual([(c["layers"], c["from_mm"], c["to_mm"]) for c in report["contacts"]],
                         [(["back", "gusset-back"], 0, 25), (["gusset-front", "front"], 0, 25),
                          (["back", "front"], 25, 140)])
        self.assertEqual(report["water_line_mm"], 140)

    def test_millimetre_and_inch_jobs_agree(self):
        # 1 in = 25.4 mm exactly (NIST SP 811, app. B).
        metric = size_of("foldover", "--set", "pouch.width=190.5mm", "--set", "ruler='0.5 mm'")
        inches = size_of("foldover", "--set", "pouch.width='7 1/2 in'", "--set", "ruler='0.5 mm'")
        self.assertEqual(metric, inches)


if __name__ == "__main__":
    unittest.main()
