"""PDF and SVG are two forms of one page: every straight line of one is in the other.

Source of the tolerance, 0.05 mm: design, section 10. Poppler reads the PDF; the SVG is taken as it
stands.
"""

import unittest

import lines
import program
import vectors


class Agreement(unittest.TestCase):
    def test_every_line_of_the_svg_is_in_the_pdf_and_the_other_way_round(self):
        for job, made in program.every_output():
            for page in made.pages:
                svg = vectors.segments(vectors.svg_file(page.svg, strokes_only=True))
                pdf = vectors.segments(vectors.pdf_page(made.pdf, page.number, strokes_only=True))
                with self.subTest(job.name, command=made.command, page=page.label):
                    if page.placements:
                        self.assertTrue([s for s in svg if s.group in ("cut", "fold")
                                         or s.group == "registration"])
                    self.assertEqual(lines.uncovered(svg, lines.LineSet(pdf)), [])
                    self.assertEqual(lines.uncovered(pdf, lines.LineSet(svg)), [])

    def test_they_have_one_pattern_of_dashes(self):
        for job, made in program.every_output():
            for page in made.pages:
                with self.subTest(job.name, command=made.command, page=page.label):
                    svg = vectors.svg_file(page.svg, strokes_only=True)
                    pdf = vectors.pdf_page(made.pdf, page.number, strokes_only=True)
                    one, other = patterns(svg), patterns(pdf)
                    self.assertEqual([p for p in one if not any(alike(p, q) for q in other)], [])
                    self.assertEqual([q for q in other if not any(alike(p, q) for p in one)], [])


def patterns(page):
    """(width, dashes) of all straight lines that show."""
    return {(round(s.width, 4), *(round(d, 4) for d in s.dashes))
            for s in vectors.segments(page)}


def alike(one, other):
    return len(one) == len(other) and all(abs(a - b) < 0.01 for a, b in zip(one, other))


if __name__ == "__main__":
    unittest.main()
