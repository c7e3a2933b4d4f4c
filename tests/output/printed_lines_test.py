"""Folds right when its pieces are cut from the printed template, for every construction in patterns/.

From the program's drawings come only the lines that a person would cut, fold, press and mark along;
how they are folded is stated here by hand, as a person does it. What then lies on what is held
against the report of `size`, in millimetres and in inches, with ends left raw, overedged and turned.
"""

import functools
import json
import math
import subprocess
import unittest

import folding
from folding import END_HEM, ON_TOP, START_HEM, UNDERNEATH
from program import PROGRAM, SOURCE, environment, temporary_folder

TOLERANCE = 0.05

# Up to the pressing, and then until it is closed: the line, the span that turns, where it lands. The
# bottom is the line between the first two spans.
FOLDS = {
    "foldover": (("front", "back"), [("front", "back", "front", ON_TOP)],
                 [("back", "flap", "flap", ON_TOP)]),
    "gusset": (("gusset-back", "back"),
               [("gusset-back", "back", "gusset-back", ON_TOP),
                ("gusset-front", "gusset-back", "gusset-front", ON_TOP),
                ("front", "gusset-front", "front", ON_TOP)],
               [("back", "flap", "flap", ON_TOP)]),
    "sleeve": (("front", "back"), [("front", "back", "front", ON_TOP)], []),
    "freeflap": (("front", "back"), [("front", "back", "front", ON_TOP)],
                 [("back", "flap", "flap", ON_TOP)]),
    "double": (("wet-front", "wet-back"),
               [("wet-front", "wet-back", "wet-front", ON_TOP),
                ("wet-back", "dry-back", "dry-back", UNDERNEATH),
                ("dry-back", "dry-front", "dry-front", UNDERNEATH)],
               [("dry-front", "flap", "flap", ON_TOP)]),
    "rolltop": (("front", "back"), [("front", "back", "front", ON_TOP)],
                [("back-roll-3", "back-mouth", "back-mouth", ON_TOP),
                 ("back-roll-2", "back-roll-3", "back-roll-3", ON_TOP),
                 ("back", "back-roll-2", "back-roll-2", ON_TOP)]),
    # The front is cut apart: it is laid on the back, film down, raw end on raw end.
    "twopiece": (None, [], [("back", "flap", "flap", ON_TOP)]),
}
# The span at each end of the panels, which a turned end is folded behind.
ENDS = {"foldover": ("front", "flap"), "gusset": ("front", "flap"), "sleeve": ("front", "back"),
        "freeflap": ("front", "flap"), "double": ("wet-front", "flap"),
        "rolltop": ("front-mouth", "back-mouth"), "twopiece": ("front", "flap")}
LIP = {"double": "wet-front", "rolltop": "front-mouth"}
PRESSED_FROM_BOTH = ("gusset", "double")
FLAPS = ("foldover", "gusset", "freeflap", "double", "twopiece")

ALLOWANCE = {"mm": 7.0, "in": 6.35}
SEAL = {"mm": 16.0, "in": 12.7}
# 1 in = 25.4 mm (NIST SP 811, app. B): 1/4 in = 6.35 mm, 1/2 in = 12.7 mm.
JOBS = {
    "mm": 'ruler = "0.5 mm"\n[pouch]\n',
    "in": 'units = "in"\nruler = "1/16 in"\n[pouch]\nwidth = "7 3/8 in"\ndepth = "7 1/4 in"\n'
          'seam_allowance = "1/4 in"\nseal_width = "1/2 in"\n',
}
# How far from a raw end its needles reach: an overedge takes nothing and reaches 5 mm (3/16 in); a
# turned end takes 10 mm (3/8 in) and is stitched 2 mm (1/16 in) inside its raw edge, 2 · 10 - 2 from
# where it was cut.
REACH = {"mm": {"none": 0.0, "overedge": 5.0, "turned": 18.0},
         "in": {"none": 0.0, "overedge": 4.7625, "turned": 17.4625}}


class Made:
    """The prints and the report of one job."""

    def __init__(self, construction, units, finish="", pouch="", tables=""):
        self.construction, self.units = construction, units
        text = f'construction = "{construction}"\n' + JOBS[units] + pouch + "\n"
        if finish:
            text += f'start_finish = "{finish}"\nend_finish = "{finish}"\n'
        with temporary_folder() as folder:
            job = folder / "job.toml"
            job.write_text(text + tables, encoding="utf-8")
            self.report = json.loads(run("size", job, "--json", "--quiet"))
            run("template", job, "--quiet", "--out", folder / "out")
            self.printed = folding.printed_panels(folder / "out")
        self.panel = self.printed["template"]
        # The construction's own where the job says nothing: the free flap's end is turned.
        self.end = {"start": finish or "none",
                    "end": finish or ("turned" if construction == "freeflap" else "none")}

    @property
    def allowance(self):
        return ALLOWANCE[self.units]

    def pressed(self):
        """As a person lays it for the iron."""
        bottom, folds, _ = FOLDS[self.construction]
        if bottom:
            line = self.panel.lines[self.panel.names.index(bottom[0]) + 1]
            strip = folding.Strip(self.panel.names, self.panel.lines, line)
            self.turn_hems(strip)
        else:
            strip = folding.Strip(self.panel.names, self.panel.lines, self.allowance)
            self.turn_hems(strip)
            self.lay_front(strip)
        for before, after, turned, lands in folds:
            strip.fold((before, after), turned, lands)
        return strip

    def lay_front(self, strip):
        """The front, film down: turned over on the table, then laid raw end on raw end."""
        front = self.printed["template-front-panel"]
        names = front.names or ["front"]
        for layer in strip.lay(names, front.lines, front.length - self.allowance):
            layer.turn(0)
        if names[0] == START_HEM:
            # Turned to the knit side, which looks up now.
            strip.fold((START_HEM, "front"), START_HEM, ON_TOP)

    def turn_hems(self, strip):
        first, last = ENDS[self.construction]
        if self.panel.names[0] == START_HEM:
            strip.fold((START_HEM, first), START_HEM, UNDERNEATH)
        if self.panel.names[-1] == END_HEM:
            strip.fold((last, END_HEM), END_HEM, UNDERNEATH)

    def closed(self):
        strip = self.pressed()
        for before, after, turned, lands in FOLDS[self.construction][2]:
            strip.fold((before, after), turned, lands)
        return strip

    def needles(self):
        """Span name -> the stretch of its panel that an end's needles have stitched."""
        first, last = ENDS[self.construction]
        reach = REACH[self.units]
        own = {first: (0, reach[self.end["start"]])}
        length = self.panel.length
        own[last] = (length - reach[self.end["end"]], length)
        return own


@functools.cache
def made_of(*what):
    return Made(*what)


def run(*arguments):
    done = subprocess.run([PROGRAM, *map(str, arguments)], check=True, capture_output=True,
                          timeout=60, env=environment())
    return done.stdout


def less(stretch, hole):
    """What is left of a stretch without the hole."""
    (low, high), (from_, to) = stretch, hole
    parts = [(low, min(high, from_)), (max(low, to), high)]
    return [part for part in parts if part[1] - part[0] > TOLERANCE]


class Held(unittest.TestCase):
    def near(self, one, other, told=None):
        self.assertAlmostEqual(one, other, delta=TOLERANCE, msg=told)

    def near_all(self, found, stated, told=None):
        self.assertEqual(len(found), len(stated), (told, found, stated))
        for one, other in zip(found, stated):
            for a, b in zip(one, other):
                self.near(a, b, (told, found, stated))


class PrintedLines(Held):
    def each(self, hold):
        for construction in sorted(FOLDS):
            for units in JOBS:
                for finish in ("", "overedge", "turned"):
                    with self.subTest(construction, units=units, finish=finish):
                        hold(made_of(construction, units, finish))

    def test_all_constructions_are_folded_here(self):
        found = {path.stem for path in (SOURCE / "patterns").glob("*.toml")
                 if "[[operation]]" in path.read_text(encoding="utf-8")}
        self.assertEqual(set(FOLDS), found)

    def test_panels_are_cut_as_reported(self):
        self.each(self.hold_panels)

    def hold_panels(self, made):
        for panel in made.report["panels"]:
            main = panel is made.report["panels"][0]
            printed = made.printed["template" if main else "template-" + panel["name"]]
            self.near(printed.width, panel["width_mm"])
            self.near(printed.length, panel["length_mm"])
            spans = panel["spans"]
            if printed.names:
                self.assertEqual(printed.names, [span["name"] for span in spans])
                self.near_all([printed.lines], [[0] + [span["to_mm"] for span in spans]])
            else:
                self.assertEqual(len(spans), 1)

    def test_film_lies_on_film_as_reported(self):
        self.each(self.hold_fold)

    def hold_fold(self, made):
        strip = made.pressed()
        found = strip.contacts()
        stated = {tuple(one["layers"]): (one["from_mm"], one["to_mm"])
                  for one in made.report["contacts"]}
        self.assertEqual(sorted(found), sorted(stated))
        for pair, heights in found.items():
            self.near_all([heights], [stated[pair]], pair)
        bare = sum(one["to_mm"] - one["from_mm"] for one in made.report["exposed_film"])
        self.near(strip.bare_film(made.construction in PRESSED_FROM_BOTH), bare)
        lip = strip.layer(LIP.get(made.construction, "front")).heights[1]
        card = made.report["cards"][0]["outline"]
        self.near(max(lip, 0), card[2][1], "the card's shoulder is the lip")

    def test_bands_lie_where_the_fold_brings_film_on_film(self):
        """Both stretches of film that touch, on either side, except where an end's thread lies."""
        self.each(self.hold_film)

    def hold_film(self, made):
        strip, needles = made.pressed(), made.needles()
        flat = {}
        for pair, (low, high) in strip.contacts().items():
            parts = [(low, high)]
            for name in pair:
                layer = strip.layer(name)
                stitched = sorted(layer.height(y) for y in needles.get(name, (-1, -1)))
                parts = [left for part in parts for left in less(part, stitched)]
            for name in pair:
                layer = strip.layer(name)
                flat.setdefault(self.panel_of(strip, layer), []).extend(
                    sorted(layer.y(height) for height in part) for part in parts)
        for index, printed in enumerate([made.panel, made.printed.get("template-front-panel")]):
            if printed:
                self.hold_bands(made, printed, folding.joined(flat[index]))

    @staticmethod
    def panel_of(strip, layer):
        return next(i for i, layers in enumerate(strip.strips) if layer in layers)

    def hold_bands(self, made, printed, stretches):
        seal, width = SEAL[made.units], printed.width
        sides = [band for band in printed.bands if band[0] < TOLERANCE]
        self.near_all(sorted((y0, y1) for _, _, y0, y1 in sides), stretches)
        others = [band for band in printed.bands if band[1] > width - TOLERANCE]
        self.near_all(sorted((y0, y1) for _, _, y0, y1 in others), stretches)
        for x0, x1, _, _ in sides:
            self.near_all([(x0, x1)], [(0, seal)])
        for x0, x1, _, _ in others:
            self.near_all([(x0, x1)], [(width - seal, width)])
        across = [band for band in printed.bands if band not in sides and band not in others]
        self.assertEqual(len(across), 1 if made.construction == "twopiece" else 0)
        for band in across:
            at_start = printed is made.panel
            self.near_all([band], [(seal, width - seal, 0, seal) if at_start else
                                   (seal, width - seal, printed.length - seal, printed.length)])

    def test_ticks_stand_at_every_fold_and_are_no_deeper_than_half_the_allowance(self):
        self.each(self.hold_ticks)

    def hold_ticks(self, made):
        for y in made.panel.lines[1:-1]:
            ticks = sorted(tick for tick in made.panel.notches if abs(tick[2] - y) < TOLERANCE)
            self.assertEqual(len(ticks), 2, y)
            (left0, left1, _), (right0, right1, _) = ticks
            self.near_all([(left0, right1)], [(0, made.panel.width)])
            for depth in (left1 - left0, right1 - right0):
                self.assertGreater(depth, 1)
                self.assertLessEqual(depth, made.allowance / 2 + TOLERANCE)

    def test_seam_lines_lie_on_each_other_when_folded(self):
        self.each(self.hold_seams)

    def hold_seams(self, made):
        for printed in made.printed.values():
            lengthwise = sorted(x0 for x0, y0, x1, y1 in printed.seams if abs(x0 - x1) < 1e-6)
            if not lengthwise:
                continue  # a piece
            self.near_all([lengthwise],
                          [(made.allowance, printed.width - made.allowance)])


class Corners(Held):
    """The flap's end: 20 mm of it rounded or cut off unless the job says otherwise."""

    def each(self, shape, hold):
        for construction in FLAPS:
            for units, text, size in (("mm", "", 20.0), ("mm", 'flap_corner = "12.5 mm"', 12.5),
                                      ("in", 'flap_corner = "5/8 in"', 15.875)):
                with self.subTest(construction, units=units, corner=size):
                    pouch = f'flap_shape = "{shape}"\n{text}'
                    hold(Made(construction, units, "none", pouch).panel, size)

    def corners(self, panel, points):
        """Its corners are these, in any order."""
        found = {(round(x, 2), round(y, 2)) for x, y in panel.outline}
        self.near_all(sorted(found), sorted(points))

    def test_straight(self):
        self.each("straight", lambda panel, _: self.corners(
            panel, [(0, 0), (panel.width, 0), (panel.width, panel.length), (0, panel.length)]))

    def test_angled(self):
        self.each("angled", lambda panel, size: self.corners(panel, self.beside(panel, size)))

    @staticmethod
    def beside(panel, size):
        """The whole corners, and the points where the shaped ones begin and end."""
        w, end = panel.width, panel.length
        return [(0, 0), (w, 0), (w, end - size), (w - size, end), (size, end), (0, end - size)]

    def test_rounded(self):
        self.each("rounded", self.hold_rounded)

    def hold_rounded(self, panel, size):
        for point in self.beside(panel, size):
            self.assertTrue(any(math.dist(point, one) < TOLERANCE for one in panel.outline), point)
        right, top = panel.width - size, panel.length - size
        bent = [(x, y) for x, y in panel.outline
                if y > top + TOLERANCE and not size - TOLERANCE < x < right + TOLERANCE]
        self.assertGreater(len(bent), 20)
        for x, y in bent:
            self.near(math.dist((x, y), (size if x < size else right, top)), size)


class Attachments(Held):
    def test_marks_are_printed_where_the_report_says(self):
        for construction, pouch in (("freeflap", ""), ("freeflap", 'closure = "hook-and-loop"'),
                                    ("rolltop", ""), ("rolltop", "rolls = 5")):
            for units in JOBS:
                with self.subTest(construction, pouch=pouch, units=units):
                    made = Made(construction, units, "", pouch)
                    own = [one for one in made.report["attachments"] if one["piece"] is None]
                    self.assertEqual(len(made.panel.marks), len(own))
                    for one in own:
                        marks = made.panel.marks[one["name"].replace(" ", "-")]
                        self.near_all(sorted(marks),
                                      [(x, one["y0_mm"], one["y1_mm"]) for x in one["x_mm"]])
                        # In the middle, or as far from the one raw edge as from the other.
                        self.near(sum(x for x, _, _ in marks) / len(marks), made.panel.width / 2)

    def test_the_halves_of_a_closure_meet_when_the_flap_is_closed(self):
        # Sizes that end on the ruler: a flap that rounding made longer is another flap.
        whole = {"mm": "", "in": 'flap = "3 1/8 in"\nlip_drop = "3/8 in"\nclosure_inset = "3/4 in"\n'
                                 'end_finish = { finish = "turned", takes = "3/8 in" }\n'}
        for closure, name in (("snap", "snap"), ("hook-and-loop", "tape")):
            for units in JOBS:
                with self.subTest(closure, units=units):
                    made = Made("freeflap", units, "", f'{whole[units]}closure = "{closure}"')
                    strip = made.closed()
                    on_flap, on_front = (self.heights(strip, made.panel, f"{name}-on-the-{span}", span)
                                         for span in ("flap", "front"))
                    self.near_all([on_flap], [on_front])

    @staticmethod
    def heights(strip, panel, mark, span):
        (x, y0, y1), = panel.marks[mark]
        layer = strip.layer(span)
        return (x, *sorted((layer.height(y0), layer.height(y1))))

    def test_water_stands_to_the_lowest_hole_that_is_printed(self):
        # The hole of a snap has a radius of 3 mm or 1/8 in, a needle's none.
        for construction, pouch, hole in (("freeflap", "", 3),
                                          ("freeflap", 'closure = "hook-and-loop"', 0)):
            for units in JOBS:
                with self.subTest(construction, pouch=pouch, units=units):
                    made = Made(construction, units, "none", pouch)
                    strip = made.pressed()
                    name = "tape-on-the-front" if "hook" in pouch else "snap-on-the-front"
                    lowest = self.heights(strip, made.panel, name, "front")[1]
                    radius = 3.175 if hole and units == "in" else hole
                    self.near(made.report["water_line_mm"], lowest - radius)

    def test_the_straps_hold_the_roll_above_the_water(self):
        for units in JOBS:
            with self.subTest(units=units):
                made = Made("rolltop", units)
                cut = made.printed["template-strap"]
                last = {name: (a, b) for name, a, b in zip(
                    made.panel.names, made.panel.lines, made.panel.lines[1:])}["back-roll-2"]
                left, right = sorted(made.panel.marks["strap"])
                for _, y0, y1 in (left, right):
                    self.assertLess(last[0], y0)
                    self.assertLess(y1, last[1])
                    # Folded in four, as high as it is sewn down; cut to the ruler, 1 mm or 1/8 in.
                    self.assertTrue(-TOLERANCE < cut.width / 4 - (y1 - y0) < 3.175 / 4)
                # 20 mm or 3/4 in are sewn down, inwards from the band that is fused, 16 mm or 1/2 in
                # wide.
                middle = 10 + 16 if units == "mm" else 9.525 + 12.7
                self.near_all([(left[0], made.panel.width - right[0])], [(middle, middle)])
                # The snap lies beyond the raw edge, so that the straps can lie on each other.
                (across, y0, _), = cut.marks["snap-on-the-straps"]
                self.near(across, cut.width / 2)
                self.assertGreater(y0, 33)
                # Nothing is fixed that pierces what holds water.
                self.near(made.report["water_line_mm"], made.report["compartments"][0]["lip_mm"])


class Outer(Held):
    def test_an_outer_of_the_panels_size_has_no_line_of_its_own(self):
        for construction in sorted(FOLDS):
            with self.subTest(construction):
                made = Made(construction, "mm", "overedge",
                            tables='[materials]\nouter = "cotton-110"\n')
                for printed in made.printed.values():
                    self.assertIsNone(printed.outer)

    def test_a_shorter_outer_is_printed_as_far_behind_as_its_construction_says(self):
        own = (SOURCE / "patterns" / "foldover.toml").read_text(encoding="utf-8").replace(
            '[[panel]]\nname = "panel"\n',
            '[[panel]]\nname = "panel"\nouter_inset = { start = { lip_drop = 2 }, '
            'sides = { seam_allowance = "1/2" }, end = { flap = "1/2" } }\n')
        self.assertIn("outer_inset", own)
        with temporary_folder() as folder:
            (folder / "own.toml").write_text(own, encoding="utf-8")
            job = folder / "job.toml"
            job.write_text('construction = "./own.toml"\n[materials]\nouter = "cotton-110"\n'
                           '[pouch]\nend_finish = "none"\n', encoding="utf-8")
            run("template", job, "--quiet", "--out", folder / "out")
            panel = folding.printed_panels(folder / "out")["template"]
        # Lip drop 10, allowance 7, flap 70 of 204 x 360.
        self.near_all([panel.outer], [(3.5, 204 - 3.5, 20, 360 - 35)])


if __name__ == "__main__":
    unittest.main()
