"""What the report says of windows brings the drawing's own SVG on to the page's SVG.

Source: design, section 10 (window, turn_deg, at, scale). Both files are written to 0.0001 mm.
"""

import unittest

import lines
import program
import vectors

EXACT = 0.0005  # mm


def on_paper(placed, segments, inset=0.0):
    """The segments that show in the window, on the page's paper. With an `inset`, those that show
    in the window made that much smaller: a line that runs along the window's edge only half shows,
    and rounding decides whether its centre line does."""
    x0, y0, x1, y1 = placed.window
    window = vectors.Clip((x0 + inset, y0 + inset, x1 - inset, y1 - inset))
    shown = []
    for s in segments:
        for a, b in vectors.clipped((s.x0, s.y0), (s.x1, s.y1), window):
            (x0, y0), (x1, y1) = sorted((placed.on_paper(a), placed.on_paper(b)))
            shown.append(vectors.Segment(x0, y0, x1, y1, s.width, s.group, s.dashes))
    return shown


def drawn_lines(page):
    """The page's lines that belong to drawings: they alone are clipped."""
    drawn = vectors.Page(page.width, page.height,
                         [line for line in page.polylines if line.clip is not None])
    return vectors.segments(drawn)


class Window(unittest.TestCase):
    def test_every_window_maps_the_canvas_on_to_the_page(self):
        turned = set()
        for job, made in program.every_output():
            for page in made.pages:
                with self.subTest(job.name, command=made.command, page=page.label):
                    self.check(made, page)
                turned |= {placed.page["turn_deg"] for placed in page.placements}
        self.assertEqual(turned, {0, 90}, "the jobs show both ways of turning")

    def check(self, made, page):
        expected, well_inside = [], []
        for placed in page.placements:
            canvas = vectors.svg_file(made.folder / placed.document["svg"], strokes_only=True)
            self.assertAlmostEqual(canvas.width, placed.document["canvas"]["width_mm"], places=3)
            self.assertAlmostEqual(canvas.height, placed.document["canvas"]["height_mm"], places=3)
            expected += on_paper(placed, vectors.segments(canvas), inset=-0.01)
            well_inside += on_paper(placed, vectors.segments(canvas), inset=0.01)
        found = drawn_lines(vectors.svg_file(page.svg, strokes_only=True))
        self.assertEqual(lines.uncovered(found, lines.LineSet(expected, EXACT)), [])
        gaps = self.gaps(page)
        must_show = [vectors.Segment(*a, *b, s.width, s.group) for s in well_inside
                     for a, b in vectors.clipped((s.x0, s.y0), (s.x1, s.y1), gaps)]
        self.assertEqual(lines.uncovered(must_show, lines.LineSet(found, EXACT)), [])

    @staticmethod
    def gaps(page):
        """Where a drawing may be interrupted so that check lines stand clear (design, section 10):
        near those lines alone."""
        return gaps_of(vectors.svg_file(page.svg, strokes_only=True))


def gaps_of(svg, reach=3.2):
    """A Clip that leaves out all within `reach` mm of the page's check figures. Around a line it is
    1 mm, half the line and what measuring may miss; around a check line's end its tick as well."""
    holes = []
    for s in vectors.segments(svg, "scale-check"):
        holes.append((s.x0 - reach, min(s.y0, s.y1) - reach,
                      s.x1 + reach, max(s.y0, s.y1) + reach))
    return vectors.Clip((0, 0, svg.width, svg.height), tuple(holes))


if __name__ == "__main__":
    unittest.main()
