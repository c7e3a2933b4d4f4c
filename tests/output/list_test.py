"""`list constructions` against the files in patterns/, which are read here by Python's own reader.

The second half reads the pages back by poppler.
"""

import json
import re
import subprocess
import tomllib
import unittest

from program import PROGRAM, SOURCE, environment, temporary_folder

# 1 in = 25.4 mm (NIST SP 811, app. B).
UNITS = {"mm": 1, "cm": 10, "in": 25.4}


def listed(*arguments, folder="."):
    done = subprocess.run([PROGRAM, "list", *arguments], check=True, capture_output=True,
                          cwd=folder, env=environment())
    return done.stdout.decode()


def files():
    """Name -> what the file says, of every file with operations."""
    found = {}
    for path in sorted((SOURCE / "patterns").glob("*.toml")):
        said = tomllib.loads(path.read_text(encoding="utf-8"))
        if "operation" in said:
            found[path.stem] = said
    return found


def in_mm(text):
    number, unit = text.split()
    return float(number) * UNITS[unit]


class Report(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.files = files()
        cls.report = {one["name"]: one for one
                      in json.loads(listed("constructions", "--json"))["constructions"]}

    def test_every_file_with_operations_is_told_of(self):
        self.assertGreaterEqual(len(self.files), 7)
        self.assertEqual(list(self.report), list(self.files))

    def test_titles_closures_and_counts_are_the_files_own(self):
        for name, said in self.files.items():
            with self.subTest(name):
                told = self.report[name]
                for key in ("title", "about", "flap"):
                    self.assertEqual(told[key], said.get(key, "none"))
                self.assertEqual(told["closures"], said.get("closures", []))
                self.assertEqual(told["end_finish"], said.get("end_finish", "none"))
                self.assertEqual(
                    {one.pop("name"): one for one in told["counts"]}, said.get("count", {}))

    def test_sizes_have_the_files_defaults_and_meanings(self):
        for name, said in self.files.items():
            with self.subTest(name):
                told = {one["name"]: one for one in self.report[name]["sizes"]}
                for size, rule in said["size"].items():
                    self.assertAlmostEqual(told[size]["default_mm"], in_mm(rule["default"]))
                    self.assertEqual(told[size]["meaning"], rule["meaning"])

    def test_operations_come_in_the_files_order(self):
        for name, said in self.files.items():
            with self.subTest(name):
                plain = [(one["id"], one["do"], one.get("needs", []))
                         for one in said["operation"] if "repeat" not in one]
                repeated = {one["id"] for one in said["operation"] if "repeat" in one}
                told = [(one["id"], one["do"], one["needs"])
                        for one in self.report[name]["operations"]
                        if re.sub(r"-\d+$", "", one["id"]) not in repeated]
                self.assertEqual(told, plain)

    def test_spans_are_as_long_as_their_sums(self):
        for name, said in self.files.items():
            if said.get("turn_of_cloth"):
                continue  # its spans are longer by what the folds take
            sizes = {size: in_mm(rule["default"]) for size, rule in said["size"].items()}
            for panel, told in zip(said["panel"], self.report[name]["panels"]):
                spans = {one["name"]: one for one in told["spans"]}
                for span in panel["span"]:
                    with self.subTest(name, span=span["name"]):
                        whole = sum(sizes[size] * self.weight(weight)
                                    for size, weight in span["length"].items())
                        self.assertAlmostEqual(spans[span["name"]]["length_mm"], whole)
                        self.assertEqual(spans[span["name"]]["is"], span["length"])

    @staticmethod
    def weight(text):
        above, _, below = str(text).partition("/")
        return int(above) / int(below or 1)


class Pages(unittest.TestCase):
    def test_each_construction_has_a_page_with_all_that_its_file_says(self):
        with temporary_folder() as folder:
            for name, said in files().items():
                with self.subTest(name):
                    pdf = folder / f"{name}.pdf"
                    listed("constructions", name, "--out", str(pdf))
                    text = self.words(pdf)
                    self.assertIn(f"{name}: {said['title']}", text)
                    for part in said["size"]:
                        self.assertIn(part, text)
                    for operation in said["operation"]:
                        if "{" not in operation["id"] and "repeat" not in operation:
                            self.assertIn(operation["id"] + ": ", text)
                    for span in said["panel"][0]["span"]:
                        if "repeat" not in span:
                            # In the list of spans, and beside a picture.
                            self.assertGreaterEqual(text.count(span["name"]), 2)

    def test_all_of_them_make_one_file(self):
        with temporary_folder() as folder:
            listed("constructions", "--out", str(folder / "all.pdf"))
            text = self.words(folder / "all.pdf")
            places = [text.index(f"{name}: {said['title']}") for name, said in files().items()]
            self.assertEqual(places, sorted(places))
            # A4 (ISO 216), in points of 1/72 in.
            info = subprocess.run(["pdfinfo", folder / "all.pdf"], check=True, capture_output=True,
                                  text=True).stdout
            self.assertRegex(info, r"Page size: +595\.\d+ x 841\.\d+ pts")

    def test_an_svg_holds_the_page_in_millimetres(self):
        with temporary_folder() as folder:
            listed("constructions", "gusset", "--out", str(folder / "gusset.svg"))
            head = (folder / "gusset.svg").read_text(encoding="utf-8")[:600]
            self.assertRegex(head, r'width="190mm" height="\d+(\.\d+)?mm"')

    def test_inches_and_own_sizes_are_told(self):
        text = listed("constructions", "gusset", "--units", "in", "--set", "pouch.gusset=3 in")
        self.assertIn("1 1/2 in", text)  # half of the pleat of 3 in
        self.assertRegex(text, r"width +≈ 7 1/2 in \(190 mm\)")

    def test_a_file_of_ones_own_is_told_of_as_well(self):
        with temporary_folder() as folder:
            own = (SOURCE / "patterns" / "sleeve.toml").read_text(encoding="utf-8")
            (folder / "own.toml").write_text(own.replace("200 mm", "210 mm"), encoding="utf-8")
            text = listed("constructions", "./own.toml", folder=folder)
            self.assertTrue(text.startswith("own: "))
            self.assertIn("210 mm", text)

    @staticmethod
    def words(pdf):
        """What poppler reads, lines joined; a hyphen at a line's end is part of a word here."""
        text = subprocess.run(["pdftotext", "-raw", str(pdf), "-"], check=True, capture_output=True,
                              text=True).stdout
        return re.sub(r"\s+", " ", text.replace("-\n", "-"))


if __name__ == "__main__":
    unittest.main()
