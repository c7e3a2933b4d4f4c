"""The dashes of every line are those of ISO 128-20, in widths of the line.

ISO 128-20:2001 (now ISO 128-2), tables 1 and 3, from memory: gap 3 d, dash 12 d, long dash 24 d,
dot at most 0.5 d, d being the line's width; widths come from 0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0
and 1.4, 2 mm.
"""

import unittest

import program
import vectors

WIDTHS = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)
PATTERNS = {(): "01 continuous", (12, 3): "02 dashed", (24, 3, 0.5, 3): "04 long dash dot",
            (24, 3, 0.5, 3, 0.5, 3): "05 long dash double dot", (0.5, 3): "07 dotted"}


def pattern_of(segment):
    """The number and name of the pattern, or what was measured."""
    measured = tuple(d / segment.width for d in segment.dashes)
    for pattern, name in PATTERNS.items():
        if len(pattern) == len(measured) and all(
                abs(a - b) * segment.width < 0.01 for a, b in zip(pattern, measured)):
            return name
    return tuple(round(n, 2) for n in measured)


class Dashes(unittest.TestCase):
    def test_the_pdf_draws_patterns_of_the_standard_in_its_widths(self):
        seen = set()
        for job, made in program.every_output():
            for page in made.pages:
                drawn = vectors.pdf_page(made.pdf, page.number, strokes_only=True)
                with self.subTest(job.name, command=made.command, page=page.label):
                    self.check(vectors.segments(drawn), seen)
        self.assertGreaterEqual(len(seen), 3)

    def test_so_does_every_drawings_svg(self):
        seen = set()
        for job, made in program.every_output():
            for document in made.report["documents"]:
                drawn = vectors.svg_file(made.folder / document["svg"], strokes_only=True)
                with self.subTest(job.name, document=document["name"]):
                    self.check(vectors.segments(drawn), seen)
        self.assertGreaterEqual(len(seen), 3)

    def check(self, segments, seen):
        self.assertTrue(segments)
        for segment in segments:
            width = min(WIDTHS, key=lambda one: abs(one - segment.width))
            self.assertAlmostEqual(segment.width, width, delta=0.002)
            name = pattern_of(segment)
            self.assertIn(name, PATTERNS.values())
            seen.add(name)

    def test_kinds_of_line_can_be_told_apart_in_black(self):
        # Design, section 7: by pattern and weight, never by colour alone.
        for job, made in program.every_output():
            for document in made.report["documents"]:
                drawn = vectors.svg_file(made.folder / document["svg"], strokes_only=True)
                looks = {}
                for kind in ("cut", "fold", "seam"):
                    looks[kind] = {(round(s.width, 3), pattern_of(s))
                                   for s in vectors.segments(drawn, kind)}
                with self.subTest(job.name, document=document["name"]):
                    for one, other in (("cut", "fold"), ("cut", "seam"), ("fold", "seam")):
                        self.assertEqual(looks[one] & looks[other], set())


if __name__ == "__main__":
    unittest.main()
