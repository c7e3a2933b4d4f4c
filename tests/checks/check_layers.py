"""Holds every #include line of src/ to the layer table of DEVELOPERS.md, so that there is one table."""

import os
import pathlib
import re
import unittest

TOP = pathlib.Path(os.environ.get("POUCHWRIGHT_SOURCE", pathlib.Path(__file__).resolve().parents[2]))

# How a library of the table is recognised in an #include line.
LIBRARIES = {"fmt": r"fmt/", "toml++": r"toml\+\+/", "cairo": r"cairo", "pango": r"pango/",
             "fontconfig": r"fontconfig/", "qpdf": r"qpdf/", "nlohmann": r"nlohmann/", "CLI": r"CLI/"}
# A library whose types are part of its home layer's own interface.
IN_HEADERS = {"nlohmann"}


def table():
    """Layer name -> (layers it may include, libraries)."""
    rows = {}
    text = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8")
    section = text[text.index("\n## Layers"):]
    for line in section[:section.index("\n## ", 5)].splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if len(cells) == 4 and re.fullmatch(r"[a-z]+", cells[0]) and cells[0] != "layer":
            rows[cells[0]] = (set(cells[1].split()), set(cells[2].split()))
    return rows


def includes(path):
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        found = re.match(r'\s*#\s*include\s*([<"])([^>"]+)[>"]', line)
        if found:
            yield number, found[1], found[2]


def library_of(header):
    for name, pattern in LIBRARIES.items():
        if re.match(pattern, header):
            return name
    return None


class Layers(unittest.TestCase):
    def setUp(self):
        self.table = table()

    def test_every_folder_is_in_the_table(self):
        folders = {path.name for path in (TOP / "src").iterdir()
                   if path.is_dir() and any(path.iterdir())}
        self.assertLessEqual(folders, set(self.table))

    def test_includes_keep_to_the_table(self):
        wrong = []
        for path in sorted((TOP / "src").glob("*/*.*")):
            layer = path.parent.name
            layers, libraries = self.table[layer]
            for number, quote, header in includes(path):
                where = f"{path.relative_to(TOP)}:{number}: {header}"
                own = header.split("/")[0]
                if quote == '"' and own not in layers | {layer}:
                    wrong.append(where)
                library = library_of(header) if quote == "<" else None
                if library and library not in libraries:
                    wrong.append(where)
                if library and path.suffix == ".h" and library not in IN_HEADERS:
                    wrong.append(where + " (in a header)")
        self.assertEqual(wrong, [])

    def test_the_table_has_no_circle(self):
        done = set()
        while len(done) < len(self.table):
            ready = {name for name, (layers, _) in self.table.items()
                     if name not in done and layers <= done}
            self.assertTrue(ready, f"a circle among {sorted(set(self.table) - done)}")
            done |= ready


if __name__ == "__main__":
    unittest.main()
