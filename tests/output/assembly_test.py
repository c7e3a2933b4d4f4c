"""Pages of random jobs, laid together again, give the whole drawing.

    assembly_test.py                      a few seeded jobs, as in the ordinary run
    assembly_test.py --cases 300 --seed 7
    assembly_test.py --case 41 --seed 7   one of them again, its job printed

Source of what is held: design, sections 7 and 10. The lines are taken from the PDF by poppler and
from the page SVG by librsvg, and must lie within 0.05 mm of the drawing's own SVG.
"""

import argparse
import random
import sys
import unittest
from collections import defaultdict

import lines
import program
import vectors
from window_test import drawn_lines, gaps_of, on_paper

CASES, SEED = 25, 20240
PLACE = 0.05  # mm

SETTINGS = argparse.Namespace(cases=CASES, seed=SEED, case=None)


def random_job(chance):
    """(command, text, margins): a job, which may be refused."""
    mm = lambda low, high, step=1: f'"{low + step * chance.randrange(int((high - low) / step))} mm"'
    construction = chance.choice(("foldover", "foldover", "gusset"))
    allowance = chance.choice((5, 7, 8.5, 10))
    text = [f'construction = "{construction}"', 'title = "Carry pouch “ä”"',
            f'units = "{chance.choice(("mm", "in"))}"',
            "[pouch]", f'cards = "{chance.choice(("inside", "on_top", "both"))}"',
            f"width = {mm(90, 400)}", f"depth = {mm(90, 350, 0.5)}",
            f"flap = {mm(45, 160)}", f"lip_drop = {mm(5, 15)}",
            f'seam_allowance = "{allowance} mm"', f'seal_width = "{allowance + 7} mm"',
            f'start_finish = "{chance.choice(("none", "overedge", "turned"))}"',
            f'end_finish = "{chance.choice(("none", "overedge", "turned"))}"']
    if construction == "gusset":
        text.append(f"gusset = {mm(30, 100)}")
    size = chance.choice(("A5", "A4", "A4", "A4", "A3", "A2", "Letter", "Legal", "Tabloid",
                          f"{chance.randrange(130, 500)} x {chance.randrange(150, 700)} mm"))
    margins = [chance.choice((0, 4, 6.35, 10, 12.5)) for _ in range(4)]
    if chance.random() < 0.6:
        margins = margins[:1] * 4
    sides = ", ".join(f'{side} = "{width} mm"'
                      for side, width in zip(("top", "right", "bottom", "left"), margins))
    text += ["[paper]", f'size = "{size}"', f"margin = {{ {sides} }}",
             f'overlap = "{chance.choice((0, 3, 10, 10, 15))} mm"',
             f"half = {chance.choice(('false', 'false', 'true'))}"]
    if chance.random() < 0.4:
        across, down = (round(chance.uniform(48.8, 51.2), 1) for _ in range(2))
        text.append(f'printed_square = "{across} x {down} mm"')
    return chance.choice(program.COMMANDS), "\n".join(text) + "\n", margins


def accepted_job(seed, case, folder):
    """(Made, text, margins) of the first job of this case that the program accepts."""
    for attempt in range(40):
        chance = random.Random(f"{seed}/{case}/{attempt}")
        command, text, margins = random_job(chance)
        try:
            return program.run_text(command, text, folder / str(attempt)), text, margins
        except program.Refused as refusal:
            if refusal.status != 1:
                raise AssertionError(f"{refusal}\n{text}") from refusal
    raise AssertionError(f"case {case}: 40 jobs in a row were refused")


class Assembly(unittest.TestCase):
    def test_pages_of_random_jobs_give_the_drawing_again(self):
        cases = [SETTINGS.case] if SETTINGS.case is not None else range(SETTINGS.cases)
        corrected = joined = 0
        for case in cases:
            with program.temporary_folder() as folder:
                made, text, margins = accepted_job(SETTINGS.seed, case, folder)
                if SETTINGS.case is not None:
                    print(text)
                with self.subTest(seed=SETTINGS.seed, case=case):
                    self.check(made, margins)
                corrected += made.pages[0].scale != {"x": 1.0, "y": 1.0}
                joined += self.check_marks(made, case)
        if len(cases) >= CASES:
            self.assertGreater(corrected, 0)
            self.assertGreater(joined, len(cases) // 2)

    def check(self, made, margins):
        self.check_page_count(made)
        self.check_whole_drawing_is_shown(made)
        for page in made.pages:
            if page.placements:
                self.check_margins(made, page, margins)
                self.check_lines(made, page)

    def check_page_count(self, made):
        # Issue: never more pages than a plain grid of sheets, cut from the top left corner, takes.
        shown = [page for page in made.pages if page.placements]
        self.assertLessEqual(len(shown), made.report["documents"][0]["plain_grid_pages"])

    def check_margins(self, made, page, margins):
        # The margins are the paper's as held upright or, turned, as seen: all four are smaller
        # than the largest.
        width, height = vectors.pdf_page_size(made.pdf, page.number)
        least = min(margins) - PLACE
        for placed in page.placements:
            x0, y0, x1, y1 = placed.window
            ends = [placed.on_paper(p) for p in ((x0, y0), (x1, y1))]
            for x, y in ends:
                self.assertTrue(least <= x <= width - least and least <= y <= height - least,
                                f"{page.label}: window reaches {x}, {y}")

    def check_whole_drawing_is_shown(self, made):
        for document in made.report["documents"]:
            canvas = vectors.svg_file(made.folder / document["svg"], strokes_only=True)
            shown = []
            for page in document["pages"]:
                if page["window"] is not None:
                    box = vectors.Clip(program.Placed(document, page).window)
                    for s in vectors.segments(canvas):
                        shown += [vectors.Segment(*a, *b, s.width)
                                  for a, b in vectors.clipped((s.x0, s.y0), (s.x1, s.y1), box)]
            self.assertEqual(lines.uncovered(vectors.segments(canvas), lines.LineSet(shown)), [],
                             "no window shows this")

    def check_lines(self, made, page):
        as_stands = vectors.svg_file(page.svg, strokes_only=True)
        gaps = gaps_of(as_stands)
        expected, well_inside = [], []
        for placed in page.placements:
            canvas = vectors.svg_file(made.folder / placed.document["svg"], strokes_only=True)
            expected += on_paper(placed, vectors.segments(canvas), inset=-0.01)
            well_inside += on_paper(placed, vectors.segments(canvas), inset=0.01)
        must_show = []
        for s in well_inside:
            must_show += [vectors.Segment(*a, *b, s.width, s.group, s.dashes)
                          for a, b in vectors.clipped((s.x0, s.y0), (s.x1, s.y1), gaps)]
        drawn = {"poppler": vectors.pdf_page(made.pdf, page.number, strokes_only=True),
                 "librsvg": vectors.svg_through_rsvg(page.svg, strokes_only=True)}
        for library, seen in drawn.items():
            found = lines.LineSet(vectors.segments(seen), PLACE)
            self.assertEqual(lines.uncovered(must_show, found), [], f"{page.label} by {library}")
        self.assertEqual(lines.uncovered(drawn_lines(as_stands), lines.LineSet(expected)), [],
                         f"{page.label} shows what the drawing has not")

    def check_marks(self, made, case):
        """Neighbours have at least two marks in the middle of what they share, at the same points
        of the drawing. How many pairs there were."""
        pairs = 0
        for document in made.report["documents"]:
            marks = {page.number: mark_centres(page) for page in made.pages}
            windows = [program.Placed(document, page) for page in document["pages"]
                       if page["window"] is not None]
            for one, other, axis in neighbours(windows):
                pairs += 1
                shared = shared_box(one.window, other.window)
                middle = (shared[axis] + shared[axis + 2]) / 2
                on_join = [sorted(near_join(placed, marks[placed.page["page"]], shared, axis,
                                            middle)) for placed in (one, other)]
                with self.subTest(seed=SETTINGS.seed, case=case, document=document["name"],
                                  pages=(one.page["cell"], other.page["cell"])):
                    self.assertGreaterEqual(len(on_join[0]), 2)
                    self.assertEqual(len(on_join[0]), len(on_join[1]), on_join)
                    for p, q in zip(*on_join):
                        self.assertAlmostEqual(p[0], q[0], delta=PLACE)
                        self.assertAlmostEqual(p[1], q[1], delta=PLACE)
        return pairs > 0


def neighbours(windows):
    """(one, its right or lower neighbour, 0 or 1 for the axis across the join)."""
    at = {(placed.page["column"], placed.page["row"]): placed for placed in windows}
    for (column, row), placed in sorted(at.items(), key=lambda item: item[0]):
        for axis, place in ((0, (column + 1, row)), (1, (column, row + 1))):
            if place in at:
                yield placed, at[place], axis


def shared_box(a, b):
    return (max(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), min(a[3], b[3]))


def near_join(placed, marks, shared, axis, middle):
    """The marks, as points of the drawing, that stand on the join's line."""
    along = 1 - axis
    for point in map(placed.on_canvas, marks):
        if (abs(point[axis] - middle) < 2 * PLACE
                and shared[along] - PLACE <= point[along] <= shared[along + 2] + PLACE):
            yield (round(point[0], 3), round(point[1], 3))


def mark_centres(page):
    """Where the page's registration marks stand on the paper. A whole mark's cross is two lines; a
    half mark's last line begins at its centre."""
    subpaths = defaultdict(list)
    for line in vectors.svg_file(page.svg, strokes_only=True).polylines:
        if line.id.startswith(("mark-cross", "mark-half")):
            subpaths[line.id].append(line.points)
    centres = []
    for name, parts in subpaths.items():
        if name.startswith("mark-cross"):
            (x0, y0), (x1, y1) = parts[0]
            centres.append(((x0 + x1) / 2, (y0 + y1) / 2))
        else:
            centres.append(parts[-1][0])
    return centres


if __name__ == "__main__":
    parser = argparse.ArgumentParser(add_help=False)
    parser.add_argument("--cases", type=int, default=CASES)
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--case", type=int)
    SETTINGS, rest = parser.parse_known_args()
    unittest.main(argv=[sys.argv[0], *rest])
