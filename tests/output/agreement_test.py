"""PDF and SVG are two forms of one page: every straight line of one is in the other.

Source of the tolerance, 0.05 mm: design, section 10. Poppler reads the PDF; the SVG is taken as it
stands.
"""

import unittest

import lines
import program
import vectors


class Agreement(unittest.TestCase):
    def test_every_line_of_one_is_in_the_other_and_its_dashes_too(self):
        for job, made in program.every_output():
            for page in made.pages:
                svg = vectors.svg_file(page.svg, strokes_only=True)
                pdf = vectors.pdf_page(made.pdf, page.number, strokes_only=True)
                with self.subTest(job.name, command=made.command, page=page.label):
                    self.check_lines(vectors.segments(svg), vectors.segments(pdf))
                    self.check_dashes(patterns(svg), patterns(pdf))

    def check_lines(self, svg, pdf):
        self.assertTrue(svg)
        self.assertEqual(lines.uncovered(svg, lines.LineSet(pdf)), [])
        self.assertEqual(lines.uncovered(pdf, lines.LineSet(svg)), [])

    def check_dashes(self, svg, pdf):
        self.assertEqual([p for p in svg if not any(alike(p, q) for q in pdf)], [])
        self.assertEqual([q for q in pdf if not any(alike(p, q) for p in svg)], [])


def patterns(page):
    """(width, dashes) of all straight lines that show."""
    return {(round(s.width, 4), *(round(d, 4) for d in s.dashes))
            for s in vectors.segments(page)}


def alike(one, other):
    return len(one) == len(other) and all(abs(a - b) < 0.01 for a, b in zip(one, other))


if __name__ == "__main__":
    unittest.main()
