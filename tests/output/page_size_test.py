"""Every page is as large as its paper, as libraries other than ours see it."""

import unittest

import program
import vectors


class PageSize(unittest.TestCase):
    def test_poppler_finds_the_papers_size_on_every_page(self):
        # Paper sizes: see program.JOBS (ISO 216, ASME Y14.1).
        for job, made in program.every_output():
            for page in made.pages:
                with self.subTest(job.name, command=made.command, page=page.label):
                    self.check(job, vectors.pdf_page_size(made.pdf, page.number))

    def test_librsvg_finds_the_papers_size_on_every_page(self):
        for job, made in program.every_output():
            for page in made.pages:
                with self.subTest(job.name, command=made.command, page=page.label):
                    drawn = vectors.svg_through_rsvg(page.svg, strokes_only=True)
                    self.check(job, (drawn.width, drawn.height))

    def test_all_pages_lie_one_way(self):
        for job, made in program.every_output():
            with self.subTest(job.name, command=made.command):
                wide = {w > h for w, h in (vectors.pdf_page_size(made.pdf, page.number)
                                           for page in made.pages)}
                self.assertEqual(len(wide), 1)

    def check(self, job, size):
        for found, stated in zip(sorted(size), sorted(job.paper)):
            self.assertAlmostEqual(found, stated, delta=0.01)


if __name__ == "__main__":
    unittest.main()
