"""Every starter job of patterns/, printed in both units: whatever two outputs both tell, they tell alike.

What a test holds to each other stands in its name. Words are found by shared/words/en.toml, lengths
by what a report has in millimetres.
"""

import csv
import fractions
import functools
import io
import math
import pathlib
import re
import shutil
import tempfile
import tomllib
import unittest
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

from outputs import (PATTERNS, WORDS, filled, name_of, part_name, picture, report, run, said, squeezed,
                     steps_by_name, text, words_of_pdf)

JOBS = sorted(PATTERNS.glob("heron-quay*.toml"))
UNITS = ("mm", "in")
# A helper reads a stitch's name, the leader's list its number.
CODES = {words: key.removeprefix("stitch-") for key, words in WORDS.items()
         if re.fullmatch(r"stitch-\d+", key)}
INCH = 25.4  # mm, exactly: NIST SP 811, appendix B

# What the work plan calls an operation, and how its step is headed. Their holes hold the same.
HEADINGS = {"operation-attach": "steps-attach", "operation-lay-panel": "steps-lay-panel",
            "operation-hem": "steps-hem", "operation-pair": "steps-pair",
            "operation-overedge": "steps-overedge", "operation-zigzag": "steps-zigzag",
            "operation-tag": "steps-tag", "operation-dry": "steps-dry", "operation-turned": "steps-turned",
            "operation-lay-card": "steps-lay-card", "operation-lay-card-of": "steps-lay-card-of",
            "operation-fold-over": "steps-fold-over", "operation-fold-under": "steps-fold-under",
            "operation-press": "steps-press", "operation-take-card": "steps-take-card",
            "operation-take-card-of": "steps-take-card-of", "operation-look-inside": "steps-look-inside",
            "operation-sew": "steps-sew", "operation-secure-tails": "steps-tails",
            "operation-fill-first": "steps-fill-each", "operation-roll": "steps-roll",
            "operation-test": "steps-test"}


@functools.cache
def plan_of(job):
    """The work plan for machines and for people; it has no lengths."""
    return report("schedule", job), text("schedule", job)


@dataclass(eq=False)
class Made:
    """All outputs of one job in one unit."""
    job: pathlib.Path
    unit: str
    folder: pathlib.Path

    def __post_init__(self):
        options = ("--units", self.unit)
        self.size = report("size", self.job, *options)
        self.table = text("size", self.job, *options)
        self.steps = report("steps", self.job, *options)["steps"]
        self.supplies = report("supplies", self.job, *options)
        self.list = text("supplies", self.job, *options)
        for command in ("template", "mask"):
            setattr(self, command, report(command, self.job, *options, "-o", self.folder / command))
        self.schedule, self.plan = plan_of(self.job)
        packet = self.folder / "packet.pdf"
        run("packet", self.job, *options, "-o", packet)
        self.packet = words_of_pdf(packet)

    def csv_of(self, command):
        path = self.folder / f"{command}.csv"
        run(command, self.job, "--units", self.unit, "--out", path)
        return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8"))))

    @functools.cache
    def drawings(self, command):
        """{name: (labels, shapes)} of the whole drawings, the fold gauge aside."""
        return {one["name"]: picture(self.folder / command / one["svg"])
                for one in getattr(self, command)["documents"] if one["name"] != "gauge"}

    def row(self, key):
        """What the table of sizes says at `key`."""
        found = re.search(r"^  " + said(key).pattern + r"  +(.+)$", self.table, re.M)
        return found and found[found.lastindex]

    def sizes(self, key):
        """The same as lengths, each in both units."""
        row = self.row(key)
        return row.split(" x ") if row else []

    def step_of(self):
        return {id_: number for number, step in enumerate(self.steps, 1) for id_ in step["operations"]}

    def planned(self):
        """[(letter, {name: step}, minutes, waits)] of the plan in words."""
        rows = []
        for line in re.findall(r"^  (\d*[A-Z]  .+)$", self.plan, re.M):
            hit = next((hit for hit in (said(f"schedule-step{kind}").fullmatch(line)
                                        for kind in ("-once-waits", "-once", "-waits", "")) if hit), None)
            if hit:
                waits = hit.groupdict().get("waits")
                rows.append((hit["letter"], steps_by_name(hit["name"]), float(hit["minutes"]),
                             float(waits or 0)))
        return rows

    def name_of_operation(self):
        """{id: what the plan calls it}, for those that are no more than one entry of it."""
        names = {}
        for (_, named, _, _), letter in zip(self.planned(), self.schedule["steps"], strict=True):
            if len(named) == len(letter["operations"]):
                names |= {one["operation"]: name for name, one in zip(named, letter["operations"])}
        return names


def setUpModule():
    global MADE, FOLDER
    FOLDER = pathlib.Path(tempfile.mkdtemp(prefix="pouchwright-test-"))
    unittest.addModuleCleanup(shutil.rmtree, FOLDER, True)
    asked = [(job, unit, FOLDER / f"{job.stem}-{unit}") for unit in UNITS for job in JOBS]
    for *_, folder in asked:
        folder.mkdir()
    with ThreadPoolExecutor(2) as pool:
        MADE = list(pool.map(lambda one: Made(*one), asked))


def value(length):
    """(mm, half of what it may be off) of a printed length, `≈ 7 1/2 in`."""
    about, number, unit = re.fullmatch(r"(≈ )?(-?[\d/. ]+) (mm|in)", length).groups()
    parts = [float(top) / float(bottom) for top, _, bottom in
             (part.partition("/") if "/" in part else (part, "", "1") for part in number.split())]
    total = math.copysign(sum(map(abs, parts)), parts[0]) * (INCH if unit == "in" else 1)
    return total, ((INCH / 16 if unit == "in" else 0.5) if about else 0)


class Job(unittest.TestCase):
    def each(self, hold):
        for made in MADE:
            with self.subTest(made.job.stem, units=made.unit):
                hold(made)

    def hold_length(self, printed, mm, at_most=False):
        """A printed length, in one unit or in both, is the report's; never more, where it is a limit."""
        for one in re.findall(r"[^()]+", printed):
            if not one.strip():
                continue
            read, off = value(one.strip())
            self.assertLessEqual(abs(read - mm), off * (2 if at_most else 1) + 1e-6, (printed, mm))
            if at_most:
                self.assertLessEqual(read, mm + 1e-6, (printed, mm))

    def hold_says(self, told, key, **holes):
        """In `told` stands the sentence of `key` with its holes so filled."""
        self.hold_stands(filled(key, **holes), told)

    def hold_row(self, told, key, *sizes, **holes):
        """The overview's table has the row of `key`: each size in the job's unit, then in the other."""
        units = zip(*(re.fullmatch(r"(.+?) \((.+)\)", size).groups() for size in sizes))
        self.hold_stands(" ".join([filled(key, **holes), *(" × ".join(unit) for unit in units)]), told)

    def hold_stands(self, sentence, told):
        if squeezed(sentence) not in squeezed(told):
            self.fail(f"not found: {sentence}")


class Operations(Job):
    def test_steps_plan_and_list_tell_the_same_number_of_an_operation(self):
        def hold(made):
            numbers = made.step_of()
            rows = made.planned()
            for (letter, named, _, _), entry in zip(rows, made.schedule["steps"], strict=True):
                self.assertEqual(letter, entry["step"])
                self.assertEqual({one["picture"] for one in entry["operations"]}, set(named.values()))
                for one in entry["operations"]:
                    if one["operation"] in numbers:
                        self.assertEqual(one["picture"], numbers[one["operation"]])
            for task in made.schedule["tasks"]:
                for id_ in task["operation"].split(" + "):
                    if id_ in numbers:
                        self.assertEqual(task["picture"], numbers[id_])
            names = made.name_of_operation()
            sewn = {}
            for seam in made.supplies["seams"]:
                sewn.setdefault(seam["stitch"], {})[names[seam["operation"]]] = numbers[seam["operation"]]
            listed = {note["stitch"].split(",")[0]: steps_by_name(note["seams"])
                      for key in ("supply-thread-note", "supply-thread-note-locked")
                      for note in said(key).finditer(made.list)}
            self.assertEqual(sewn, listed)
            self.assertGreater(len(sewn), 0)
        self.each(hold)

    def test_plan_and_step_name_the_same_thing_to_be_worked_on(self):
        def hold(made):
            numbers = made.step_of()
            seen = set()
            for id_, name in made.name_of_operation().items():
                hits = [(key, hit) for key in HEADINGS if (hit := said(key).fullmatch(name))]
                if id_ not in numbers:
                    continue
                # `lay the slip card in` fits no longer name, and so for all: the last is the closest.
                key, hit = max(hits, key=lambda one: len(WORDS[one[0]]))
                headed = said(HEADINGS[key]).pattern + r"(?=\.|:|$)"
                told = re.search(r"(?:^|\. )" + headed, made.steps[numbers[id_] - 1]["words"])
                self.assertIsNotNone(told, (name, HEADINGS[key]))
                for thing in hit.groupdict().values():
                    if told.groupdict():
                        self.assertIn(thing, next(iter(told.groupdict().values())).split(", "))
                seen.add(key)
            self.assertGreater(len(seen), 6)
        self.each(hold)

    def test_the_iron_is_kept_off_a_snap_that_lies_there(self):
        seen = set()

        def hold(made):
            order = [id_ for step in made.steps for id_ in step["operations"]]
            for step in made.steps:
                pressed = [id_ for id_ in step["operations"] if id_.startswith("press")]
                if not pressed:
                    continue
                there = any(one["kind"] == "snap" and one["span"]
                            and order.index(one["operation"]) < order.index(pressed[0])
                            for one in made.size["attachments"])
                self.assertEqual(WORDS["steps-press-snap"] in step["words"], there)
                seen.add(there)
        self.each(hold)
        self.assertEqual(seen, {True, False})

    def test_steps_and_list_sew_with_the_same_stitch(self):
        def hold(made):
            numbers = made.step_of()
            listed = {}
            for seam in made.supplies["seams"]:
                listed.setdefault(numbers[seam["operation"]], set()).add(seam["stitch"])
            told = {}
            for number, step in enumerate(made.steps, 1):
                codes = {CODES[hit["name"]] for hit in said("steps-stitch").finditer(step["words"])}
                if codes:
                    told[number] = codes
            self.assertGreater(len(told), 0)
            for number, codes in told.items():
                self.assertLessEqual(codes, listed[number])
            chains = {hit["chain"] for step in made.steps for hit in said("steps-chain").finditer(step["words"])}
            bought = {hit["chain"] for hit in said("supply-thread-waste").finditer(made.list)}
            self.assertEqual(len(bought), 1)
            self.assertLessEqual(chains, bought)
        self.each(hold)

    def test_the_packet_says_what_the_sheets_say(self):
        def hold(made):
            for step in made.steps:
                for sentence in re.split(r"(?<=\.) ", step["words"]):
                    # A heading of the sheet stands without the full stop that parts it in a report.
                    self.hold_stands(sentence.rstrip("."), made.packet)
            for sentence in re.findall(r"^  \d*[A-Z]  (.+)$", made.plan, re.M):
                self.hold_stands(sentence, made.packet)
            for note in said("supply-thread-note").finditer(made.list):
                self.hold_stands(note[0], made.packet)
            for name, (labels, _) in made.drawings("mask").items():
                for label in labels:
                    self.hold_stands(label.words, made.packet)
        self.each(hold)


class Sizes(Job):
    def test_template_overview_cards_and_table_print_the_same_sizes(self):
        def hold(made):
            width, length = made.sizes("size-cut")
            across, depth = made.sizes("size-finished")
            main = " ".join(label.words for label in next(iter(made.drawings("template").values()))[0])
            for key, size in (("drawing-cut-width", width), ("drawing-cut-length", length)):
                self.hold_says(main, key, size=size.split(" (")[0])
            if len(made.size["panels"]) + len(made.size["pieces"]) > 1:
                self.hold_row(made.packet, "overview-cut-part", width, length, count=1,
                              part=part_name(made.size["panels"][0]["name"]))
            else:
                self.hold_row(made.packet, "overview-cut", width, length)
            self.hold_row(made.packet, "overview-finished", across, depth)
            flap = made.row("size-flap")
            self.assertEqual(flap is not None, bool(made.size["finished"]["flap_mm"]))
            if flap:
                self.hold_row(made.packet, "overview-flap", flap)
            for name, (labels, _) in made.drawings("mask").items():
                self.hold_says(" ".join(label.words for label in labels), "drawing-finished-short",
                               width=across.split(" (")[0], depth=depth.split(" (")[0])
            for printed, mm in ((width, made.size["cut"]["width_mm"]), (length, made.size["cut"]["length_mm"]),
                                (across, made.size["finished"]["width_mm"]),
                                (depth, made.size["finished"]["depth_mm"])):
                self.hold_length(printed, mm)
        self.each(hold)

    def test_template_and_report_name_and_measure_the_same_spans(self):
        def hold(made):
            drawn = made.drawings("template")
            for panel in made.size["panels"]:
                labels, shapes = drawn.get(f"template-{panel['name']}", drawn["template"])
                words = [label.words for label in labels]
                raw = next(shape for shape in shapes if shape.name == "panel")
                # The start lies at the lower edge, as in the pictures of the steps.
                start = max(y for _, y in raw.points)
                self.assertAlmostEqual(raw.height, panel["length_mm"], delta=0.01)
                for span in panel["spans"]:
                    if span["name"] in ("start-hem", "end-hem"):
                        continue
                    name = name_of(span["name"])
                    # A narrow span has both in one row.
                    one_row = [word for word in words if word.startswith(name + ": ")]
                    if not one_row:
                        self.assertIn(name, words)
                    shown = one_row[0].split(": ")[1] if one_row else words[words.index(name) + 1]
                    self.hold_length(shown, span["to_mm"] - span["from_mm"])
                for before, after in zip(panel["spans"], panel["spans"][1:]):
                    lines = [shape for shape in shapes if shape.name == f"fold--{before['name']}---{after['name']}"]
                    self.assertTrue(any(abs(start - line.middle[1] - before["to_mm"]) < 0.01 for line in lines),
                                    (before, after))
                    between = filled("drawing-fold", before=name_of(before["name"]), after=name_of(after["name"]))
                    self.assertTrue(any(word.endswith(between) for word in words), between)
        self.each(hold)

    def test_the_steps_mark_the_folds_of_the_report(self):
        def hold(made):
            folds = made.size["folds"]
            hit = said("steps-mark-how").search(made.steps[0]["words"])
            self.assertEqual(hit is not None, bool(folds))
            if hit:
                for printed, fold in zip(hit["folds"].split(", "), folds, strict=True):
                    # A mark is on the ruler's nearest step, 1 mm or 1/8 in, and says nothing of it.
                    self.assertNotIn("≈", printed)
                    step = 25.4 / 8 if made.unit == "in" else 1
                    self.assertLessEqual(abs(value(printed)[0] - fold["at_mm"]), step / 2 + 1e-6)
                self.assertEqual(hit["start"], name_of(made.size["spans"][0]["name"]))
        self.each(hold)

    def test_a_card_is_drawn_told_and_bought_in_one_size(self):
        def hold(made):
            outlines = []
            for card in made.size["cards"]:
                if card["outline"] not in [one["outline"] for one in outlines]:
                    outlines.append(card)
            drawn = made.drawings("mask")
            self.assertEqual(len(drawn), len(outlines))
            sizes = []
            for (name, (labels, shapes)), card in zip(drawn.items(), outlines):
                xs, ys = zip(*card["outline"])
                box = (max(xs) - min(xs), max(ys) - min(ys))
                edge = max((shape for shape in shapes if shape.name.startswith(("slip-card", "shield"))),
                           key=lambda shape: shape.height)
                left, bottom = min(x for x, _ in edge.points), max(y for _, y in edge.points)
                drawn_at = [(x - left, bottom - y) for x, y in edge.points]
                for x, y in card["outline"]:
                    corner = (x - min(xs), y - min(ys))
                    self.assertLess(min(math.dist(corner, one) for one in drawn_at), 0.01, (name, corner))
                told = said("drawing-card-size").search(" ".join(label.words for label in labels))
                self.hold_length(told["bar"], card["bar_width_mm"])
                self.hold_length(told["stem"], card["stem_width_mm"])
                self.hold_length(told["length"], card["stem_length_mm"])
                if "compartment" in card and len(made.size["compartments"]) > 1:
                    self.assertIn(filled("drawing-card-for-compartment", compartment=card["compartment"]),
                                  [label.words for label in labels])
                sizes.append((card["card"].replace(" ", "_"), *box))
                stems = said("size-cards-are").fullmatch(made.row("size-cards"))
                first = next(one for one in outlines if one["card"] == card["card"])
                if card is first:
                    self.assertEqual(told["stem"], stems["shield" if card["card"] == "shield" else "stem"].split(" (")[0])
            bought = [(one["card"], one["width_mm"], one["height_mm"]) for one in made.supplies["cards"]]
            self.assertEqual(len(bought), len(sizes))
            for a, b in zip(sorted(bought), sorted(sizes)):
                self.assertEqual(a[0], b[0])
                self.assertAlmostEqual(a[1], b[1], places=3)
                self.assertAlmostEqual(a[2], b[2], places=3)
        self.each(hold)

    def test_seal_and_seam_are_told_alike(self):
        def hold(made):
            seal = made.row("size-seal-width")
            bottom = squeezed(filled("overview-seal-bottom")) in squeezed(made.packet)
            self.hold_row(made.packet, "overview-seal-bottom" if bottom else "overview-seal", seal)
            short = seal.split(" (")[0]
            main = " ".join(label.words for label in made.drawings("template")["template"][0])
            # In inches a small length has its millimetres beside it.
            lines = [squeezed(filled("drawing-line-seal", seal=one)) for one in (short, seal)]
            self.assertTrue(any(line in squeezed(main) for line in lines), lines)
            first = r" (.+? (?:mm|in))\b"
            sewn = {re.search(re.escape(WORDS["overview-sewn"]) + first, made.packet)[1]}
            reach = {re.search(re.escape(WORDS["overview-reach"]) + first, made.packet)[1]}
            told = {(hit["allowance"].strip().split(" (")[0], hit["reach"].split(" (")[0])
                    for step in made.steps for hit in said("steps-sew-how").finditer(step["words"])}
            self.assertEqual(told, set(zip(sewn, reach)))
            looked = {hit["reach"].split(" (")[0] for key in ("leak-look-sewn", "leak-look-seam")
                      for hit in said(key).finditer(made.packet)}
            self.assertLessEqual(looked, {reach for _, reach in told})
        self.each(hold)


class Water(Job):
    def test_water_line_and_level_are_told_alike(self):
        def hold(made):
            line = made.row("size-water-line")
            self.hold_length(line, made.size["water_line_mm"], at_most=True)
            # Papers promise what the test fills to, and no more.
            level = said("size-test-fill-is").fullmatch(made.row("size-test-fill"))["level"]
            self.hold_stands(f'{filled("overview-water")} {level.split(" (")[0]}', made.packet)
            self.hold_carried(made)
            self.assertEqual(made.size["water_line_mm"], made.size["compartments"][0]["water_line_mm"])
            self.assertEqual(made.size["water_line_because"],
                             made.size["compartments"][0]["water_line_because"])
            self.assertEqual(made.row("size-because"), made.size["water_line_because"])
        self.each(hold)

    def hold_carried(self, made):
        """The card that goes home tells the level that can be carried, as the table does."""
        limit = said("size-carry-fill-is").fullmatch(made.row("size-carry-fill"))
        card = next((hit for key in ("home-carry-cups", "home-carry", "home-carry-level")
                     if (hit := said(key).search(made.packet))), None)
        self.assertEqual(card is None, limit is None)
        if card:
            self.assertEqual(card["level"], limit["level"].split(" (")[0])

    def test_the_test_s_level_and_time_are_told_alike(self):
        def hold(made):
            test = said("size-test-fill-is").fullmatch(made.row("size-test-fill"))
            level = test["level"].split(" (")[0]
            steps = [hit for step in made.steps for hit in said("steps-test-how").finditer(step["words"])]
            self.assertEqual([hit["level"] for hit in steps], [level])
            self.hold_length(level, made.size["water"]["test_level_mm"], at_most=True)
            leak = (said("leak-fill-ounces" if made.unit == "in" else "leak-fill").search(made.packet))
            self.assertEqual((leak["level"], leak["millilitres"]), (level, test["ml"]))
            self.hold_says(made.packet, "leak-picture-water", level=level)
            parts = " ".join(label.words for labels, _ in made.drawings("template").values() for label in labels)
            self.hold_says(parts, "drawing-test-level", level=level)
            # An iron that warms is no pouch that waits.
            pouches = [one for one in made.schedule["steps"] if not one["once"]]
            every = [(names, waits) for (_, names, _, waits), one
                     in zip(made.planned(), made.schedule["steps"], strict=True)
                     if waits and not one["once"]]
            self.assertEqual({waits for _, waits in every},
                             {one["waits_min"] for one in pouches if one["waits_min"]})
            # A first pouch dries, the others stand with the water in.
            dries = {waits for names, waits in every if WORDS["operation-fill-first"] in names}
            waits = {waits for names, waits in every if WORDS["operation-fill-first"] not in names}
            self.assertEqual(dries, {float(hit["minutes"]) for step in made.steps
                                     for hit in said("steps-fill-dry-minutes").finditer(step["words"])})
            self.assertEqual(len(dries), 1)
            self.assertEqual(waits, {float(steps[0]["minutes"])})
            self.assertEqual(waits, {float(hit["minutes"]) for hit in said("leak-wait").finditer(made.packet)})
        self.each(hold)


class Plan(Job):
    def test_minutes_are_the_report_s(self):
        def hold(made):
            for (letter, _, minutes, _), entry in zip(made.planned(), made.schedule["steps"], strict=True):
                # Of one pouch that is worked on alone.
                each = sum(one["piece_min"] + one["bundle_min"] for one in entry["operations"])
                # What is done once is told to a tenth of a minute.
                delta = 0.051 if entry["once"] else 0.0051
                self.assertAlmostEqual(minutes, each, delta=delta, msg=letter)
            ends = said("schedule-finish").search(made.plan)
            self.hold_stands(ends[0], made.packet)
            hours = re.fullmatch(r"(?:(\d+) h )?(\d+) min", ends["time"])
            told = int(hours[1] or 0) * 60 + int(hours[2])
            self.assertLess(abs(told - made.schedule["makespan_min"]), 1)
            if made.unit != "mm":
                return
            for row, task in zip(made.csv_of("schedule"), made.schedule["tasks"], strict=True):
                self.assertEqual((row["operation"], row["station"], int(row["helper"]), int(row["bundle"])),
                                 (task["operation"], task["station"], task["helper"], task["bundle"]))
                self.assertAlmostEqual(float(row["end_min"]), task["end_min"], delta=0.0051)
                self.assertEqual(row["picture"], "" if task["picture"] is None else str(task["picture"]))
        self.each(hold)

    def test_the_list_is_one_in_every_form(self):
        def hold(made):
            for row, entry in zip(made.csv_of("supplies"), made.supplies["supplies"], strict=True):
                self.assertEqual((row["kind"], row["name"], row["what"], row["unit"]),
                                 (entry["kind"], entry["name"], entry["what"], entry["unit"]))
                amount = re.search(r"^  " + re.escape(entry["what"]) + r"(?: \*)?  +([\d./]+(?: \d+/\d+)?)",
                                   made.list, re.M)
                told = float(sum(fractions.Fraction(part) for part in amount[1].split()))
                self.assertAlmostEqual(float(row["amount"]), entry["amount"], delta=0.0005)
                # What people buy by is rounded up, to hundredths; yards to eighths.
                self.assertGreater(told, entry["amount"] - 1e-9)
                self.assertLess(told, entry["amount"] + 0.0106)
                self.hold_stands(entry["what"], made.packet)
        self.each(hold)

    def test_the_job_s_own_count_is_on_every_sheet(self):
        def hold(made):
            pouches = tomllib.loads(made.job.read_text(encoding="utf-8"))["batch"]["pouches"]
            self.assertEqual(pouches, made.supplies["pouches"])
            plan = said("schedule-batch").search(made.plan) or said("schedule-batch-last").search(made.plan)
            self.assertEqual(int(plan["pouches"]), pouches)
            overview = said("overview-batch", r"\d+").search(made.packet)
            self.assertEqual((int(overview["pouches"]), int(overview["helpers"])),
                             (pouches, made.schedule["helpers"]))
        self.each(hold)


if __name__ == "__main__":
    unittest.main()
