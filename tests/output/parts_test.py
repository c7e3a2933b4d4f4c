"""Constructions of several panels, pieces and attachments: what is drawn, cut and bought of them."""

import json
import os
import pathlib
import subprocess
import tempfile
import unittest

PROGRAM = os.environ.get("POUCHWRIGHT", "pouchwright")
JOB = """construction = "{construction}"
[pouch]
{pouch}
[materials]
outer = "cotton-110"
[batch]
pouches = 12
"""


def called(command, construction, *arguments, pouch=""):
    """What the command says on its standard output."""
    with tempfile.TemporaryDirectory() as folder:
        job = pathlib.Path(folder) / "job.toml"
        job.write_text(JOB.format(construction=construction, pouch=pouch), encoding="utf-8")
        done = subprocess.run([PROGRAM, command, str(job), *arguments, "--quiet"],
                              capture_output=True, text=True, timeout=60, cwd=folder)
        if done.returncode:
            raise AssertionError(done.stderr)
        return done.stdout


def report(command, construction, pouch=""):
    return json.loads(called(command, construction, "--json", pouch=pouch))


def size_table(construction):
    return called("size", construction)


def pieces_by_cloth(made):
    """How many of each kind the plan cuts from each cloth, spare ones left out."""
    counts = {}
    for lay in made["lays"]:
        for piece in lay["pieces"]:
            if piece.get("spare"):
                continue
            key = (lay["material"], piece["kind"])
            counts[key] = counts.get(key, 0) + lay["layers"]
    return counts


class Templates(unittest.TestCase):
    def test_every_panel_and_piece_has_a_drawing(self):
        # The fold gauge serves them all. The panels and pieces of patterns/twopiece.toml and patterns/rolltop.toml.
        for construction, names in (("twopiece", ["template", "template-front-panel"]),
                                    ("rolltop", ["template", "template-strap"]),
                                    ("foldover", ["template"])):
            made = report("template", construction)
            self.assertEqual([one["name"] for one in made["documents"]], names + ["gauge"])
            self.assertEqual({one["pdf"] for one in made["documents"]}, {"template.pdf"})


class Sizes(unittest.TestCase):
    def test_the_table_has_panels_and_pieces(self):
        # By hand: front 150 - 10 + 7 long, 190 + 2 * 7 wide; the strap's width as the file says.
        table = size_table("twopiece")
        self.assertRegex(table, r"1 × front-panel \(laminate\) +204 mm .* x 147 mm")
        self.assertRegex(table, r"front-panel: fuse .* along the bottom")
        self.assertRegex(size_table("rolltop"), r"2 × strap \(outer\) +60 mm ")


class Plans(unittest.TestCase):
    def test_both_panels_are_cut_from_laminate_and_outer(self):
        # One of each for each of 12 pouches.
        self.assertEqual(pieces_by_cloth(report("lay", "twopiece")),
                         {("laminate", "panel"): 12, ("laminate", "front-panel"): 12,
                          ("outer", "panel"): 12, ("outer", "front-panel"): 12})

    def test_a_strap_is_cut_from_the_outer(self):
        counts = pieces_by_cloth(report("lay", "rolltop"))
        # Two for each of 12 pouches.
        self.assertEqual(counts.get(("outer", "strap")), 24)
        self.assertNotIn(("laminate", "strap"), counts)


class Supplies(unittest.TestCase):
    def attachments(self, construction, pouch=""):
        made = report("supplies", construction, pouch=pouch)
        return [(one["name"], one["amount"]) for one in made["supplies"]
                if one["kind"] == "attachment"]

    def test_closures_are_bought_for_every_pouch(self):
        # 12 pouches and the first one, of 3 in 100 none is spoiled; one half on the flap and one on
        # the front are a set (common practice, no source).
        self.assertEqual(self.attachments("freeflap"), [("snap", 13)])
        # The construction's 60 mm of tape for each, 0.78 m, as shops sell it: by 10 cm (common practice,
        # no source).
        self.assertEqual(self.attachments("freeflap", 'closure = "hook-and-loop"'),
                         [("hook-and-loop", 0.8)])

    def test_a_strap_that_is_cut_is_not_bought(self):
        # A half of the snap on each of two straps: 12 pouches and the first one, a set each (common
        # practice, no source).
        self.assertEqual(self.attachments("rolltop"), [("snap", 13)])


if __name__ == "__main__":
    unittest.main()
