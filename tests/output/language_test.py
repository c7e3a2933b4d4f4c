"""A language changes words and the marks of numbers, and nothing else."""

import collections
import json
import pathlib
import re
import subprocess
import tomllib
import unittest

import program

TONGUES = sorted(path.stem for path in (program.SOURCE / "shared" / "words").glob("*.toml")
                 if path.stem not in ("en", "glossary") and "-" not in path.stem)
# Whose decimal mark is a comma (CLDR 48; tests/words holds the files to it).
COMMAS = ("de", "es", "fr", "pt")

# The foot of a page has its number, which may be another: texts take other room.
FOOT_MM = 18
# A number as it is printed with what it counts; words for lone counts may be words ("two sides").
MEASURE = re.compile(r"(\d+(?:[.,]\d+)?(?: \d+[⁄/]\d+)?|[¼½¾⅛⅜⅝⅞])[\s\u00a0\u202f]+(mm|cm|m|m²|ml|°C|in|yd|kPa|%)(?![\w²])")


def run(*arguments, **changes):
    return subprocess.run([program.PROGRAM, *map(str, arguments)], capture_output=True, text=True,
                          env=program.environment(**{"LC_ALL": "C.UTF-8", **changes}), timeout=120, check=False)


def report(*arguments, **changes):
    done = run(*arguments, "--json", **changes)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def numbers_in(value):
    """All numbers of a report, in order."""
    if isinstance(value, dict):
        return [one for part in value.values() for one in numbers_in(part)]
    if isinstance(value, list):
        return [one for part in value for one in numbers_in(part)]
    return [value] if isinstance(value, (int, float)) and not isinstance(value, bool) else []


def measures_of(pdf, first, pages):
    """How often each measure stands on some pages: ("12.5", "mm") -> 3."""
    page = subprocess.run(["pdfinfo", pdf], capture_output=True, text=True, check=True).stdout
    _, height = map(float, re.search(r"Page size: +([\d.]+) x ([\d.]+)", page).groups())
    shown = subprocess.run(["pdftotext", "-f", str(first), "-l", str(first + pages - 1), "-x", "0", "-y", "0",
                            "-W", "100000", "-H", str(int(height - FOOT_MM * 72 / 25.4)), pdf, "-"],
                           capture_output=True, text=True, check=True).stdout
    shown = re.sub("[\u200e\u200f\u202a-\u202e\u2066-\u2069]", " ", shown)
    return collections.Counter((number.replace(",", "."), unit) for number, unit in MEASURE.findall(shown))


def pages_of_boxes(pdf):
    """(width, height, [((x0, y0, x1, y1), word)]) of each page, in points from its top left corner."""
    shown = subprocess.run(["pdftotext", "-bbox", pdf, "-"], capture_output=True, text=True, check=True).stdout
    pages = []
    for page in shown.split("<page ")[1:]:
        width, height = map(float, re.search(r'width="([\d.]+)" height="([\d.]+)"', page).groups())
        words = re.findall(r'xMin="(-?[\d.]+)" yMin="(-?[\d.]+)" xMax="(-?[\d.]+)" yMax="(-?[\d.]+)">([^<]*)<', page)
        pages.append((width, height, [(tuple(map(float, one[:4])), one[4]) for one in words]))
    return pages


class Packets(unittest.TestCase):
    def packet(self, folder, tag):
        pdf = folder / f"{tag}.pdf"
        told = report("packet", program.SAMPLE, "--language", tag, "--out", pdf)
        return {one["name"]: measures_of(pdf, one["first_page"], one["pages"]) for one in told["sections"]}

    def test_every_sheet_has_the_numbers_of_the_english_one(self):
        with program.temporary_folder() as folder:
            english = self.packet(folder, "en")
            self.assertGreater(sum(sum(one.values()) for one in english.values()), 200)
            for tag in TONGUES:
                told = self.packet(folder, tag)
                self.assertEqual(told.keys(), english.keys())
                for section, measures in english.items():
                    with self.subTest(tag, section=section):
                        self.assertLessEqual(set(told[section]), set(measures))
                        # A station's card explains as much as half a page holds, the steps all of it.
                        if section != "stations":
                            self.assertEqual(set(told[section]), set(measures))

    def test_no_word_leaves_the_paper(self):
        for tag in TONGUES:
            for paper in ("A4", "Letter"):
                with self.subTest(tag, paper=paper), program.temporary_folder() as folder:
                    pdf = folder / "packet.pdf"
                    report("packet", program.SAMPLE, "--language", tag, "--paper", paper, "--out", pdf)
                    pages = pages_of_boxes(pdf)
                    self.assertGreater(len(pages), 20)
                    for number, (width, height, boxes) in enumerate(pages, 1):
                        outside = [word for (x0, y0, x1, y1), word in boxes
                                   if x0 < 0 or y0 < 0 or x1 > width or y1 > height]
                        self.assertEqual((number, outside), (number, []))

    def test_the_same_bytes_again(self):
        with program.temporary_folder() as folder:
            for number in (1, 2):
                report("packet", program.SAMPLE, "--language", "ar", "--out", folder / f"{number}.pdf")
            self.assertEqual((folder / "1.pdf").read_bytes(), (folder / "2.pdf").read_bytes())


class WhatAJobMeans(unittest.TestCase):
    def test_no_language_changes_a_number_of_a_report(self):
        for command in ("size", "lay", "supplies", "schedule"):
            english = numbers_in(report(command, program.SAMPLE))
            for tag in TONGUES:
                with self.subTest(command, language=tag):
                    self.assertEqual(numbers_in(report(command, program.SAMPLE, "--language", tag)), english)

    def test_the_same_file_cuts_the_same_pouch_on_every_machine(self):
        # What a cutting machine takes: only lines.
        drawn = set()
        with program.temporary_folder() as folder:
            for number, country in enumerate(("C.UTF-8", "en_US.UTF-8", "de_DE.UTF-8", "ar_EG.UTF-8")):
                out = folder / str(number)
                done = subprocess.run([program.PROGRAM, "template", program.SAMPLE, "--lines-only", "--out", out],
                                      env=program.environment(LC_ALL=country), capture_output=True, check=True)
                self.assertEqual(done.stderr, b"")
                svg = (out / "template.svg").read_text(encoding="utf-8")
                drawn.add(tuple(re.findall(r' d="([^"]+)"', svg)))
        self.assertEqual(len(drawn), 1)
        self.assertTrue(drawn.pop())


class Choosing(unittest.TestCase):
    """--language, then the job, then its group, then the environment, then English."""

    def said(self, *arguments, **changes):
        done = run(*arguments, **changes)
        self.assertEqual(done.returncode, 0, done.stderr)
        return done.stdout

    def job(self, folder, *lines):
        path = folder / "job.toml"
        path.write_text("\n".join(lines) + "\n" + program.SAMPLE.read_text(encoding="utf-8"), encoding="utf-8")
        return path

    def test_the_order(self):
        with program.temporary_folder() as folder:
            german, french = self.job(folder, 'language = "de"'), folder / "group.toml"
            french.write_text('language = "fr-CH"\n', encoding="utf-8")
            told = {tag: self.said("size", program.SAMPLE, "--language", tag) for tag in ("en", "de", "fr", "es")}
            self.assertEqual(len(set(told.values())), 4)
            self.assertEqual(self.said("size", german), told["de"])
            self.assertEqual(self.said("size", german, "--language", "es-MX"), told["es"])
            self.assertEqual(self.said("size", german, POUCHWRIGHT_GROUP=str(french)), told["de"])
            self.assertEqual(self.said("size", program.SAMPLE, POUCHWRIGHT_GROUP=str(french)), told["fr"])
            self.assertEqual(self.said("size", program.SAMPLE, LC_ALL="es_AR.UTF-8"), told["es"])
            self.assertEqual(self.said("size", program.SAMPLE, LC_ALL="", LC_MESSAGES="de_AT", LANG="fr_FR"),
                             told["de"])
            self.assertEqual(self.said("size", program.SAMPLE, LC_ALL="xx_XX.UTF-8", LANG="de_DE"), told["en"])

    def test_a_number_has_the_decimal_mark_of_its_language(self):
        for tag in TONGUES:
            text = self.said("size", program.SAMPLE, "--set", "pouch.seal_width=12.5mm", "--language", tag)
            with self.subTest(tag):
                self.assertIn("12,5 mm" if tag in COMMAS else "12.5 mm", text.replace("\u00a0", " "))

    def test_an_unknown_language_is_told_with_those_that_there_are(self):
        done = run("size", program.SAMPLE, "--language", "xx")
        self.assertEqual(done.returncode, 2)
        self.assertIn("xx", done.stderr)
        self.assertIn("ar, de, en, en-GB, en-US, es, fr, hi, pt, sw", done.stderr)
        with program.temporary_folder() as folder:
            done = run("size", self.job(folder, 'language = "xx"'))
            self.assertEqual(done.returncode, 1)
            self.assertIn("job.toml:1:12", done.stderr)

    def test_a_draft_says_so_at_the_foot_of_every_sheet(self):
        with program.temporary_folder() as folder:
            pdf = folder / "packet.pdf"
            told = report("packet", program.SAMPLE, "--language", "de", "--out", pdf)
            shown = subprocess.run(["pdftotext", "-layout", pdf, "-"], capture_output=True, text=True, check=True)
            pages = shown.stdout.split("\f")[:-1]
            self.assertEqual(len(pages), sum(one["pages"] for one in told["sections"]))
            for number, page in enumerate(pages, 1):
                with self.subTest(page=number):
                    self.assertIn("Von einer Maschine entworfen", page)
            english = folder / "english.pdf"
            report("packet", program.SAMPLE, "--out", english)
            shown = subprocess.run(["pdftotext", english, "-"], capture_output=True, text=True, check=True)
            self.assertNotIn("Machine draft", shown.stdout)

    def test_cautions_of_a_draft_stand_in_english_as_well(self):
        with program.temporary_folder() as folder:
            pdf = folder / "cautions.pdf"
            report("packet", program.SAMPLE, "--language", "sw", "--only", "cautions", "--out", pdf)
            shown = subprocess.run(["pdftotext", pdf, "-"], capture_output=True, text=True, check=True).stdout
            english = program_words("en")
            for key in ("cautions-iron-dots", "cautions-soiled-hold", "cautions-limits-device"):
                with self.subTest(key):
                    self.assertIn(plain(english[key]), plain(shown))
                    self.assertIn(plain(program_words("sw")[key]), plain(shown))


def program_words(tag):
    return tomllib.loads((program.SOURCE / "shared" / "words" / f"{tag}.toml").read_text(encoding="utf-8"))


def plain(text):
    return re.sub(r"\s+", " ", text.replace("\u00a0", " ").replace("-\n", "-")).strip()


class WordsCommand(unittest.TestCase):
    def check(self, text):
        with program.temporary_folder() as folder:
            path = folder / "own.toml"
            path.write_bytes(text if isinstance(text, bytes) else text.encode())
            return run("words", "--check", path)

    def test_own_files_have_nothing_wrong(self):
        for path in sorted((program.SOURCE / "shared" / "words").glob("*.toml")):
            if path.stem != "glossary":
                with self.subTest(path.name):
                    done = run("words", "--check", path)
                    self.assertEqual((done.returncode, done.stderr), (0, ""))

    def test_what_is_wrong_is_told_at_its_place(self):
        head = '"language-plural-one" = "n = 1"\n'
        for wrong, place, said in (
                ('"desk-titel" = "x"', "2:1", "desk-title"),
                ('"liners-over-none" = "keine"', "2:22", "count"),
                ('"liners-over-none" = "{count} {many}"', "2:22", "many"),
                ('"liners-over-none" = "{count, plural, few {x} other {y}}"', "2:22", "few"),
                ('"liners-over-none" = "{count, plural, one {x}}"', "2:22", "liners-over-none"),
                ('"liners-over-none" = "{count} \u202eabc"', "2:22", "liners-over-none"),
                ('"language-direction" = "up"', "2:24", "up"),
                ('"language-plural-two" = "n is 2"', "2:25", "n is 2"),
                ('"desk-title" = ', "2:", ""),
        ):
            with self.subTest(wrong):
                done = self.check(head + wrong + "\n")
                self.assertEqual(done.returncode, 1, done.stderr)
                self.assertIn(f"own.toml:{place}", done.stderr)
                self.assertIn(said, done.stderr)

    def test_a_byte_order_mark_is_passed_over_and_ten_megabytes_are_not(self):
        self.assertEqual(self.check(b'\xef\xbb\xbf"desk-title" = "x"\n').returncode, 0)
        done = self.check('"desk-title" = "' + "x" * 10_000_000 + '"\n')
        self.assertEqual(done.returncode, 1)
        self.assertIn("2048", done.stderr)

    def test_missing_texts_are_counted(self):
        told = report("words", "--missing", "de")
        self.assertEqual(told["language"], "de")
        self.assertEqual(len(told["missing"]),
                         len(set(program_words("en")) - set(program_words("de"))))
        self.assertEqual(report("words", "--missing", "en")["missing"], [])

    def test_a_review_has_every_text_with_its_english(self):
        with program.temporary_folder() as folder:
            pdf = folder / "es.pdf"
            told = report("words", "--review", "es", "--out", pdf)
            self.assertEqual(told["texts"],
                             sum(not key.startswith("language-") for key in program_words("en")))
            shown = plain(subprocess.run(["pdftotext", pdf, "-"], capture_output=True, text=True, check=True).stdout)
            for key in ("cautions-iron-dots", "desk-title"):
                self.assertIn(plain(program_words("en")[key]), shown)
                self.assertIn(plain(program_words("es")[key]), shown)

    def test_what_it_is_to_do_must_be_said(self):
        for arguments in ((), ("--missing", "de", "--review", "de"), ("--missing", "xx"), ("--review", "de")):
            self.assertEqual(run("words", *arguments).returncode, 2, arguments)

    def test_the_list_names_each_language_and_its_state(self):
        listed = {one["language"]: one for one in report("list", "languages")["languages"]}
        self.assertEqual(listed["en"]["state"], "source")
        self.assertEqual((listed["ar"]["name"], listed["ar"]["state"]), ("العربية", "drafted"))
        self.assertEqual(set(listed), {"en", "en-GB", "en-US", *TONGUES})


if __name__ == "__main__":
    unittest.main()
