"""What a screen reader finds in a packet, by poppler's `pdfinfo -struct-text` and qpdf."""

import re
import subprocess
import unittest

import program

LINE = re.compile(r'^( *)(\w+)(?: \(([^)]*)\))?(.*)$')
SAID = re.compile(r'^ *"(.*)"$')


def told(path):
    """[(element, its words)] in reading order; a picture's words are its alternative text."""
    done = subprocess.run(["pdfinfo", "-struct-text", path], capture_output=True, text=True,
                          check=True)
    elements = []
    for line in done.stdout.splitlines():
        words = SAID.match(line)
        if words and elements:
            elements[-1][1] += words[1] + " "
        elif not words and LINE.match(line):
            elements.append([LINE.match(line)[2], ""])
    return [(kind, " ".join(words.split())) for kind, words in elements]


class Tags(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = cls.enterClassContext(program.temporary_folder())
        cls.path = cls.folder / "packet.pdf"
        cls.made = cls.packet(cls.path)

    @staticmethod
    def packet(path, *options):
        subprocess.run([program.PROGRAM, "packet", str(program.SAMPLE), "--quiet", "-o", str(path),
                        *options], check=True, env=program.environment(), timeout=60)

    def test_the_file_is_sound_and_says_that_it_is_marked(self):
        done = subprocess.run(["qpdf", "--check", self.path], capture_output=True, text=True)
        self.assertEqual(done.returncode, 0, done.stdout + done.stderr)
        facts = subprocess.run(["pdfinfo", self.path], capture_output=True, text=True,
                               check=True).stdout
        # ISO 32000-1, 14.7.1 and 14.9.2: marked, with a language and a title.
        self.assertRegex(facts, r"Tagged: +yes")
        self.assertRegex(facts, r"Title: +\S")

    def test_titles_headings_and_paragraphs_come_in_reading_order(self):
        elements = told(self.path)
        kinds = {kind for kind, _ in elements}
        # Standard structure types (ISO 32000-1, 14.8.4).
        self.assertEqual(kinds - {"Document", "H1", "H2", "P", "L", "LI", "Lbl", "LBody", "Table",
                                  "TR", "TD", "Figure"}, set())
        self.assertEqual(elements[0][0], "Document")
        at = [next(i for i, (kind, words) in enumerate(elements)
                   if kind == wanted and words.startswith(begins))
              for wanted, begins in (("H1", "Cautions"), ("H2", "Iron and steam"),
                                     ("P", "Steam burns as badly"), ("H2", "Burns"),
                                     ("P", "At once: hold the burn"), ("H1", "Supplies"),
                                     ("H1", "Iron trial"), ("H1", "Leak test"))]
        self.assertEqual(at, sorted(at))

    def test_a_broken_paragraph_is_read_as_one(self):
        words = [words for kind, words in told(self.path) if kind == "P"]
        self.assertIn("Steam burns as badly as the sole. Never use steam with one dot: it drips.",
                      words)
        # Where a line ends no two words are heard as one.
        self.assertTrue(any("once for every new cloth and every other iron" in one
                            for one in words))

    def test_points_and_rows_are_read_whole_and_from_their_left(self):
        elements = told(self.path)
        at = next(i for i, (kind, words) in enumerate(elements)
                  if kind == "H1" and words.startswith("Supplies"))
        rows = [i for i in range(at, len(elements)) if elements[i][0] == "TR"]
        self.assertEqual([kind for kind, _ in elements[rows[1]:rows[1] + 2]], ["TR", "TD"])
        self.assertIn("laminate", elements[rows[1] + 1][1])
        lists = [i for i in range(at, len(elements)) if elements[i][0] == "LI"]
        self.assertEqual([kind for kind, _ in elements[lists[0] + 1:lists[0] + 3]],
                         ["Lbl", "LBody"])

    def test_pictures_have_words_and_pages_numbers_are_not_read(self):
        # The alternative texts are no part of what poppler tells: qpdf's.
        raw = subprocess.run(["qpdf", "--json=2", "--json-key=qpdf", self.path],
                             capture_output=True, text=True, check=True).stdout
        figures = raw.count('"/S": "/Figure"')
        self.assertGreaterEqual(figures, 6)
        self.assertEqual(raw.count('"/Alt": "u:'), figures)
        self.assertNotIn("page 2 of", " ".join(words for _, words in told(self.path)))

    def test_the_same_packet_is_the_same_bytes(self):
        again = self.folder / "again.pdf"
        self.packet(again)
        self.assertEqual(again.read_bytes(), self.path.read_bytes())


if __name__ == "__main__":
    unittest.main()
