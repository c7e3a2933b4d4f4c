"""The check square measures 50 mm at the stated place on every page, and its lines stand clear."""

import math
import unittest

import program
import vectors

CLEAR = 1.0 + 0.125  # mm from the centre of a line 0.25 mm wide (design, section 10)


def expected(page):
    """(x, y, width, height) on the paper, by the report."""
    square = page.check_square
    return (square["x_mm"], square["y_mm"],
            square["side_mm"] * page.scale["x"], square["side_mm"] * page.scale["y"])


def distance(point, box):
    """From a point to the sides of a box."""
    x, y = point
    x0, y0, x1, y1 = box
    outside = math.hypot(max(x0 - x, 0, x - x1), max(y0 - y, 0, y - y1))
    return outside or min(x - x0, x1 - x, y - y0, y1 - y)


def edges(line):
    """Both edges and the middle of a stroke, unclipped, its corners mitred; of a filling its
    outline."""
    ends = line.points + (line.points[:1] if line.closed else [])
    half = line.width / 2
    for a, b in zip(ends, ends[1:]):
        length = math.dist(a, b)
        if length == 0:
            continue
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        out = half if len(ends) > 2 and not line.curved else 0
        for side in (-half, 0, half) if half else (0,):
            x, y = -uy * side, ux * side
            yield ((a[0] + x - out * ux, a[1] + y - out * uy),
                   (b[0] + x + out * ux, b[1] + y + out * uy))


def points_along(line, box, step=0.25):
    """Points of a line's ink as far as it shows near the box, close together."""
    near = vectors.Clip((box[0] - 2, box[1] - 2, box[2] + 2, box[3] + 2))
    for a, b in edges(line):
        for first, last in vectors.clipped(a, b, vectors.narrowed(near, line.clip)):
            count = 1 + int(math.dist(first, last) / step)
            for k in range(count + 1):
                t = k / count
                yield (first[0] + t * (last[0] - first[0]), first[1] + t * (last[1] - first[1]))


class CheckSquare(unittest.TestCase):
    def test_poppler_measures_it(self):
        for job, made in program.every_output():
            for page in made.pages:
                drawn = vectors.pdf_page(made.pdf, page.number, strokes_only=True)
                self.check(drawn, page, f"{job.name}, {made.command} {page.label}")

    def test_librsvg_measures_it(self):
        for job, made in program.every_output():
            for page in made.pages:
                drawn = vectors.svg_through_rsvg(page.svg, strokes_only=True)
                self.check(drawn, page, f"{job.name}, {made.command} {page.label}")

    def check(self, drawn, page, name):
        # 50 mm +- 0.05 mm between line centres, times the printer's correction: section 10.
        x, y, width, height = expected(page)
        with self.subTest(name):
            self.assertEqual(page.check_square["side_mm"], 50)
            found = [box for box in vectors.rectangles(drawn, width, height, (x, y), 0.5, 0.1)]
            self.assertEqual(len(found), 1, f"one square near {x}, {y}: {found}")
            for seen, stated in zip(found[0], (x, y, width, height)):
                self.assertAlmostEqual(seen, stated, delta=0.05)

    def test_the_correction_is_what_the_printed_square_says(self):
        # A printer that makes 49.5 x 50.2 mm of 50 mm needs 50/49.5 and 50/50.2: section 7.
        corrected = next(job for job in program.JOBS if "--printed-square" in job.options)
        for command in program.COMMANDS:
            for page in program.made_by(corrected, command).pages:
                self.assertAlmostEqual(page.scale["x"], 50 / 49.5, places=6)
                self.assertAlmostEqual(page.scale["y"], 50 / 50.2, places=6)

    def test_no_other_ink_stands_within_a_millimetre_of_its_lines(self):
        for job, made in program.every_output():
            for page in made.pages:
                with self.subTest(job.name, command=made.command, page=page.label):
                    self.check_clear(page)

    def check_clear(self, page):
        x, y, width, height = expected(page)
        box = (x, y, x + width, y + height)
        squares = 0
        for line in vectors.svg_file(page.svg).polylines:
            if line.id == "check-square":
                squares += 1
                continue
            xs, ys = [p[0] for p in line.points], [p[1] for p in line.points]
            if (min(xs) > box[2] + 2 or max(xs) < box[0] - 2
                    or min(ys) > box[3] + 2 or max(ys) < box[1] - 2):
                continue
            nearest = min((distance(p, box) for p in points_along(line, box)), default=math.inf)
            self.assertGreaterEqual(nearest, CLEAR,
                                    f"{line.group} {line.id} at {line.points[0]}")
        self.assertEqual(squares, 1)


if __name__ == "__main__":
    unittest.main()
