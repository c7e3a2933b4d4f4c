"""Holds the words of shared/words/en.toml to the code: no key missing, none left over."""

import os
import pathlib
import re
import tomllib
import unittest

TOP = pathlib.Path(os.environ.get("POUCHWRIGHT_SOURCE", pathlib.Path(__file__).resolve().parents[2]))

# Keys that the code puts together: a prefix in the code, the rest from data.
PREFIXES = ("cli-", "limit-", "found-kind-", "wrong-kind-", "drawing-span-", "usage-option-hint-",
            "lay-step-", "construction-")


def words():
    with open(TOP / "shared/words/en.toml", "rb") as file:
        return tomllib.load(file)


def literals():
    """Every string literal of the code, and where it stands."""
    found = {}
    for path in sorted((TOP / "src").glob("*/*.[ch]*")):
        text = re.sub(r"//[^\n]*", "", path.read_text(encoding="utf-8"))
        text = re.sub(r"#include[^\n]*", "", text)
        for literal in re.findall(r'"((?:[^"\\\n]|\\.)*)"', text):
            found.setdefault(literal, path.name)
    return found


class Words(unittest.TestCase):
    def test_every_message_key_of_the_code_is_there(self):
        known = words()
        pattern = re.compile(
            r'(?:error|warning|fault|say|Message|told|Failure|UsageFault|QuickFault)\s*[({][^;"]*?"([a-z]+(?:-[a-z0-9]+)+)"')
        missing = []
        for path in sorted((TOP / "src").glob("*/*.cc")):
            text = re.sub(r"//[^\n]*", "", path.read_text(encoding="utf-8"))
            for key in pattern.findall(text):
                if key not in known and not key.endswith("-"):
                    missing.append(f"{path.name}: {key}")
        self.assertEqual(missing, [])

    def test_every_hint_has_its_words(self):
        known = words()
        missing = [key for key in literals() if key.endswith("-hint") and len(key) > 5
                   and key not in known]
        self.assertEqual(missing, [])

    def test_no_word_is_left_over(self):
        used = literals()
        left = []
        for key in words():
            base = key.removesuffix("-hint")
            if key in used or base in used or key.startswith(PREFIXES):
                continue
            left.append(key)
        self.assertEqual(left, [])

    def test_holes_are_words(self):
        for key, text in words().items():
            for hole in re.findall(r"\{([^ }][^}]*)\}", text):
                self.assertRegex(hole, r"^[a-z_]+$", key)


class TopLevel(unittest.TestCase):
    def test_only_the_fixed_names(self):
        fixed = {"README.md", "DEVELOPERS.md", "CMakeLists.txt", "src", "patterns", "fonts", "tests",
                 "out-samples", "shared", "LICENSE", "CHANGELOG.md", "CMakePresets.json"}
        names = {path.name for path in TOP.iterdir() if not path.name.startswith(".")}
        self.assertEqual(names - fixed, set())


if __name__ == "__main__":
    unittest.main()
