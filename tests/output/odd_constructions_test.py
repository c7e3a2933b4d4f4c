"""A construction of one's own with what those in patterns/ have not: a lining, a loop caught at one
side, a label, an outer that stays behind, shaped corners. What is drawn of it, as the SVGs hold it.
"""

import json
import pathlib
import re
import subprocess
import unittest
import xml.etree.ElementTree as ElementTree

import folding
from program import PROGRAM, SOURCE, as_typed, environment, temporary_folder

SIZES = '''loop_width = { default = "40 mm", meaning = "width of the loop's strip" }
loop_length = { default = "80 mm", meaning = "length of the loop's strip" }
loop_at = { default = "30 mm", meaning = "lip to the loop" }
label_height = { default = "20 mm", meaning = "height of the label" }

'''
PANELS = '''[[panel]]
name = "lining"
cloth = "lining"
width = { width = 1, seam_allowance = 2, seal_width = -2 }
span = [{ name = "lining-front", length = { depth = 1, lip_drop = -2 } }]

[[piece]]
name = "loop"
cloth = "outer"
width = { loop_width = 1 }
length = { loop_length = 1 }

[[piece]]
name = "label"
cloth = "bought"
width = { label_height = 2 }
length = { label_height = 1 }

[[attachment]]
name = "tag loop"
kind = "tag loop"
piece = "loop"
across = "right"
span = "front"
from = "start"
distance = { loop_at = 1 }
extent = { loop_width = "1/2" }
between = ["front", "flap"]

[[attachment]]
name = "label"
kind = "label"
piece = "label"
span = "flap"
from = "end"
distance = { label_height = 1 }
extent = { label_height = 1 }

'''
INSET = ('outer_inset = { start = { lip_drop = 2 }, sides = { seam_allowance = "1/2" }, '
         'end = { lip_drop = 1 } }\n')
LABEL = '''[[operation]]
id = "label-on"
do = "attach"
attachment = "label"
through = "outer"

'''
LINING = '''[[operation]]
id = "lining-in"
do = "lay panel"
panel = "lining"
film = "up"
meets = ["lining-front", "back"]

'''
LOOP = '''[[operation]]
id = "loop-in"
do = "attach"
attachment = "tag loop"

'''
JOB = '''construction = "./own.toml"
[pouch]
start_finish = "overedge"
end_finish = "overedge"
flap_shape = "rounded"
[materials]
outer = "cotton-110"
lining = "cotton-110"
'''


def own():
    text = (SOURCE / "patterns" / "foldover.toml").read_text(encoding="utf-8")

    def before(place, added):
        nonlocal text
        assert text.count(place) == 1, place
        text = text.replace(place, added + place)

    before('[[panel]]\nname = "panel"\n', SIZES)
    text = text.replace('name = "panel"\n', 'name = "panel"\n' + INSET, 1)
    before("[[compartment]]", PANELS)
    before('[[operation]]\nid = "pair"\n', LABEL)
    before('[[operation]]\nid = "card-in"\n', LINING)
    before('[[operation]]\nid = "sew-sides"\n', LOOP)
    return text


def run(folder, command, *options):
    job = pathlib.Path(folder) / "job.toml"
    done = subprocess.run([PROGRAM, command, str(job), "--quiet", *map(str, options)], timeout=60,
                          capture_output=True, env=environment())
    assert done.returncode == 0, done.stderr.decode()
    return done.stdout.decode()


def words_in(svg):
    """All labels, in the order in which they are drawn, as one text."""
    return as_typed(" ".join(shape.get("aria-label")
                             for shape in ElementTree.parse(svg).getroot().iter()
                             if shape.get("aria-label")))


class OddConstruction(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = cls.enterClassContext(temporary_folder())
        (cls.folder / "own.toml").write_text(own(), encoding="utf-8")
        (cls.folder / "job.toml").write_text(JOB, encoding="utf-8")
        run(cls.folder, "template", "--out", cls.folder)
        cls.printed = folding.printed_panels(cls.folder)

    def test_a_loop_at_the_right_is_marked_there_only(self):
        panel = self.printed["template"]
        # 30 mm below the lip, half of the strip of 40 mm covered; the panel is 204 mm wide.
        marks = panel.marks["tag-loop"]
        self.assertEqual(len(marks), 1)
        for found, stated in zip(marks[0], (204, 30, 50)):
            self.assertAlmostEqual(found, stated, delta=2.1 if stated == 204 else 0.05)

    def test_the_outer_stays_inside_the_shaped_corner(self):
        panel = self.printed["template"]
        # Lip drop 10: 20 behind at the start and 10 at the end; half of 7 at the sides; of 204 x 360.
        for found, stated in zip(panel.outer, (3.5, 204 - 3.5, 20, 350)):
            self.assertAlmostEqual(found, stated, delta=0.05)
        # The flap's corner is a quarter circle of 20 mm round (20, 340).
        drawing = ElementTree.parse(self.folder / "template.svg").getroot()
        outer = next(shape for shape in drawing.iter() if shape.get("id") == "outer")
        self.assertIn("C", outer.get("d"))

    def test_a_lining_has_no_film_and_no_seam_line(self):
        words = words_in(self.folder / "template-lining.svg")
        self.assertNotIn("film", words.split("Never cut")[0])
        self.assertNotIn("seam line", words)
        self.assertIn("either face up", words)

    def test_steps_tell_of_lining_and_loop_as_they_are(self):
        steps = {tuple(step["operations"]): step["words"]
                 for step in json.loads(run(self.folder, "steps", "--json"))["steps"]}
        self.assertIn("lies loose", steps[("lining-in",)])
        self.assertIn("Between front and flap", steps[("loop-in",)])
        self.assertNotIn("pierces", steps[("loop-in",)])
        self.assertIn("On the outer alone", steps[("label-on",)])
        for told in steps.values():
            self.assertNotIn("..", told)

    def test_the_outer_alone_shows_no_film(self):
        run(self.folder, "steps", "--out", self.folder / "steps.svg")
        drawing = ElementTree.parse(self.folder / "steps.svg").getroot()
        ids = [shape.get("id") for shape in drawing.iter() if shape.get("id")]
        label = next(i for i, one in enumerate(ids) if one.startswith("attachment--label"))
        self.assertTrue(label)
        # It is fixed to the outer before that is paired: there the picture has a face of cloth, and
        # film, which is grey in every picture, only in others.
        self.assertTrue(any(one.startswith("seen-outer") for one in ids))

    def test_no_name_is_at_the_foot_of_a_page_without_its_plan(self):
        run(self.folder, "lay", "--set", "batch.pouches=6", "--out", self.folder / "lay.pdf")
        pages = int(re.search(r"^Pages: *(\d+)$", subprocess.run(
            ["pdfinfo", self.folder / "lay.pdf"], check=True, capture_output=True,
            text=True).stdout, re.MULTILINE).group(1))
        for page in range(1, pages + 1):
            text = subprocess.run(["pdftotext", "-f", str(page), "-l", str(page), "-layout",
                                   self.folder / "lay.pdf", "-"], check=True, capture_output=True,
                                  text=True).stdout.strip()
            self.assertNotRegex(text.splitlines()[-1], r"of cloth, .* usable")


class Straps(unittest.TestCase):
    """A strap is told of, and drawn, as it lies: inwards while the sides are sewn, then out."""

    def steps(self, folder):
        (folder / "job.toml").write_text(
            'construction = "rolltop"\n[materials]\nouter = "cotton-110"\n', encoding="utf-8")
        return {step["operations"][-1]: step["words"]
                for step in json.loads(run(folder, "steps", "--json"))["steps"]
                if step["operations"]}

    def test_the_words_say_how_it_is_made_kept_clear_and_closed(self):
        with temporary_folder() as folder:
            steps = self.steps(folder)
        self.assertIn("First each strap: Fold both long edges to the middle", steps["straps-on"])
        self.assertIn("Straps lie folded inwards", steps["tails"])
        self.assertIn("close the snap on the straps", steps["roll-last"])
        # They lie under what is pressed, and again under a leak that is mended: the iron spares them.
        self.assertIn("Straps and their snaps lie under the pouch", steps["press-sides"])
        others = [words for step, words in steps.items()
                  if step not in ("straps-on", "press-sides", "tails", "roll-last")]
        self.assertNotIn("strap", " ".join(others))

    def test_it_is_drawn_where_it_is_fixed_and_where_it_is_used(self):
        with temporary_folder() as folder:
            self.steps(folder)
            run(folder, "steps", "--out", folder / "steps.svg")
            shapes = [shape.get("id") or "" for shape in
                      ElementTree.parse(folder / "steps.svg").getroot().iter()]
        # Two where they are fixed, two where they stand out of the roll.
        self.assertEqual(sum(one.startswith("seen-lining--strap--strap") for one in shapes), 4)

    def test_a_free_flap_says_what_closes_it(self):
        with temporary_folder() as folder:
            (folder / "job.toml").write_text('construction = "freeflap"\n', encoding="utf-8")
            last = json.loads(run(folder, "steps", "--json"))["steps"][-1]["words"]
        self.assertIn("Then close the snap.", last)
        self.assertNotIn("together", last)

    def test_both_halves_of_a_closure_face_each_other(self):
        # The flap comes down with its film on the front's cloth.
        with temporary_folder() as folder:
            for kind in ("snap", "hook-and-loop"):
                (folder / "job.toml").write_text(
                    f'construction = "freeflap"\n[pouch]\nclosure = "{kind}"\n[materials]\n'
                    'outer = "cotton-110"\n', encoding="utf-8")
                steps = [(step["operations"], step["words"])
                         for step in json.loads(run(folder, "steps", "--json"))["steps"]]
                name = "snap" if kind == "snap" else "tape"
                on = {half: next((i, words) for i, (done, words) in enumerate(steps)
                                 if any(one.startswith(f"{name}-{half}") for one in done))
                      for half in ("front", "flap")}
                paired = next(i for i, (done, _) in enumerate(steps) if "pair" in done)
                self.assertLess(on["front"][0], paired)
                # A snap's two halves are a socket and a stud, each with a cap behind it.
                if kind == "snap":
                    self.assertIn("snap on the front: its stud goes outside on the right side",
                                  on["front"][1])
                    self.assertIn("snap on the flap: its socket goes on the film side",
                                  on["flap"][1])
                    continue
                self.assertIn(f"{name} on the front shows its working side on the cloth",
                              on["front"][1])
                self.assertGreater(on["flap"][0], paired)
                self.assertIn(f"{name} on the flap shows its working side on the film",
                              on["flap"][1])
                self.assertIn("higher than water stands", on["flap"][1])

    def test_a_free_flap_s_sides_are_hemmed_where_the_side_seam_ends(self):
        with temporary_folder() as folder:
            (folder / "job.toml").write_text('construction = "freeflap"\n', encoding="utf-8")
            steps = {step["operations"][0]: step["words"]
                     for step in json.loads(run(folder, "steps", "--json"))["steps"]
                     if step["operations"]}
            seams = {one["operation"]: one
                     for one in json.loads(run(folder, "supplies", "--json"))["seams"]}
        self.assertIn("The seam ends where the flap is folded", steps["sew-sides"])
        # As wide as the seam allowance, so that the flap is no wider than what is sewn.
        # Snipped before it is sewn: a machine that overedges cannot stop where nothing marks it.
        sewn = steps["sew-sides"]
        self.assertIn("Snip both side edges where the flap is folded, 7 mm deep", sewn)
        self.assertLess(sewn.index("Snip both side edges"), sewn.index("The seam ends"))
        self.assertIn("Turn each raw side edge 7 mm to the fabric side", steps["hem-flap"])
        # By hand: up to the flap fold, 150 mm; the flap is 80 and the turned end's 10 are its own.
        self.assertEqual(seams["sew-sides"]["length_mm"], 150)
        self.assertEqual(seams["hem-flap"]["length_mm"], 80)

    def test_a_mouth_is_rolled_in_one_step_and_straps_get_opposite_halves(self):
        with temporary_folder() as folder:
            for rolls in (2, 3, 5):
                (folder / "job.toml").write_text(
                    f'construction = "rolltop"\n[pouch]\nrolls = {rolls}\n', encoding="utf-8")
                steps = json.loads(run(folder, "steps", "--json"))["steps"]
                last = steps[-1]["words"]
                self.assertIn(f"Roll the mouth down {rolls} times. On the marks, about 25 mm each time",
                              last)
                self.assertEqual(len(steps[-1]["operations"]), rolls)
                straps = next(one["words"] for one in steps if "snap-on" in one["operations"])
                self.assertIn("Opposite halves: the socket on one strap", straps)
                plan = run(folder, "schedule")
                self.assertEqual(len(re.findall(r"(?m)^  2?[K-Z]  .*roll the mouth down", plan)), 1)
                self.assertNotIn("back roll", plan)

    def test_what_a_hand_marks_is_on_the_ruler(self):
        with temporary_folder() as folder:
            for construction in ("foldover", "gusset", "rolltop", "double", "freeflap", "twopiece",
                                 "sleeve"):
                for units in ("mm", "in"):
                    (folder / "job.toml").write_text(
                        f'construction = "{construction}"\nunits = "{units}"\n',
                        encoding="utf-8")
                    steps = json.loads(run(folder, "steps", "--json"))["steps"]
                    marks = [one["words"] for one in steps if not one["operations"]]
                    marks += [one["words"] for one in steps if "straps-on" in one["operations"]]
                    for words in marks:
                        self.assertNotIn("≈", words.split(" or snip")[0], (construction, units))

    def test_a_hem_shows_its_stitches(self):
        with temporary_folder() as folder:
            (folder / "job.toml").write_text('construction = "freeflap"\n', encoding="utf-8")
            run(folder, "steps", "--out", folder / "steps.svg")
            shapes = [shape.get("id") or "" for shape in
                      ElementTree.parse(folder / "steps.svg").getroot().iter()]
        # Along both sides of the flap, once.
        self.assertEqual(sum(one.startswith("hem-here") for one in shapes), 2)

    def test_the_shield_goes_on_top_again_where_the_back_is_pressed(self):
        with temporary_folder() as folder:
            for cards, told in (("both", True), ("inside", False)):
                (folder / "job.toml").write_text(
                    f'construction = "gusset"\n[pouch]\ncards = "{cards}"\n', encoding="utf-8")
                words = " ".join(step["words"] for step in
                                 json.loads(run(folder, "steps", "--json"))["steps"])
                self.assertIn("press from the back as well", words)
                self.assertEqual("The shield goes on the side that is up." in words, told)

    def test_rolled_walls_turn_together(self):
        with temporary_folder() as folder:
            steps = self.steps(folder)
        self.assertIn("all layers together", steps["roll-last"])
        self.assertNotIn("together", steps["fold-front"])


class Nested(unittest.TestCase):
    """What several sizes on one sheet say of the parts that are not on it."""

    def nested(self, construction, pouch=""):
        with temporary_folder() as folder:
            (folder / "job.toml").write_text(
                f'construction = "{construction}"\n[liners]\nwidth = "80 mm"\nlength = "110 mm"\n'
                f'thickness = "9 mm"\n[pouch]\n{pouch}', encoding="utf-8")
            run(folder, "range", "--liners", "1,3", "--out", folder)
            return words_in(folder / "nested.svg")

    def test_the_front_of_two_pieces_is_told_of(self):
        words = self.nested("twopiece")
        self.assertRegex(words, r"front panel, 1 liner: \d+ mm x \d+ mm")
        self.assertRegex(words, r"front panel, 3 liners: \d+ mm x \d+ mm")
        # It begins with the bottom's raw end, not with the mouth.
        self.assertNotIn("opening edge of all", words)

    def test_a_strap_of_one_size_is_told_of_once(self):
        words = self.nested("rolltop")
        self.assertEqual(words.count("strap, "), 1)
        self.assertIn("strap, 1 and 3 liners: 60 mm x 96 mm", words)

    def test_one_panel_alone_has_no_others(self):
        words = self.nested("foldover")
        self.assertNotIn("Also to cut", words)
        self.assertIn("opening edge of all sizes", words)
        self.assertNotIn("shaped corners", words)
        self.assertIn("shaped corners", self.nested("foldover", 'flap_shape = "angled"\n'))


if __name__ == "__main__":
    unittest.main()
