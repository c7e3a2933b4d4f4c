"""What a print shop and a screen reader ask of the PDFs, as qpdf and poppler see it."""

import json
import re
import subprocess
import unittest

import program


def qpdf_objects(pdf):
    """All objects of the file by qpdf's name for them, its JSON version 1."""
    done = subprocess.run(["qpdf", "--json=1", "--json-key=objects", str(pdf)],
                          check=True, capture_output=True)
    return json.loads(done.stdout)["objects"]


class PdfFacts(unittest.TestCase):
    def test_qpdf_finds_no_fault(self):
        for job, made in program.every_output():
            with self.subTest(job.name, command=made.command):
                done = subprocess.run(["qpdf", "--check", str(made.pdf)], capture_output=True,
                                      text=True)
                self.assertEqual(done.returncode, 0, done.stdout + done.stderr)
                self.assertEqual(done.stderr, "")

    def test_viewers_are_asked_not_to_scale(self):
        # ISO 32000-1, 12.2, table 150: PrintScaling.
        for job, made in program.every_output():
            with self.subTest(job.name, command=made.command):
                root = self.catalogue(made.pdf)
                objects = qpdf_objects(made.pdf)
                wishes = self.resolved(objects, root["/ViewerPreferences"])
                self.assertEqual(wishes["/PrintScaling"], "/None")

    def test_pages_are_labelled_with_their_cells(self):
        # ISO 32000-1, 12.4.2: a label dictionary's /P is the page's prefix.
        for job, made in program.every_output():
            with self.subTest(job.name, command=made.command):
                objects = qpdf_objects(made.pdf)
                labels = self.resolved(objects, self.catalogue(made.pdf)["/PageLabels"])["/Nums"]
                found = {labels[k]: self.resolved(objects, labels[k + 1])["/P"].removeprefix("u:")
                         for k in range(0, len(labels), 2)}
                self.assertEqual(found, {page.number - 1: page.label for page in made.pages})
                self.assertEqual(len(set(found.values())), len(found))
                self.assertEqual(len(found), self.info(made.pdf, "Pages", int))

    def test_fonts_are_embedded_as_subsets(self):
        # pdffonts (poppler): name, type, encoding, emb, sub, uni; a subset's name begins with six
        # capitals and a plus (ISO 32000-1, 9.6.4).
        for job, made in program.every_output():
            with self.subTest(job.name, command=made.command):
                text = subprocess.run(["pdffonts", str(made.pdf)], check=True,
                                      capture_output=True, text=True).stdout
                rows = text.splitlines()[2:]
                self.assertTrue(rows)
                for row in rows:
                    self.assertRegex(row, r"^[A-Z]{6}\+")
                    self.assertRegex(row, r" yes +yes +yes +\d+ +\d+$")

    def test_title_and_language_are_stated(self):
        # ISO 32000-1, 14.3.3 (Title) and 14.9.2 (Lang).
        for job, made in program.every_output():
            with self.subTest(job.name, command=made.command):
                title = self.info(made.pdf, "Title")
                self.assertTrue(title)
                if job.text is None:
                    self.assertIn("Heron Quay carry pouch, three liners", title)
                self.assertEqual(self.catalogue(made.pdf)["/Lang"].removeprefix("u:"), "en")

    def test_words_can_be_searched_for(self):
        # Design, section 7: every page has its cell's name.
        for job, made in program.every_output():
            for page in made.pages:
                with self.subTest(job.name, command=made.command, page=page.label):
                    text = subprocess.run(
                        ["pdftotext", "-f", str(page.number), "-l", str(page.number),
                         str(made.pdf), "-"], check=True, capture_output=True, text=True).stdout
                    words = re.split(r"\W+", text)
                    for placed in page.placements:
                        self.assertIn(placed.page["cell"], words)

    def catalogue(self, pdf):
        objects = qpdf_objects(pdf)
        return self.resolved(objects, objects["trailer"]["/Root"])

    @staticmethod
    def resolved(objects, value):
        return objects[value] if isinstance(value, str) and re.fullmatch(r"\d+ 0 R", value) \
            else value

    @staticmethod
    def info(pdf, name, kind=str):
        text = subprocess.run(["pdfinfo", str(pdf)], check=True, capture_output=True,
                              text=True).stdout
        return kind(re.search(rf"^{name}: *(.*)$", text, re.MULTILINE).group(1))


if __name__ == "__main__":
    unittest.main()
