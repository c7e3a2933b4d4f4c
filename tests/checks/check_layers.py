"""Holds every #include line of src/ to the layer table of DEVELOPERS.md, so that there is one table.

Linking alone does not stop an include of a header in a layer further up: all of them lie below src/.
"""

import os
import pathlib
import re
import unittest

TOP = pathlib.Path(os.environ.get("POUCHWRIGHT_SOURCE", pathlib.Path(__file__).resolve().parents[2]))

# How a library of the table is recognised in an #include line.
LIBRARIES = {"fmt": r"fmt/", "utfcpp": r"utf8\.h", "toml++": r"toml\+\+/", "cairo": r"cairo", "pango": r"pango/",
             "fontconfig": r"fontconfig/", "harfbuzz": r"hb(-ot)?\.h", "fribidi": r"fribidi\.h",
             "qpdf": r"qpdf/", "nlohmann": r"nlohmann/", "CLI": r"CLI/",
             "boost": r"boost/", "libzip": r"zip\.h", "zlib": r"zlib\.h", "qrencode": r"qrencode\.h"}
# A library whose types are part of its home layer's own interface.
IN_HEADERS = {"nlohmann"}
# Headers of the system, with the layers that talk to it.
SYSTEM = r"(sys/)?[a-z]+\.h"
TALK_TO_SYSTEM = {"job", "cli", "desk", "web"}
# What a pure layer must not know: files, clock, chance, environment, locale, threads, and
# containers without an order.
IMPURE = {"filesystem", "fstream", "iostream", "cstdio", "chrono", "ctime", "random", "cstdlib",
          "locale", "clocale", "thread", "mutex", "future", "unordered_map", "unordered_set"}


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


def pure_layers():
    """The layers that DEVELOPERS.md calls pure."""
    text = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8")
    return set(re.findall(r"`([a-z]+)`", re.search(r"Pure layers \(([^)]*)\)", text)[1]))


def all_includes():
    """(layer, path, line, quote, header) of every include of src/."""
    for path in sorted((TOP / "src").rglob("*.*")):
        for number, quote, header in includes(path):
            yield path.relative_to(TOP / "src").parts[0], path, f"{path.relative_to(TOP)}:{number}: {header}", quote, header


def uses():
    """Layer name -> the layers that src/layers.cmake lets it use."""
    text = (TOP / "src" / "layers.cmake").read_text(encoding="utf-8")
    rows = {}
    for layer, body in re.findall(r"add_layer\((\w+)\n(.*?)\)\n", text, re.S):
        found = re.search(r"^  USES ([\w ]+)$", body, re.M)
        rows[layer] = set(found[1].split()) if found else set()
    return rows


class Layers(unittest.TestCase):
    def setUp(self):
        self.table = table()

    def test_a_header_that_a_comment_sends_to_is_there(self):
        names = {path.relative_to(TOP / "src").as_posix() for path in (TOP / "src").rglob("*.h")}
        for path in sorted((TOP / "src").rglob("*.*")):
            for said in re.findall(r"^ *///.*?\b([a-z_/]+\.h)\b", path.read_text(encoding="utf-8"), re.M):
                with self.subTest(path.relative_to(TOP), said=said):
                    self.assertTrue(any(("/" + name).endswith("/" + said) for name in names))

    def test_the_build_lets_a_layer_use_what_the_table_does(self):
        self.assertEqual(uses(), {name: layers for name, (layers, _) in self.table.items()})

    def test_every_folder_is_in_the_table(self):
        folders = {path.name for path in (TOP / "src").iterdir()
                   if path.is_dir() and any(path.iterdir())}
        self.assertLessEqual(folders, set(self.table))

    def test_own_includes_keep_to_the_table(self):
        wrong = []
        seen = 0
        for layer, _, where, quote, header in all_includes():
            if quote == '"':
                seen += 1
                if header.split("/")[0] not in self.table[layer][0] | {layer}:
                    wrong.append(where)
        self.assertEqual(wrong, [])
        self.assertGreater(seen, 100, "the #include lines are no longer recognised")

    def test_libraries_stay_at_home(self):
        wrong = []
        seen = set()
        for layer, path, where, quote, header in all_includes():
            if quote == '"' or re.fullmatch(r"[a-z_0-9]+", header):
                continue
            library = library_of(header)
            if library is None:
                if not re.fullmatch(SYSTEM, header) or layer not in TALK_TO_SYSTEM:
                    wrong.append(f"{where} (no library that this test knows)")
                continue
            seen.add((layer, library))
            if library not in self.table[layer][1]:
                wrong.append(where)
            if path.suffix == ".h" and library not in IN_HEADERS:
                wrong.append(f"{where} (in a header)")
        self.assertEqual(wrong, [])
        stated = {(layer, library) for layer, (_, libraries) in self.table.items()
                  for library in libraries}
        self.assertEqual(stated - seen, set(), "the table states libraries that are not used")

    def test_pure_layers_know_no_machine(self):
        pure = pure_layers()
        self.assertLessEqual(pure, set(self.table))
        self.assertGreater(len(pure), 4)
        self.assertEqual([where for layer, _, where, quote, header in all_includes()
                          if layer in pure and quote == "<" and header in IMPURE], [])

    def test_the_table_has_no_circle(self):
        done = set()
        while len(done) < len(self.table):
            ready = {name for name, (layers, _) in self.table.items()
                     if name not in done and layers <= done}
            self.assertTrue(ready, f"a circle among {sorted(set(self.table) - done)}")
            done |= ready


if __name__ == "__main__":
    unittest.main()
