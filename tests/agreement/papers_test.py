"""The packet of every starter job, in both units, on A4 and on Letter, read as a person reads it: page
by page. Its sections say the same, whatever the paper; no word of a file, of an option or of the
program's own makes its way on to paper.
"""

import fractions
import itertools
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from outputs import PATTERNS, program, report, said

JOBS = sorted(PATTERNS.glob("heron-quay*.toml"))
# Besides each job as it is: one of them with one card alone.
ONE_CARD = {"on_top": "slip card", "inside": "shield"}
UNITS = ("mm", "in")
PAPERS = ("A4", "Letter")

# What only a file, the command line or the program knows, and words that helpers do not say; the
# list of words is common practice, no source.
NOT_ON_PAPER = {
    "a key of a job": r"\b[a-z]+_[a-z_]+\b",
    "a table of a job": r"\[\[?[a-z][a-z_.]*\]",
    "a path in a job": r"\b(?:batch|lay|pouch|paper|liners|materials|iron|packet|stitches)\.[a-z]",
    "an option": r"(?<!\w)--[a-z]",
    "a value of a file": r"\b(?:true|false|null|NaN|nan|inf)\b",
    "a file": r"\b\w+\.(?:toml|json|csv|svg)\b",
    "the program": r"\b(?:TOML|JSON|command line|pouchwright)\b|\bthe (?:command|job)\b",
    "a length that is nothing": r"≈ 0(?![.\d/])|(?<![\w])-\d",
    "a name in a file": r"\b(?:pul|cotton)-\d",
    "an unfilled hole": r"[{}]",
    "cutting, said as in another trade": r"\b(?:rip|ripped|cross-cut|slit)\b",
    "a part of a card, said in two ways": r"\b(?:stem|stems|arms|crossbar)\b",
    "how the program reckons": r"\b(?:needle reach|clear seal|nested|knit face|hold-up)\b",
    "the opening edge, said in another way": r"\b[Ll]ips?\b",
    "a short end, said in another way": r"\bfree ends: ",
    "a machine, as a standard calls it": r"\boveredge machines?\b|\bStitch \d{3}: ",
    "a count beside a word for many": r"\((?:cards|pouches): ",
    "a 32nd of an inch beside millimetres": r"mm \(≈ [\d ]*/32 in\)",
}
LENGTH = re.compile(r"(?:≈ )?(?:\d+ )?\d[\d./]* (?:mm|in)\b")
# Sheets whose words do not hang on how a drawing is cut into pages.
READ = ("cautions", "iron", "steps", "checks", "home")


def millimetres(length):
    """Of `≈ 7 1/2 in`. Source: 1 in = 25.4 mm, NIST SP 811, appendix B."""
    number, unit = re.fullmatch(r"(?:≈ )?(.+) (mm|in)", length).groups()
    return float(sum(map(fractions.Fraction, number.split()))) * (25.4 if unit == "in" else 1)


@dataclass(eq=False)
class Packet:
    """One job's packet: {section: words of its pages}."""
    job: pathlib.Path
    unit: str
    paper: str
    folder: pathlib.Path
    more: tuple = ()
    pages: dict = field(default_factory=dict)

    def __post_init__(self):
        path = self.folder / f"{self.job.stem}-{self.unit}-{self.paper}{len(self.more)}.pdf"
        options = ("--units", self.unit, "--paper", self.paper, *self.more)
        made = report("packet", self.job, *options, "-o", path)
        self.size = report("size", self.job, *options)
        done = subprocess.run(["pdftotext", "-raw", path, "-"], check=True, text=True,
                              capture_output=True, timeout=60)
        pages = [program.as_typed(" ".join(page.split())) for page in done.stdout.split("\f")]
        for section in made["sections"]:
            first = section["first_page"] - 1
            self.pages[section["name"]] = pages[first:first + section["pages"]]

    def words(self, section):
        return " ".join(self.pages[section])

    def everything(self):
        return " ".join(itertools.chain.from_iterable(self.pages.values()))


def setUpModule():
    global PACKETS
    folder = pathlib.Path(tempfile.mkdtemp(prefix="pouchwright-test-"))
    unittest.addModuleCleanup(shutil.rmtree, folder, True)
    asked = list(itertools.product(JOBS, UNITS, PAPERS))
    with ThreadPoolExecutor(2) as pool:
        PACKETS = list(pool.map(lambda one: Packet(*one, folder), asked))


class Papers(unittest.TestCase):
    def each(self, hold):
        for packet in PACKETS:
            with self.subTest(packet.job.stem, units=packet.unit, paper=packet.paper):
                hold(packet)

    def test_all_constructions_have_a_packet(self):
        self.assertEqual(len(PACKETS), 7 * 4)
        self.each(lambda packet: self.assertGreater(len(packet.pages), 9))

    def test_no_word_of_a_file_or_of_the_program_is_on_paper(self):
        def hold(packet):
            for section, pages in packet.pages.items():
                for page in pages:
                    for what, pattern in NOT_ON_PAPER.items():
                        hit = re.search(pattern, page)
                        if hit:
                            around = page[max(0, hit.start() - 40):hit.end() + 40]
                            self.fail(f"{section}: {what}: …{around}…")
        self.each(hold)

    def test_what_a_paper_calls_carried_is_the_capacity(self):
        def hold(packet):
            liners = packet.size["capacity"]["liners"]
            told = [int(hit["count"]) for hit in
                    re.finditer(r"\b[Cc]arries (?P<count>\d+)\b", packet.everything())]
            self.assertGreaterEqual(len(told), 1)
            self.assertEqual(set(told), {liners})
        self.each(hold)

    def test_a4_and_letter_tell_the_same_lengths(self):
        for packet in PACKETS:
            if packet.paper != "A4":
                continue
            other = next(one for one in PACKETS
                         if (one.job, one.unit, one.paper) == (packet.job, packet.unit, "Letter"))
            for section in READ:
                with self.subTest(packet.job.stem, units=packet.unit, section=section):
                    a, b = (set(LENGTH.findall(one.words(section))) for one in (packet, other))
                    self.assertEqual(a, b)

    def test_a_packet_in_inches_speaks_inches_and_one_in_millimetres_both_or_its_own(self):
        def hold(packet):
            for section in ("steps", "checks", "home"):
                lengths = LENGTH.findall(packet.words(section))
                other = "mm" if packet.unit == "in" else "in"
                alone = [one for one in lengths if one.endswith(other)]
                # Beside its own unit a small or thin thing may have the other one as well.
                for one in alone:
                    self.assertIn(f"({one})", packet.words(section))
        self.each(hold)

    def test_a_card_that_is_not_used_is_on_no_paper(self):
        job = PATTERNS / "heron-quay.toml"
        for cards, other in ONE_CARD.items():
            with tempfile.TemporaryDirectory(prefix="pouchwright-test-") as folder:
                packet = Packet(job, "in", "Letter", pathlib.Path(folder),
                                ("--set", f'pouch.cards="{cards}"'))
                for section, pages in packet.pages.items():
                    with self.subTest(cards=cards, section=section):
                        for page in pages:
                            self.assertNotRegex(page, rf"(?i)\b{other}\b|\bboth cards\b")

    def test_a_hand_keeps_one_distance_from_the_iron_on_all_papers(self):
        def hold(packet):
            told = {hit["distance"] for key in ("cautions-iron-hands", "cautions-iron-no-hands",
                                             "iron-trial-hold")
                    for section in ("cautions", "iron")
                    for hit in said(key).finditer(packet.words(section))}
            self.assertEqual(told, {"120 mm" if packet.unit == "mm" else "5 in"})
        self.each(hold)

    def test_a_card_to_go_home_tells_how_many_liners_and_the_dial_of_its_country(self):
        def hold(packet):
            home = packet.words("home")
            liners = packet.size["capacity"]["liners"]
            self.assertIn("one damp liner" if liners == 1 else f"up to {liners} damp liners", home)
            # ISO 3758's numbers are degrees Celsius; machines of countries with inches have others.
            self.assertEqual("°F" in home, packet.unit == "in")
            self.assertIn("°C", home)
        self.each(hold)

    def test_hemmed_sides_are_not_called_raw(self):
        for packet in PACKETS:
            with self.subTest(packet.job.stem, units=packet.unit, paper=packet.paper):
                steps = packet.words("steps")
                hemmed = said("steps-hem").search(steps) is not None
                self.assertEqual(hemmed, "side edges on side edges" in steps)

    def test_the_trial_is_cut_before_the_panels_and_tries_the_shield_as_well(self):
        def hold(packet):
            day = packet.words("overview")
            order = [day.index(words) for words in
                     ("Buy and lay ready", "strips for the iron trial", "Cut one panel",
                      "Make one pouch", "Test that pouch", "Cut the rest")]
            self.assertEqual(order, sorted(order))
            self.assertIn("shield’s plain card", packet.words("iron"))
        self.each(hold)

    def test_the_level_of_the_test_is_one_number_on_all_papers(self):
        def hold(packet):
            levels = {hit["level"] for key in ("steps-test-how", "leak-fill", "leak-fill-ounces")
                      for section in ("steps", "checks")
                      for hit in said(key).finditer(packet.words(section))}
            self.assertEqual(len(levels), 1, levels)
            level = levels.pop()
            self.assertTrue(f"up to {level}" in packet.words("overview"), level)
            # The card that goes home promises no more than the test fills to.
            for told in LENGTH.findall(packet.words("home")):
                self.assertLessEqual(millimetres(told), millimetres(level))
        self.each(hold)


if __name__ == "__main__":
    unittest.main()
