"""What `size --json` says of every construction in patterns/, against numbers worked by hand here.

Each hand-worked number stands beside the sum it comes from. For what the printed template comes to when
it is folded see printed_lines_test.py.
"""

import json
import pathlib
import subprocess
import tempfile
import unittest

from program import PROGRAM, as_typed

# 0.35 mm, the thickness that shared/materials.toml gives the laminate; it bends at every fold.
THICKNESS = 0.35
HALF_PI = 3.141592653589793 / 2


def job_text(construction, pouch="", tables=""):
    return f'construction = "{construction}"\nruler = "0.5 mm"\n[pouch]\n{pouch}\n{tables}\n'


def size_of(construction, pouch="", tables="", options=()):
    with tempfile.NamedTemporaryFile("w", suffix=".toml") as job:
        job.write(job_text(construction, pouch, tables))
        job.flush()
        done = subprocess.run([PROGRAM, "size", job.name, "--json", *options], check=True,
                              capture_output=True, text=True, timeout=10)
    return json.loads(done.stdout)


def panels(report):
    return {p["name"]: (p["width_mm"], p["length_mm"]) for p in report["panels"]}


def spans(report, panel=0):
    return [(s["name"], s["from_mm"], s["to_mm"]) for s in report["panels"][panel]["spans"]]


def folds(report):
    return [fold["at_mm"] for fold in report["folds"]]


def contacts(report):
    return [(*c["layers"], c["from_mm"], c["to_mm"]) for c in report["contacts"]]


def zones(report, panel):
    return sorted((z["x0_mm"], z["x1_mm"], z["y0_mm"], z["y1_mm"])
                  for z in report["seal_zones"] if z["panel"] == panel)


def seams(report):
    return [(s["edge"], s["layers"], s["from_mm"], s["to_mm"]) for s in report["layers_at_seams"]]


def compartments(report):
    return [(c["name"], c["holds"], c["lip_mm"], c["water_line_mm"])
            for c in report["compartments"]]


def stems(report):
    """Width of a stem, and the heights where it begins and ends."""
    return [(c["card"], c["stem_width_mm"], c["outline"][0][1],
             c["outline"][0][1] + c["stem_length_mm"]) for c in report["cards"]]


def attachments(report):
    return [(a["name"], a["span"], a["y0_mm"], a["y1_mm"], a["x_mm"], a["through"])
            for a in report["attachments"]]


class HandWorked(unittest.TestCase):
    """190 mm wide and 7 mm of allowance on each side: 204 mm to cut; a seal of 16 mm on each side
    leaves 172 mm inside, and a slip card 2 mm narrower on each side 168 mm."""

    def hold_width(self, report):
        self.assertEqual(report["cut"]["width_mm"], 204)
        self.assertEqual(report["inside_width_mm"], 172)
        self.assertEqual((report["clear_seal_mm"], report["clear_seal_worst_mm"]), (9, 4))
        self.assertEqual(report["errors"], [])

    def test_sleeve(self):
        report = size_of("sleeve")
        self.hold_width(report)
        # No lip drop and no flap: two spans of 200.
        self.assertEqual(spans(report), [("front", 0, 200), ("back", 200, 400)])
        self.assertEqual(folds(report), [200])
        self.assertEqual(contacts(report), [("back", "front", 0, 200)])
        self.assertEqual(zones(report, "panel"), [(0, 16, 0, 400), (188, 204, 0, 400)])
        self.assertEqual(compartments(report), [("pocket", "water", 200, 200)])
        # Nothing of the film lies bare; the shield's arms begin 5 mm below the lip.
        self.assertEqual(report["exposed_film"], [])
        self.assertEqual(stems(report), [("slip card", 168, 0, 200), ("shield", 172, 0, 195)])
        self.assertEqual(seams(report), [("sides", 2, 0, 200)])

    def test_two_pieces(self):
        report = size_of("twopiece")
        self.hold_width(report)
        # Back 150 + 7 at the bottom, flap 70: 227. Front 150 - 10 + 7 = 147.
        self.assertEqual(panels(report), {"back-panel": (204, 227), "front-panel": (204, 147)})
        self.assertEqual(spans(report), [("back", 0, 157), ("flap", 157, 227)])
        self.assertEqual(spans(report, 1), [("front", 0, 147)])
        self.assertEqual(folds(report), [157])
        # Heights count from the seam line, 7 mm above the raw ends; the lip at 147 - 7.
        self.assertEqual(contacts(report), [("back", "front", -7, 140)])
        self.assertEqual(compartments(report), [("pocket", "water", 140, 140)])
        self.assertIn("lip", report["water_line_because"])
        # The back's raw end is its start, the front's its end. The band there is 16 mm high.
        self.assertEqual(zones(report, "back-panel"),
                         [(0, 16, 0, 147), (0, 204, 0, 16), (188, 204, 0, 147)])
        self.assertEqual(zones(report, "front-panel"),
                         [(0, 16, 0, 147), (0, 204, 131, 147), (188, 204, 0, 147)])
        # Inside the band at the bottom: 16 - 7 = 9, and 2 mm of play for the slip card.
        self.assertEqual(stems(report), [("slip card", 168, 11, 140), ("shield", 172, 9, 135)])
        # The flap hangs from 150 down to 80, over the front's 140.
        self.assertEqual(seams(report), [("bottom", 2, -7, 0), ("sides", 2, -7, 80),
                                         ("sides", 3, 80, 140), ("sides", 2, 140, 150)])

    def test_two_pieces_with_an_overedged_lip(self):
        # The needles reach 5 mm into the front below its raw edge at 140.
        report = size_of("twopiece", 'start_finish = "overedge"')
        self.assertEqual(compartments(report), [("pocket", "water", 140, 135)])
        self.assertIn("finish", report["water_line_because"])
        self.assertEqual(len(report["warnings"]), 1)
        # The front's needles, 5 mm from its start, keep the iron off the back as well: 147 - 5.
        self.assertEqual(zones(report, "front-panel")[0], (0, 16, 5, 147))
        self.assertEqual(zones(report, "back-panel")[0], (0, 16, 0, 142))

    def test_free_flap_snapped_through_the_film(self):
        report = size_of("freeflap")
        self.hold_width(report)
        # Front 140, back 150, flap 80, and the hem 10 that the flap's end turns in: 380.
        self.assertEqual(spans(report), [("front", 0, 140), ("back", 140, 290),
                                         ("flap", 290, 370), ("end-hem", 370, 380)])
        self.assertEqual(folds(report), [140, 290, 370])
        self.assertEqual(zones(report, "panel"), [(0, 16, 0, 280), (188, 204, 0, 280)])
        # On the flap 20 from its end, 370 - 20. Closed, that comes 80 - 20 below the flap fold,
        # which is 10 above the lip: 50 from the front's start. In the middle: 204 / 2.
        self.assertEqual(attachments(report),
                         [("snap on the flap", "flap", 350, 350, [102], "film"),
                          ("snap on the front", "front", 50, 50, [102], "film")])
        # The snap sits at 140 - 50 = 90, its hole has a radius of 3.
        self.assertEqual(compartments(report), [("pocket", "water", 140, 87)])
        self.assertIn("snap on the front", report["water_line_because"])
        self.assertEqual(len(report["warnings"]), 1)
        self.assertIn("87 mm, not 140 mm", report["warnings"][0]["message"])
        self.assertEqual(stems(report), [("slip card", 168, 0, 140), ("shield", 172, 0, 135)])

    def test_free_flap_snapped_to_the_outer(self):
        outer = '[materials]\nouter = "cotton-110"'
        report = size_of("freeflap", 'closure_through = "outer"\nstart_finish = "overedge"', outer)
        # The flap's half sits on its film side, above all water, and goes through both cloths.
        self.assertEqual({a["name"]: a["through"] for a in report["attachments"]},
                         {"snap on the front": "outer", "snap on the flap": "film"})
        # No hole in the film; only the overedge of the lip, 5 below 140.
        self.assertEqual(report["water_line_mm"], 135)
        # Every layer of panel is laminate and outer.
        self.assertEqual(seams(report)[0], ("sides", 4, 0, 140))

    def test_free_flap_with_tape(self):
        report = size_of("freeflap", 'closure = "hook-and-loop"')
        # 20 mm high round the same middles, 350 and 50; sewn into the film 60 from the lip.
        self.assertEqual([a[2:4] for a in attachments(report)], [(340, 360), (40, 60)])
        # Its lowest stitch is 140 - 60 above the bottom; the needle's hole is taken as 1 nm.
        self.assertAlmostEqual(report["water_line_mm"], 80, places=5)

    def test_a_closure_meets_when_rounding_makes_the_flap_longer(self):
        # 140.3 + 150.3 + 80 and a hem of 10 are 380.6, cut 381 (ruler 0.5): the flap is 80.4. Its
        # snap, 20 from the hemmed end, comes down to 150.3 - 60.4 = 89.9; the lip stands at 140.3.
        report = size_of("freeflap", 'depth = "150.3 mm"')
        self.assertEqual([(a[1], a[2]) for a in attachments(report)],
                         [("flap", 290.6 + 60.4), ("front", round(140.3 - 89.9, 6))])

    def test_double(self):
        report = size_of("double")
        self.hold_width(report)
        # Depth 160, each mouth 10 below the next: 140, 150, 150, 160, and the flap 80.
        self.assertEqual(spans(report),
                         [("wet-front", 0, 140), ("wet-back", 140, 290), ("dry-back", 290, 440),
                          ("dry-front", 440, 600), ("flap", 600, 680)])
        self.assertEqual(folds(report), [140, 290, 440, 600])
        self.assertEqual(contacts(report), [("dry-front", "dry-back", 0, 150),
                                            ("wet-back", "wet-front", 0, 140)])
        # 140 on either side of the fold at 140; 150 on either side of that at 440.
        self.assertEqual(zones(report, "panel"), [(0, 16, 0, 280), (0, 16, 290, 590),
                                                  (188, 204, 0, 280), (188, 204, 290, 590)])
        self.assertEqual(compartments(report), [("wet pocket", "water", 140, 140),
                                                ("dry pocket", "dry", 150, 150)])
        self.assertEqual([s for s in stems(report) if s[0] == "slip card"],
                         [("slip card", 168, 0, 140), ("slip card", 168, 0, 150)])
        # Four layers; five where the flap hangs, 160 - 80, down from the fold; the flap misses
        # nothing above the lip; over the divider only back and flap.
        self.assertEqual(seams(report), [("sides", 4, 0, 80), ("sides", 5, 80, 140),
                                         ("sides", 4, 140, 150), ("sides", 2, 150, 160)])

    def test_rolled_mouth(self):
        for rolls in range(2, 7):
            with self.subTest(rolls=rolls):
                self.hold_rolls(rolls, size_of("rolltop", f"rolls = {rolls}"))

    def hold_rolls(self, rolls, report):
        self.hold_width(report)
        # Front and back of 200, on each side `rolls` turns of 25, the first 5 shorter; and the
        # turn of cloth, rounded up together to half a millimetre.
        flat = 2 * (200 + 25 * rolls - 5)
        self.assertEqual(len(folds(report)), 2 * rolls + 1)
        length = flat + report["turn_of_cloth_mm"]
        self.assertTrue(length <= report["cut"]["length_mm"] < length + 0.5)
        numbered = [f"back-roll-{n}" for n in range(2, rolls + 1)]
        self.assertEqual([s[0] for s in spans(report)],
                         ["front-mouth", *(n.replace("back", "front") for n in numbered[::-1]),
                          "front", "back", *numbered, "back-mouth"])
        # What folds take is in the cut spans only.
        self.assertEqual(report["finished"]["depth_mm"], 200)
        # The lowest roll is bent at the top of the back; water stands there, not at the mouth, and
        # nothing below it pierces the film.
        back = next(to - start for name, start, to in spans(report) if name == "back")
        self.assertAlmostEqual(report["compartments"][0]["lip_mm"], back, places=5)
        self.assertAlmostEqual(report["water_line_mm"], back, places=5)
        self.assertEqual(report["warnings"], [])
        # Both sides meet at every roll: as many corners to look at.
        self.assertEqual(len(report["test_here"]), rolls)
        # Two straps, 60 wide: 60 beyond the raw edge, 20 sewn down, beyond the band of 16.
        self.assertEqual([(p["name"], p["count"], p["width_mm"], p["length_mm"])
                          for p in report["pieces"]], [("strap", 2, 60, 60 + 20 + 16)])
        # Its middle 16 + 20 / 2 from either side of 204; folded in four, 15 high.
        strap = next(a for a in report["attachments"] if a["name"] == "strap")
        self.assertEqual((strap["span"], strap["x_mm"]), ("back-roll-2", [26, 178]))
        self.assertEqual(strap["y1_mm"] - strap["y0_mm"], 15)
        snap = next(a for a in report["attachments"] if a["kind"] == "snap")
        self.assertEqual((snap["piece"], snap["x_mm"], snap["y0_mm"]), ("strap", [30], 96 - 12))

    def test_rolls_take_their_turn_of_cloth(self):
        # Layers T thick together, bent around G: (pi/2 - 2) T + (pi/2 - 1) G more for each line.
        # One layer at the bottom; two, front and back, at every roll. The mouth ends 5 before the
        # second roll, so that is bent around nothing as well; the third turn goes around the
        # first one's two layers of roll and two of mouth.
        bottom = (HALF_PI - 2) * THICKNESS
        roll = (HALF_PI - 2) * 2 * THICKNESS
        third = roll + (HALF_PI - 1) * 4 * THICKNESS
        self.assertAlmostEqual(size_of("rolltop", "rolls = 2")["turn_of_cloth_mm"],
                               bottom + 4 * roll, places=4)
        self.assertAlmostEqual(size_of("rolltop", "rolls = 3")["turn_of_cloth_mm"],
                               bottom + 4 * roll + 2 * third, places=4)
        report = size_of("rolltop", "rolls = 2")
        # Each span has half of what either of its lines takes.
        lengths = {name: to - start for name, start, to in spans(report)}
        self.assertAlmostEqual(lengths["front-mouth"], 20 + roll / 2, places=4)
        self.assertAlmostEqual(lengths["front-roll-2"], 25 + roll, places=4)
        self.assertAlmostEqual(lengths["front"], 200 + roll / 2 + bottom / 2, places=4)
        self.assertAlmostEqual(lengths["back"], lengths["front"], places=5)

    def test_inches_and_millimetres_agree(self):
        # 1 in = 25.4 mm exactly (NIST SP 811, app. B).
        metric = 'width = "190.5 mm"\ndepth = "203.2 mm"\nseam_allowance = "6.35 mm"'
        inches = 'width = "7 1/2 in"\ndepth = "8 in"\nseam_allowance = "1/4 in"'
        for name in ("foldover", "gusset", "sleeve", "twopiece", "freeflap", "double", "rolltop"):
            with self.subTest(name):
                one, other = size_of(name, metric), size_of(name, inches)
                for report in (one, other):
                    for warning in report["warnings"]:
                        del warning["place"]
                self.assertEqual(one, other)
                printed = size_of(name, inches, options=("--units", "in"))
                for key in ("cut", "spans", "folds", "contacts", "seal_zones", "water_line_mm",
                            "cards", "layers_at_seams", "attachments"):
                    self.assertEqual(printed[key], one[key], key)

    def test_water_stands_on_the_seal_of_a_bottom_seam(self):
        # The seam line lies 7 mm above the raw edge and the seal 30 - 7 above the seam line. The open
        # bag: w^3 (h / (pi w) - 0.071 (1 - 10^(-2 h / w))), from memory of the paper-bag problem.
        report = size_of("twopiece", 'seal_width = "30 mm"')
        width = report["inside_width_mm"] / 10

        def bag(height_mm):
            height = (height_mm - 23) / 10
            shape = height / (2 * HALF_PI * width) - 0.071 * (1 - 10 ** (-2 * height / width))
            return width ** 3 * shape

        self.assertAlmostEqual(report["water_volume_ml"], bag(report["water_line_mm"]), places=6)
        self.assertAlmostEqual(report["water"]["test_fill_ml"],
                               bag(report["water"]["test_level_mm"]), places=6)
        self.assertLess(report["water"]["test_fill_ml"], report["water_volume_ml"])


class Words(unittest.TestCase):
    """What is told in words follows the construction and the sizes."""

    def table_of(self, construction, pouch="", tables=""):
        with tempfile.NamedTemporaryFile("w", suffix=".toml") as job:
            job.write(job_text(construction, pouch, tables))
            job.flush()
            done = subprocess.run([PROGRAM, "size", job.name], check=True, capture_output=True,
                                  text=True, timeout=10)
        return " ".join(done.stdout.split())

    def test_no_seam_is_told_at_a_negative_height(self):
        # The raw edges lie 7 mm below the bottom's seam line, the flap's end 150 - 153 = -3 mm from it.
        told = self.table_of("twopiece", 'flap = "153 mm"')
        self.assertIn("from 7 mm (≈ 1/4 in) to 3 mm (≈ 1/8 in) below the seam line", told)
        self.assertIn("from 7 mm (≈ 1/4 in) below the seam line to 0 mm", told)
        self.assertNotRegex(told, r"(from|to) (≈ )?-")

    def test_no_number_of_columns_that_holds_too_few_is_the_least_cloth(self):
        liners = '[liners]\ncount = 5\nwidth = "75 mm"\nlength = "222 mm"\nthickness = "29 mm"\n'
        told = self.table_of("twopiece", 'width = "234 mm"\nflap = "51 mm"\nseal_width = "42 mm"', liners)
        self.assertIn("taken, since no other way holds more", told)
        self.assertNotIn("the least cloth", told)

    def words_of(self, construction):
        with tempfile.TemporaryDirectory() as folder:
            job = pathlib.Path(folder, "job.toml")
            job.write_text(job_text(construction), encoding="utf-8")
            subprocess.run([PROGRAM, "template", job, "--out", folder, "--quiet"], check=True,
                           capture_output=True, timeout=30)
            text = subprocess.run(["pdftotext", "-raw", pathlib.Path(folder, "template.pdf"), "-"],
                                  check=True, capture_output=True, text=True, timeout=30).stdout
        return as_typed(" ".join(text.split()))

    def test_the_lip_is_named_as_the_mouth_is_shut(self):
        # With nothing folded over it, no edge of the mouth is lower.
        for construction in ("foldover", "gusset", "freeflap"):
            with self.subTest(construction):
                self.assertIn("opening edge: top of the front", self.words_of(construction))
        for construction in ("sleeve", "rolltop"):
            with self.subTest(construction):
                words = self.words_of(construction)
                self.assertIn("opening edge", words)
                self.assertNotIn("lower edge", words)


if __name__ == "__main__":
    unittest.main()
