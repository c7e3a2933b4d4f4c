"""The `packet` command: one PDF of all sections in order of use, measured by poppler and qpdf."""

import json
import pathlib
import re
import struct
import subprocess
import unittest

import program
import vectors

# The order of use, and which sections are at full size.
SECTIONS = ["overview", "cautions", "supplies", "iron", "template", "mask", "steps", "first", "checks",
            "record", "schedule", "stations", "lay", "home", "printing", "job"]
FULL_SIZE = ["template", "mask"]


def made(folder, *options, job=program.SAMPLE):
    """(report, path of the PDF)"""
    path = pathlib.Path(folder) / "packet.pdf"
    done = subprocess.run([program.PROGRAM, "packet", str(job), *options, "--json", "--quiet",
                           "-o", str(path)], capture_output=True, env=program.environment(),
                          timeout=60)
    if done.returncode:
        raise program.Refused(done.returncode, done.stderr.decode())
    return json.loads(done.stdout), path


def names(report):
    return [section["name"] for section in report["sections"]]


def pages_of(report, name):
    section = next(one for one in report["sections"] if one["name"] == name)
    return range(section["first_page"], section["first_page"] + section["pages"])


def page_count(path):
    return int(subprocess.run(["qpdf", "--show-npages", path], capture_output=True, text=True,
                              check=True).stdout)


def text_of(path, number):
    return subprocess.run(["pdftotext", "-layout", "-f", str(number), "-l", str(number), path, "-"],
                          capture_output=True, text=True, check=True).stdout


def read(report, path, name):
    """A section's words in reading order, whatever columns they stand in, one blank between any two."""
    pages = pages_of(report, name)
    done = subprocess.run(["pdftotext", "-raw", "-f", str(pages[0]), "-l", str(pages[-1]), path, "-"],
                          capture_output=True, text=True, check=True)
    return " ".join(done.stdout.split())


def facts(path):
    done = subprocess.run(["qpdf", "--json=2", "--json-key=outlines", "--json-key=pagelabels", path],
                          capture_output=True, check=True)
    return json.loads(done.stdout)


class Packet(unittest.TestCase):
    def each(self, *options, **how):
        folder = self.enterContext(program.temporary_folder())
        return made(folder, *options, **how)

    def test_all_that_is_said_of_the_leak_test_stands_on_its_first_page(self):
        for paper, units in (("a4", "mm"), ("letter", "in")):
            with self.subTest(paper):
                report, path = self.each("--only", "checks", "--paper", paper, "--units", units)
                first, *others = pages_of(report, "checks")
                self.assertIn("When one leaks", text_of(path, first))
                self.assertIn("same iron?", text_of(path, first))
                for page in others:
                    self.assertNotIn("same iron?", text_of(path, page))

    def test_four_cards_to_go_home_stand_on_a_page_also_of_the_longest_words(self):
        for paper, units in (("a4", "mm"), ("letter", "in")):
            with self.subTest(paper):
                report, path = self.each("--only", "home", "--paper", paper, "--units", units,
                                         job=program.SAMPLE.parent / "heron-quay-rolltop.toml")
                page, = pages_of(report, "home")
                self.assertEqual(text_of(path, page).count("No medical device"), 4)

    def test_six_steps_of_a_double_pouch_stand_on_a_page_too(self):
        report, path = self.each("--only", "steps", "--paper", "a4",
                                 job=program.SAMPLE.parent / "heron-quay-double.toml")
        first = text_of(path, pages_of(report, "steps")[0])
        self.assertIn("Fold under: dry front", first)
        # Words stand beside the pictures, not above them.
        self.assertRegex(first, r"1 +Mark the folds")
        self.assertNotIn("Fuse the hatched bands", first)

    def test_every_station_has_a_card_with_its_bundles_to_tick(self):
        for paper, units in (("a4", "mm"), ("letter", "in")):
            with self.subTest(paper):
                report, path = self.each("--only", "schedule,stations", "--paper", paper, "--units",
                                         units, "--set", "batch.pouches=100", "--set",
                                         "batch.helpers=5")
                plan = read(report, path, "schedule")
                cards = read(report, path, "stations")
                for helper in range(1, 6):
                    self.assertIn(f"helper {helper}", plan)
                    self.assertIn(f"helper {helper}", cards)
                many = cards.count("Tick each bundle")
                self.assertGreaterEqual(many, 3)
                self.assertEqual(cards.count("What goes wrong most often"), many)
                # Twenty boxes with their numbers on each, two cards on a page at the most.
                self.assertGreaterEqual(len(re.findall(r"(?<!\S)20(?!\S)", cards)), many)
                self.assertLessEqual(len(pages_of(report, "stations")), many)

    def test_the_first_pouch_has_five_faults_on_one_page(self):
        for job in sorted(program.SAMPLE.parent.glob("heron-quay*.toml")):
            with self.subTest(job.name):
                report, path = self.each("--only", "first", job=job)
                page, = pages_of(report, "first")
                text = read(report, path, "first")
                for fault in ("A gap at the bottom corner", "The knife cut", "A hole from a clip",
                              "crooked", "A thread tail"):
                    self.assertIn(fault, text)

    def test_sections_follow_each_other_without_gaps(self):
        report, path = self.each()
        self.assertEqual(names(report), SECTIONS)
        following = 1
        for section in report["sections"]:
            self.assertEqual(section["first_page"], following, section)
            self.assertGreaterEqual(section["pages"], 1)
            following += section["pages"]
        self.assertEqual(page_count(path), following - 1)

    def test_each_section_has_its_bookmark_in_order(self):
        report, path = self.each()
        outlines = facts(path)["outlines"]
        self.assertEqual([one["title"] for one in outlines],
                         [section["title"] for section in report["sections"]])
        self.assertEqual([one["destpageposfrom1"] for one in outlines],
                         [section["first_page"] for section in report["sections"]])

    def test_every_page_has_its_number_and_says_what_it_is(self):
        report, path = self.each()
        count = page_count(path)
        full = {number for name in FULL_SIZE for number in pages_of(report, name)}
        for number in range(1, count + 1):
            with self.subTest(page=number):
                text = text_of(path, number)
                self.assertIn(f"page {number} of {count}", text)
                self.assertEqual("its check square must measure 50 mm" in text, number in full)
                section = next(one for one in report["sections"]
                               if number in pages_of(report, one["name"]))
                self.assertRegex(text, rf"(?m)^ *{section['title']}")

    def test_a_page_says_what_it_is_inside_the_margins_where_they_are_narrow(self):
        # A margin is what the job's printer leaves white: words in it might not come out.
        for margin in (0, 3, 8):
            report, path = self.each("--only", "template,mask", "--set",
                                     f"paper.margin={margin}mm")
            count = page_count(path)
            boxes = subprocess.run(["pdftotext", "-bbox", path, "-"], capture_output=True,
                                   text=True, check=True).stdout.split("<page ")[1:]
            self.assertEqual(len(boxes), count)
            for number, page in enumerate(boxes, 1):
                with self.subTest(margin=margin, page=number):
                    text = text_of(path, number)
                    self.assertIn(f"page {number} of {count}", text)
                    self.assertIn("its check square must measure 50 mm", text)
                    width, height = (float(one) for one in
                                     re.match(r'width="([\d.]+)" height="([\d.]+)"', page).groups())
                    edge = margin * 72 / 25.4 - 0.5
                    found = re.findall(r'<word ([^>]*)>(?:page|size:|measure)<', page)
                    self.assertGreaterEqual(len(found), 3)
                    for word in found:
                        x0, y0, x1, y1 = (float(one) for one in re.findall(r'="([\d.-]+)"', word))
                        # Across: poppler's boxes are higher than the letters.
                        self.assertGreaterEqual(x0, edge, word)
                        self.assertLessEqual(x1, width - edge, word)
                        self.assertLessEqual((y0 + y1) / 2, height - edge, word)

    def test_cut_plans_say_what_their_cloth_is_for(self):
        report, path = self.each("--only", "lay")
        heads = [text_of(path, number).split("\n")[0] for number in pages_of(report, "lay")]
        self.assertTrue(heads[0].startswith("Laminate, 150 cm PUL: "), heads)
        self.assertTrue(heads[1].startswith("Outer, 110 cm cotton: "), heads)

    def test_no_page_has_a_second_count(self):
        report, path = self.each()
        for name in FULL_SIZE:
            for number in pages_of(report, name):
                with self.subTest(page=number):
                    self.assertEqual(len(re.findall(r"page \d+ of \d+", text_of(path, number))), 1)

    def test_check_squares_stand_on_full_size_pages_only(self):
        # ISO 216 A4; the square is 50 mm +- 0.05 mm between line centres (as check_square_test).
        report, path = self.each()
        full = {}
        for document in report["documents"]:
            for page in document["pages"]:
                full[page["page"]] = page["check_square"]
        self.assertEqual(sorted(full), [*pages_of(report, "template"), *pages_of(report, "mask")])
        for number in range(1, page_count(path) + 1):
            drawn = vectors.pdf_page(path, number, strokes_only=True)
            with self.subTest(page=number):
                if number not in full:
                    self.assertEqual(list(squares(drawn)), [])
                    continue
                at = (full[number]["x_mm"], full[number]["y_mm"])
                found = list(vectors.rectangles(drawn, 50, 50, at, 0.5, 0.1))
                self.assertEqual(len(found), 1)
                for seen, stated in zip(found[0], (*at, 50, 50)):
                    self.assertAlmostEqual(seen, stated, delta=0.05)

    def test_cells_are_unique_in_the_file(self):
        report, _ = self.each()
        cells = [page["cell"] for document in report["documents"] for page in document["pages"]]
        self.assertEqual(len(cells), len(set(cells)))

    def test_full_size_parts_are_those_of_their_commands(self):
        report, _ = self.each()
        with program.temporary_folder() as folder:
            for name in FULL_SIZE:
                alone = program.run(name, program.SAMPLE, folder).report["documents"]
                for document in alone:
                    here = next(one for one in report["documents"]
                                if one["name"] == document["name"])
                    self.assertEqual([page["window"] for page in here["pages"]],
                                     [page["window"] for page in document["pages"]])
                    self.assertEqual(here["canvas"], document["canvas"])

    def test_pictures_show_the_first_page_of_each_section(self):
        # PNG, third edition: width and height follow the signature and the first chunk's head.
        report, path = self.each("--only", "steps,cautions", "--png")
        self.assertEqual(sorted(one.name for one in path.parent.glob("*.png")),
                         ["packet-cautions.png", "packet-steps.png"])
        width, height = struct.unpack(">II", (path.parent / "packet-steps.png").read_bytes()[16:24])
        self.assertAlmostEqual(width / height, 210 / 297, delta=0.01)  # ISO 216 A4

    def test_the_same_job_gives_the_same_bytes(self):
        self.assertEqual(self.each()[1].read_bytes(), self.each()[1].read_bytes())

    def test_only_and_without(self):
        report, path = self.each("--only", "cautions, steps")
        self.assertEqual(names(report), ["cautions", "steps"])
        self.assertEqual(page_count(path), sum(one["pages"] for one in report["sections"]))
        self.assertEqual(report["documents"], [])
        report, _ = self.each("--without", "schedule,mask")
        self.assertEqual(names(report),
                         [name for name in SECTIONS if name not in ("schedule", "mask")])
        report, _ = self.each("--only", "mask,steps", "--without", "steps")
        self.assertEqual(names(report), ["mask"])

    def test_the_page_for_whoever_prints_tells_of_the_print_and_of_warnings(self):
        report, path = self.each()
        text = " ".join(text_of(path, pages_of(report, "printing")[0]).split())
        home = next(one for one in report["sections"] if one["name"] == "home")
        self.assertIn(f"cards to go home {home['prints']} times", text)
        self.assertIn("as the printed square", text)
        self.assertNotIn("Corrected for a printer", text)
        warned, path = self.each("--printed-square", "49.6x50.2", "--set", "pouch.seal_width=9mm")
        text = " ".join(text_of(path, pages_of(warned, "printing")[0]).split())
        self.assertIn("49.6 mm x 50.2 mm", text)
        self.assertNotIn("as the printed square", text)
        self.assertGreater(len(warned["warnings"]), 0)
        for warning in warned["warnings"]:
            self.assertIn("".join(warning["message"].split()), "".join(text.split()))

    def test_who_cuts_with_a_ruler_gets_the_gauge_and_no_template(self):
        report, path = self.each("--template", "gauge")
        self.assertEqual(names(report), [name for name in SECTIONS if name != "template"])
        cards = "".join(text_of(path, number) for number in pages_of(report, "mask"))
        self.assertIn("Fold gauge", cards)
        self.assertIn("fold it by the gauge", " ".join(text_of(path, 1).split()))
        full, _ = self.each("--template", "full")
        self.assertEqual(names(full), SECTIONS)
        stated, _ = self.each("--set", 'packet.template="gauge"')
        self.assertEqual(names(stated), names(report))
        gauges = [one for one in full["documents"] if one["name"] == "gauge"]
        self.assertEqual(len(gauges), 1)

    def test_one_card_for_each_pouch_unless_copies_are_asked_for(self):
        # The sample makes 40 pouches; a card's last line stands on each.
        for options, count in (((), 40), (("--set", "batch.pouches=100"), 100),
                               (("--set", "batch.pouches=4"), 4)):
            report, path = self.each("--only", "overview,home", *options)
            self.assertEqual(len(pages_of(report, "home")), 1)
            text = text_of(path, pages_of(report, "home")[0])
            cards = text.count("No medical device,")
            prints = report["sections"][1]["prints"]
            self.assertEqual(prints, -(-count // cards))  # as few as it takes
            if prints > 1:
                self.assertIn(f"Print this page {prints} times for {count} pouches", text)
                self.assertIn(f"Print the cards' page {prints} times", text_of(path, 1))
            else:
                self.assertNotIn("Print", text)
        for copies in (3, 40):
            report, path = self.each("--only", "home", "--copies", str(copies))
            text = "".join(text_of(path, number) for number in pages_of(report, "home"))
            self.assertEqual(text.count("No medical device,"), copies)
            self.assertEqual(report["sections"][0]["prints"], 1)
            self.assertNotIn("Print this page", text)

    def test_the_shopping_list_counts_all_that_is_printed_of_the_packet(self):
        report, path = self.each()
        text = text_of(path, pages_of(report, "supplies")[0])
        home = next(one for one in report["sections"] if one["name"] == "home")
        self.assertGreater(home["prints"], 1)
        printed = page_count(path) + (home["prints"] - 1) * home["pages"]
        self.assertRegex(text, rf"pages to print +{printed} ")

    def test_the_overview_names_the_first_page_of_every_other_section(self):
        report, path = self.each()
        text = text_of(path, 1)
        told = [int(page) for page in re.findall(r" page (\d+)\n", text)]
        self.assertEqual(told, [section["first_page"] for section in report["sections"][1:]])

    def test_an_iron_trial_that_was_made_is_told(self):
        report, path = self.each("--set", "iron.dots=2", "--set", "iron.seconds=8")
        self.assertIn("Set the iron to what the trial showed", text_of(path, 1))
        self.assertIn("8 s", text_of(path, pages_of(report, "iron")[0]))
        steps = " ".join(text_of(path, number) for number in pages_of(report, "steps"))
        self.assertIn("dots 2, no steam", " ".join(steps.split()))

    def test_steps_and_leak_test_fill_to_the_same_level(self):
        # Worked by hand: depth 165, lip drop 10, the start's needles 5 in: water line 150, less 5.
        report, path = self.each()
        steps = " ".join(text_of(path, number) for number in pages_of(report, "steps"))
        self.assertIn("145 mm above the bottom", " ".join(steps.split()))
        self.assertRegex(" ".join(text_of(path, pages_of(report, "checks")[0]).split()),
                         "145 mm above")

    def test_of_two_pockets_the_one_is_named(self):
        job = program.SAMPLE.parent / "heron-quay-double.toml"
        report, path = self.each("--without", "schedule,lay,supplies", job=job)
        steps = " ".join(text_of(path, number) for number in pages_of(report, "steps"))
        for words in ("Pull the slip card out: wet pocket", "Pull the slip card out: dry pocket",
                      "Test with water: wet pocket"):
            self.assertIn(words, " ".join(steps.split()))
        self.assertIn("Test this pocket: wet pocket.", text_of(path, pages_of(report, "checks")[0]))
        cards = read(report, path, "mask")
        self.assertIn("For the wet pocket.", cards)
        # It stands in a column beside others: its words come line by line.
        self.assertIn("3. Fold the pocket shut", " ".join(cards.split()))

    def test_a_pouch_without_a_flap_is_told_of_without_one(self):
        # depth 180: the first roll is the water line, less 5 (patterns/rolltop.toml).
        job = program.SAMPLE.parent / "heron-quay-rolltop.toml"
        report, path = self.each("--only", "checks,home", job=job)
        leak = read(report, path, "checks")
        home = " ".join(text_of(path, pages_of(report, "home")[0]).split())
        self.assertIn("fill to here", leak)
        self.assertIn("water up to 175 mm above the bottom", " ".join(leak.split()))
        self.assertIn("Only after that: roll the mouth down", leak)
        self.assertIn("Lay the slip card back inside and the shield on top first", leak)
        self.assertNotIn("flap", leak + home)
        # A caption stands in a column beside others: its words come line by line.
        for word in ("Liners in, roll", "down 3×, close", "snap of the", "straps."):
            self.assertIn(word, home)

    def test_where_a_flap_is_caught_a_pouch_is_pressed_again_under_a_shield_or_not_at_all(self):
        # As a practitioner does it, who keeps her card on top; common practice, no source.
        for name, caught in (("heron-quay", True), ("heron-quay-gusset", True),
                             ("heron-quay-freeflap", False), ("heron-quay-sleeve", False)):
            for cards in ("both", "inside"):
                with self.subTest(name, cards=cards):
                    report, path = self.each("--only", "overview,checks", "--set", f"pouch.cards={cards}",
                                             job=program.SAMPLE.parent / f"{name}.toml")
                    overview, leak = (read(report, path, part) for part in ("overview", "checks"))
                    again = cards == "both" or not caught
                    self.assertEqual("press the fused band there again" in leak, again)
                    self.assertEqual("so no card goes back in" in leak, not again)
                    self.assertEqual("the shield does on top" in leak, caught and again)
                    # The overview promises no mending that the leak sheet refuses.
                    self.assertEqual("mend or set aside" in overview, again)

    def test_one_pouch_is_spoken_of_as_one(self):
        report, path = self.each("--set", "batch.pouches=1", "--set", "batch.helpers=1")
        text = text_of(path, 1)
        self.assertIn("Make the pouch step by step.", text)
        self.assertNotIn("pouches", text)

    def test_a_sampling_plan_stands_on_the_leak_test(self):
        # ISO 2859-1, level II: 26 to 50 pieces are code letter D, a sample of 8; AQL 1.5 stands
        # in that row (cells as in MIL-STD-105E, table II-A).
        report, path = self.each("--set", "batch.aql=1.5")
        text = " ".join(" ".join(text_of(path, page) for page in pages_of(report, "checks")).split())
        self.assertIn("letter D, take 8 at random", text)

    def test_other_constructions_and_papers(self):
        for text in (program.GUSSET, program.INCHES):
            with program.temporary_folder() as folder:
                job = folder / "job.toml"
                job.write_text(text, encoding="utf-8")
                for options in ((), ("--paper", "A6"), ("--paper", "A3")):
                    with self.subTest(text, options=options):
                        report, path = made(folder, *options, job=job)
                        self.assertEqual(page_count(path),
                                         sum(one["pages"] for one in report["sections"]))


def squares(drawn):
    """Squares of 50 mm anywhere on a page."""
    for line in drawn.polylines:
        xs, ys = [p[0] for p in line.points], [p[1] for p in line.points]
        if (len(line.points) >= 4 and abs(max(xs) - min(xs) - 50) < 0.05
                and abs(max(ys) - min(ys) - 50) < 0.05):
            yield min(xs), min(ys)


if __name__ == "__main__":
    unittest.main()
