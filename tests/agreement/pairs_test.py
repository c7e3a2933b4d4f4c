"""Pairs of outputs that have contradicted each other once: what the one says, the other says too."""

import json
import pathlib
import math
import re
import shutil
import sys
import tempfile
import tomllib
import unittest

from outputs import (PATTERNS, WORDS, filled, job_of, name_of, picture, program, report, run, said,
                     steps_by_name, steps_of, text, words_of_pdf)

sys.path.insert(0, str(program.SOURCE / "tests" / "desk"))
import desk  # noqa: E402

CONSTRUCTIONS = ("foldover", "gusset", "sleeve", "twopiece", "freeflap", "double", "rolltop")
# Their ends belong to panels of which one is finished before it is laid on the other.
APART = ("twopiece",)
# Their spans have names of more than one word.
LONG_NAMES = ("gusset", "double", "rolltop")


class Outputs(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory(prefix="pouchwright-test-")
        self.addCleanup(folder.cleanup)
        self.folder = pathlib.Path(folder.name)


class Finishes(Outputs):
    """Which cloth's end is overedged: an overedge pierces film."""

    def hold(self, construction, *ends):
        job = job_of(self.folder, f'construction = "{construction}"', "[pouch]",
                     *(f'{end}_finish = "overedge"' for end in ends))
        planned = self.ends_of(re.findall(r"^  \d*[A-Z]  (.+?): ", text("schedule", job), re.M))
        bought = self.ends_of(one["seams"]
                              for one in said("supply-thread-note").finditer(text("supplies", job)))
        self.assertEqual(planned, bought)
        self.assertEqual(len(planned), len(ends))
        for step in steps_of(job, drawn=construction in APART):
            hit = said("steps-overedge").fullmatch(step.words.split(".")[0])
            named = set(hit["ends"].split(", ")) if hit else set()
            self.assertEqual({(name, step.number) for name in named},
                             {one for one in planned if one[1] == step.number})
            if named and construction in APART:
                self.assertLessEqual(named, {label.words for label in step.labels})
                self.assertEqual(set(step.named("finish")), set(step.operations))

    @staticmethod
    def ends_of(listings):
        """{(span, step)} of the ends that the listed operations overedge."""
        return {(hit["span"], step) for listing in listings for name, step in steps_by_name(listing).items()
                if (hit := said("operation-overedge").fullmatch(name))}

    def test_the_steps_name_the_same_end_as_the_plan_and_the_shopping_list(self):
        for construction in CONSTRUCTIONS:
            for ends in (("start",), ("start", "end")):
                with self.subTest(construction, ends=ends):
                    self.hold(construction, *ends)


class Cards(Outputs):
    """Which slip card lies in which pocket."""

    def test_the_pictures_draw_the_cards_that_the_report_tells(self):
        for construction in CONSTRUCTIONS:
            job = PATTERNS / f"heron-quay{'' if construction == 'foldover' else '-' + construction}.toml"
            made = report("size", job)
            with self.subTest(construction):
                self.hold(job, made, [card for card in made["cards"] if card["card"] == "slip card"])

    def hold(self, job, made, cards):
        steps = steps_of(job)
        several = len(made["compartments"]) > 1
        scale = self.scale_of(steps[0], made)
        for card in cards:
            name = "slip-card" + (f"--{card['compartment'].replace(' ', '-')}" if several else "")
            drawn = [step.named("seen-card").get(name, []) for step in steps]
            for found in filter(None, drawn):
                points = [point for shape in found for point in shape.points]
                height = max(y for _, y in points) - min(y for _, y in points)
                width = max(x for x, _ in points) - min(x for x, _ in points)
                rise, run = self.spread(card["outline"])
                self.assertAlmostEqual(height / width, rise / run, delta=1e-4 * rise / run)
                # Beside a section a picture shrinks to no less than 0.95 ** 9; where its row leaves room
                # it grows by 1.35 at the most.
                self.assertLess(0.95 ** 9 * scale * rise - 0.1, height)
                self.assertLess(height, 1.35 * scale * rise + 0.1)
            inside = self.steps_inside(steps, card, several)
            # It is seen on its way out as well.
            self.assertEqual([i for i, found in enumerate(drawn) if found], [*inside, inside[-1] + 1])
            press = next(step for step in steps if card["operation"] in step.operations)
            self.hold_between(steps[press.number - 2], name, self.walls_of(made["construction"], card["compartment"]))

    def hold_between(self, step, card, walls):
        """The view is painted from the farthest to the nearest: before it is pressed, the card comes
        between the walls of its pocket."""
        order = [shape.name for shape in step.shapes]
        at = order.index(f"seen-card--{card}")
        places = [i for i, name in enumerate(order) for wall in walls
                  if re.fullmatch(rf"seen-[a-z]+--{wall}", name)]
        self.assertLess(min(places), at)
        self.assertGreater(max(places), at)

    @staticmethod
    def spread(corners):
        """How far a flat outline rises on the paper and how wide it is, for a mm of cloth that is a mm
        of paper: by the angles that all views have, turned by 12 degrees and seen from 50 above."""
        turn, height = math.radians(-12), math.radians(50)
        rises = [math.sin(height) * (math.sin(turn) * x + math.cos(turn) * y) for x, y in corners]
        runs = [math.cos(turn) * x - math.sin(turn) * y for x, y in corners]
        return max(rises) - min(rises), max(runs) - min(runs)

    @staticmethod
    def words_of(key, card, several):
        """With the pocket where there are several."""
        return filled(f"{key}-of", compartment=card["compartment"]) if several else filled(key)

    @staticmethod
    def walls_of(construction, compartment):
        """By the construction's own file."""
        file = tomllib.loads((PATTERNS / f"{construction}.toml").read_text(encoding="utf-8"))
        return next(one["film"] for one in file["compartment"] if one["name"] == compartment)

    @classmethod
    def scale_of(cls, step, made):
        """mm of paper for a mm of cloth: by the first panel, which lies flat to be marked."""
        points = [point for found in step.named("seen-film").values() for shape in found for point in shape.points]
        flat = [(x, y) for x in (0, made["cut"]["width_mm"]) for y in (0, made["cut"]["length_mm"])]
        return (max(y for _, y in points) - min(y for _, y in points)) / cls.spread(flat)[0]

    @staticmethod
    def steps_inside(steps, card, several):
        """From the step that lays it in to the one before it is pulled out, by their words."""
        lay, take = (Cards.words_of(key, card, several) for key in ("steps-lay-card", "steps-take-card"))
        first = next(i for i, step in enumerate(steps) if f"{lay}." in step.words)
        last = next(i for i, step in enumerate(steps) if f"{take}." in step.words)
        return list(range(first, last))


class Data(Outputs):
    """What a group changes in its own copy of the data."""

    def changed(self, name, before, after):
        """The environment of a group that has `after` in a file of shared/, where we have `before`."""
        shutil.copytree(program.SOURCE / "shared", self.folder / "shared")
        for rest in ("patterns", "fonts"):
            (self.folder / rest).symlink_to(program.SOURCE / rest)
        file = self.folder / "shared" / name
        given = file.read_text(encoding="utf-8")
        self.assertEqual(given.count(before), 1)
        file.write_text(given.replace(before, after), encoding="utf-8")
        return program.environment(POUCHWRIGHT_DATA=str(self.folder))

    def test_the_thread_left_between_two_pieces_is_on_every_sheet(self):
        own = self.changed("stitches.toml", 'chain = "25 mm"', 'chain = "60 mm"')
        for env, options, chain in ((None, (), "25 mm"), (own, (), "60 mm"), (own, ("--units", "in"), None)):
            with self.subTest(chain, options=options):
                bought = {one["chain"] for one in said("supply-thread-waste").finditer(
                    text("supplies", program.SAMPLE, *options, env=env))}
                steps = report("steps", program.SAMPLE, *options, env=env)["steps"]
                sewn = {one["chain"] for step in steps for one in said("steps-chain").finditer(step["words"])}
                self.assertEqual(bought, sewn)
                self.assertEqual(len(sewn), 1)
                if chain:
                    self.assertEqual(sewn, {chain})

    def test_how_long_the_water_of_the_test_stays_in_is_on_every_sheet(self):
        packet = self.folder / "packet.pdf"
        own = self.changed("work.toml", "waits = 5 ", "waits = 12.5 ")
        for env, minutes in ((None, "5"), (own, "12.5")):
            # An iron that warms is no pouch that waits.
            plan = {one["waits"] for one in said("schedule-step-waits").finditer(
                text("schedule", program.SAMPLE, env=env)) if filled("work-warm-iron") not in one["name"]}
            steps = report("steps", program.SAMPLE, env=env)["steps"]
            told = {one["minutes"] for step in steps for one in said("steps-test-how").finditer(step["words"])}
            run("packet", program.SAMPLE, "--only", "checks", "-o", packet, env=env)
            looked = {one["minutes"] for one in said("leak-wait").finditer(words_of_pdf(packet))}
            dries = {one["minutes"] for step in steps
                     for one in said("steps-fill-dry-minutes").finditer(step["words"])}
            self.assertEqual((plan - dries, told, looked), ({minutes}, {minutes}, {minutes}))


class Attachments(Outputs):
    """What is called a thing that a construction of one's own calls by a name with a hyphen."""

    def test_steps_plan_and_template_call_it_alike(self):
        own = (PATTERNS / "freeflap.toml").read_text(encoding="utf-8")
        own = own.replace("snap on the flap", "upper-half").replace("snap on the front", "lower-half")
        (self.folder / "own.toml").write_text(own, encoding="utf-8")
        job = job_of(self.folder, 'construction = "./own.toml"', "[pouch]", 'closure = "snap"')
        names = {hit["name"] for row in re.findall(r"^  \d*[A-Z]  (.+?): ", text("schedule", job), re.M)
                 for name in steps_by_name(row) if (hit := said("operation-attach").fullmatch(name))}
        self.assertEqual(names, {"upper half", "lower half"})
        steps = report("steps", job)["steps"]
        fixed = [step["words"] for step in steps if step["words"].startswith(filled("steps-attach", names=""))]
        self.assertEqual({name for words in fixed for name in words.split(".")[0].split(": ")[1].split(", ")},
                         names)
        for words in fixed:
            self.assertNotIn("-half", words)
        run("template", job, "-o", self.folder / "out")
        labels, _ = picture(self.folder / "out" / "template.svg")
        self.assertLessEqual(names, {label.words for label in labels})


class Folds(Outputs):
    """What two spans are called where a fold lies between them."""

    def test_the_nested_sheet_names_the_folds_as_the_templates_do(self):
        for construction in LONG_NAMES:
            job = PATTERNS / f"heron-quay-{construction}.toml"
            folder = self.folder / construction
            run("range", job, "--liners", "2,4", "-o", folder)
            names = [self.folds_of(folder / "nested.svg")]
            names += [self.folds_of(folder / f"liners-{liners}" / f"template-{liners}.svg") for liners in (2, 4)]
            with self.subTest(construction):
                self.assertEqual(*names[:2])
                self.assertEqual(*names[1:])
                folds = report("size", job)["folds"]
                self.assertEqual(names[0], {tuple(map(name_of, one["between"])) for one in folds})

    @staticmethod
    def folds_of(path):
        """Whatever a fold is called, its label ends with what lies on either side of it."""
        labels, _ = picture(path)
        ending = re.compile(said("drawing-fold").pattern + "$")
        found = [ending.search(words) for label in labels for words in label.words.split("; ")]
        return {(one["before"], one["after"]) for one in found if one}


class Lengths(Outputs):
    """How a length reads on the page in the browser and in the terminal."""

    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.desk = desk.started(cls)

    def test_the_page_shows_what_the_table_prints(self):
        compared = 0
        for units, ruler, sizes in self.jobs():
            job = job_of(self.folder, 'construction = "foldover"', f'units = "{units}"',
                         *([f'ruler = "{ruler}"'] if ruler else []), "[pouch]",
                         *(f'{name} = "{size}"' for name, size in sizes.items()))
            told = text("size", job)
            answer = self.desk.post("/api/edit", job.read_text(encoding="utf-8"))
            page = json.loads(desk.parts_of(answer)["told"])
            numbers = dict(page["numbers"]) | {"flap": page["usual"]["pouch.flap"]}
            for key, name in (("size-finished", WORDS["desk-number-finished"]), ("size-flap", "flap"),
                              ("size-inside", WORDS["desk-number-inside"]),
                              ("size-clear-seal-worst", WORDS["desk-number-seal"]),
                              ("size-water-line", WORDS["desk-number-water"])):
                row = re.search(r"^  " + said(key).pattern + r"  +(.+)$", told, re.M)[1]
                own = [re.fullmatch(r"(.+?) \(.+\)", shown)[1] for shown in row.split(" x ")]
                # Small ones have their millimetres beside them in inches.
                shown = [re.sub(r" \(.+\)", "", one) for one in numbers[name].split(" × ")]
                self.assertEqual(shown, own)
                compared += len(own)
        self.assertGreater(compared, 100)

    @staticmethod
    def jobs():
        for n in range(8):
            yield "mm", None, {"width": f"{150 + n * 7}.{n} mm", "depth": f"{152 + n}.5 mm",
                               "flap": f"{60 + n}.{9 - n}9 mm", "needle_reach": f"7.{n} mm"}
            yield "mm", "0.5 mm", {"width": f"{150 + n}.5 mm", "depth": f"{152 + n}.{n} mm", "flap": "64.5 mm"}
            yield "in", None, {"width": f"{6 + n} {n}/8 in", "depth": f"{6 + n} {2 * n + 1}/64 in",
                               "flap": f"2 {n + 1}/16 in"}
            yield "in", "1/16 in", {"width": f"{6 + n} {2 * n + 1}/16 in", "depth": f"{6 + n}.{n} in"}


if __name__ == "__main__":
    unittest.main()
