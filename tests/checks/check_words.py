"""Holds shared/words/en.toml to the code: no key missing, none left over, every hole filled.

A string literal of src/ that reads like a key (`lower-case-with-hyphens`) must be one, or stand in
NO_WORDS below; so a misspelt key is found wherever it stands. Keys that the code puts together from
parts are listed in FORMED, once.
"""

import os
import pathlib
import re
import tomllib
import unittest

TOP = pathlib.Path(os.environ.get("POUCHWRIGHT_SOURCE", pathlib.Path(__file__).resolve().parents[2]))

# Prefix that a literal of the code ends in -> a pattern for what follows it in a key.
FORMED = {
    "construction-title-": r"[a-z]+",    # a construction of the program's own, by its name
    "construction-about-": r"[a-z]+",
    "construction-means-": r"[A-Za-z-]+",  # what one of its sizes is, by what its file says
    "language-plural-": r"zero|one|two|few|many",
    "list-language-": r"source|read|drafted",
    "construction-cloth-": r"[a-z]+",    # what a part is cut from
    "construction-do-": r"pair|look-inside|fill-first|secure-tails|test|tag|dry",  # an action without fields
    "operation-": r"pair|look-inside|fill-first|secure-tails|test|tag|dry",
    "steps-": r"(pair|look-inside)(-how)?",
    "construction-finish-": r"[a-z]+",   # what keeps an end from fraying
    "construction-flap-": r"[a-z]+",     # what holds the flap
    "construction-holds-": r"[a-z]+",    # what a compartment is for
    "construction-kind-": r"[a-z-]+",    # what is fixed
    "drawing-arrow-": r"[a-z]+",         # how a cloth's arrow lies
    "cli-": r"[a-z]+(-example)?",        # a command's name
    "ordinal-": r"[0-9]+",               # one more of so many
    "limit-": r"across|front|depth|round|flap",
    "wrong-kind-": r"[a-z]+",
    "found-": r"kind-[a-z]+",
    "drawing-span-": r"[a-z-]+",         # the name of a span that the engine adds
    "drawing-part-": r"[a-z-]+",         # the name of a panel, a piece or an attachment
    "lay-cloth-": r"laminate|outer|lining",  # what a cloth is for
    "have-cloth-": r"laminate|outer|lining",  # a cloth that is there
    "have-ends-": r"laminate|outer|lining",
    "new-from-": r"[a-z]+",              # what somebody starts from
    "lay-step-": r"[a-z]+",              # a kind of cut
    "lay-stack-": r"laminate|outer|lining",  # a cloth
    "material-": r"[a-z0-9-]+",          # a material of shared/materials.toml
    "more-": r"[a-z-]+",                 # what more of a cloth is bought for
    "lay-picture-": r"[a-z]+",           # a kind of cut
    "schedule-none-": r"(machine|iron)(-hint)?",            # a station
    "schedule-station-": r"[a-z]+",
    "schedule-more-": r"[a-z]+",
    "usage-option-hint": r"--[a-z-]+",   # an option
    "desk-field-": r"[a-z-]+",           # a value of the job, by its path
    "called-": r"[a-z-]+",               # the same inside a sentence
    "called-prices-": r"[a-z-]+",        # a thing that is bought
    "desk-told-": r"[a-z-]+",            # what the picture tells besides the sizes
    "desk-choice-": r"[a-z-]+",          # what a field of the page offers
    "desk-how-": r"[a-z]+(-alt)?",       # how to measure what somebody begins with
    "desk-measure-": r"[a-z-]+",         # a value that somebody begins with
    "desk-compare-": r"[ab]",            # one of the two
    "desk-compare-do-": r"[a-z]+",       # what somebody does to compare, in order
    "desk-plan-": r"[a-z]+(-about|-alt)?",   # a command's place
    "desk-plan-answer-": r"[a-z]+",      # a part of the answer in one line
    "desk-plan-cloth-": r"[a-z]+",       # a cloth
    "desk-plan-keep-": r"[a-z]+(-all|-one)?",  # a kind of file, or a paper of several sizes
    "desk-plan-savings-": r"[a-z]+",     # a column
    "desk-plan-use-": r"[a-z]+",         # what a small piece is for
    "desk-print-": r"[a-z]+|(more|less)-(across|down)",   # a paper to print; how the square came out
    "desk-print-how-": r"[a-z]+",        # what to look for in the print dialogue
    "desk-record-": r"yes|no",           # whether a seal held, whether there was steam
    "desk-record-held-": r"yes|no",
    "desk-rank-": r"[a-z]+",             # how bad a fault is
    "desk-paper-": r"[a-z0-9-]+",        # a paper of shared/papers.toml
    "packet-section-": r"[a-z]+",         # a part of the packet
    "packet-do-": r"[a-z]+(-one|-card|-own)?",       # likewise, and what is to be done with it
    "manual-exit-": r"[0-9]+",           # an exit code
    "iron-dial-": r"[1-3]",               # dots of ISO 3758
    "work-": r"[a-z-]+",                 # a kind of shared/work.toml that follows another
    "work-brief-": r"[a-z-]+",           # a kind of work
    "work-cut-": r"[a-z]+",              # a cloth
    "work-open-": r"[a-z]+",             # a cloth
    "post-good-": r"[a-z-]+",            # a kind of work
    "post-fault-": r"[a-z-]+(-2)?",
    "first-fault-": r"[a-z-]+",          # a fault of the first pouch
    "stitch-": r"[0-9]+",                 # a stitch of shared/stitches.toml
    "thread-part-": r"[a-z]+",           # a thread of a stitch
    "thread-source-": r"[a-z]+",         # who says what a stitch takes
    "supply-": r"[a-z-]+",               # a package or a small thing of shared/stitches.toml
}

# Literals that look like keys and are something else.
NO_WORDS = {
    # names of files, groups, marks and symbols
    "card-marks", "check-inch", "check-square", "fold-picture", "home-card", "iron-trial", "leak-test",
    "mark-cross", "mark-half", "record-form", "scale-check", "slip-card", "test-page", "top-bar", "trim-line",
    "trim-teeth",
    # headers of HTTP, and a program of the desktop
    "100-continue", "no-store", "same-origin", "xdg-open",
    # names in a job, a construction or a material
    "start-hem", "end-hem", "pul-150", "hook-and-loop",
    # names of sheets
    "first-pouch", "station-cards",
    # options in an address
    "other-liner",
    # parts of keys, see FORMED
    "kind-array", "kind-moment", "kind-number", "kind-table", "kind-text", "kind-truth", "kind-whole",
}

LITERAL = re.compile(r'"((?:[^"\\\n]|\\.)*)"')
KEY = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)+-?")
HOLE = re.compile(r"\{([^ {}]+)\}")
# A hole that the Voice fills with the name of a value or of a table.
FIELD = re.compile(r"[a-z_]+(\.[a-z_]+)*\.?")


def words():
    with open(TOP / "shared/words/en.toml", "rb") as file:
        return tomllib.load(file)


def code():
    """Path -> text without comments and includes."""
    texts = {}
    for path in sorted(p for p in (TOP / "src").rglob("*") if p.suffix in (".cc", ".h")):
        text = re.sub(r"(?m)//[^\n]*|^\s*#\s*include[^\n]*", "", path.read_text(encoding="utf-8"))
        # A literal that goes on in the next line is one literal.
        texts[path.relative_to(TOP)] = re.sub(r'"\s*\n\s*"', "", text)
    return texts


def page_literals():
    """(file, key) of the words that the desk's page and its script name."""
    for path in sorted((TOP / "src").glob("*/page/*.*")):
        text = path.read_text(encoding="utf-8")
        for key in re.findall(r"""(?:\{\{|["`])(desk-[a-z0-9-]+)(?:\}\}|["`]|\$\{)""", text):
            yield path.relative_to(TOP), key


def literals(texts):
    """Literal -> the files it stands in."""
    found = {}
    for path, key in page_literals():
        found.setdefault(key, []).append(str(path))
    for path, text in texts.items():
        for literal in LITERAL.findall(text):
            found.setdefault(literal, []).append(str(path))
    return found


def closing(text, opened):
    """Where the brace at `opened` is closed."""
    depth = 0
    for found in re.compile(r'"(?:[^"\\\n]|\\.)*"|[{}]').finditer(text, opened):
        depth += {"{": 1, "}": -1}.get(found[0], 0)
        if depth == 0:
            return found.start()
    return len(text)


def messages(texts):
    """(file, key, names of the values) of every `{"key"}` and `{"key", {{"name", value} …}}`."""
    helpers = {path: set(re.findall(r'\bvalues\.emplace_back\("([a-z_]+)",', text))
               for path, text in texts.items()}
    for path, text in texts.items():
        # What a helper adds to every message that it reports: the file's own, or one it includes.
        added = set(helpers[path])
        source = (TOP / path).read_text(encoding="utf-8")
        for header in re.findall(r'#include "([a-z_/]+)\.h"', source):
            added |= helpers.get(pathlib.Path("src", header + ".cc"), set())
        for found in re.finditer(r'\{\s*"([a-z0-9]+(?:-[a-z0-9]+)+)"\s*([,}])', text):
            rest = text[found.end():closing(text, found.start())] if found[2] == "," else ""
            if rest and not rest.lstrip().startswith("{{"):
                continue  # values from elsewhere: cannot be seen here
            yield path, found[1], added | set(re.findall(r'\{\s*"([a-z_]+)"\s*,', rest))


class Words(unittest.TestCase):
    def setUp(self):
        self.words = words()
        self.code = code()
        self.literals = literals(self.code)

    def test_every_key_of_the_code_is_there(self):
        missing = {literal: files for literal, files in self.literals.items()
                   if KEY.fullmatch(literal) and literal not in self.words
                   and literal not in NO_WORDS and literal not in FORMED}
        self.assertEqual(missing, {})

    def is_formed(self, key):
        if any(key.startswith(prefix) and re.fullmatch(rest, key[len(prefix):])
               for prefix, rest in FORMED.items()):
            return True
        # `key + "-hint"`: where a file makes hints that way, a key of that file has one.
        if key.endswith("-desk"):
            # How the desk says what a file is told in its own letters.
            told = key.removesuffix("-desk")
            return told in self.words and (told in self.literals or self.is_formed(told))
        base = key.removesuffix("-hint")
        return base != key and any('"-hint"' in self.code.get(pathlib.Path(file), "")
                                   for file in self.literals.get(base, []))

    def test_no_word_is_left_over(self):
        self.assertEqual([key for key in self.words
                          if key not in self.literals and not self.is_formed(key)], [])

    def test_the_lists_of_this_test_are_not_left_over(self):
        self.assertEqual(sorted(name for name in {*NO_WORDS, *FORMED} if name not in self.literals),
                         [])

    def test_every_hole_is_filled(self):
        wrong = []
        seen = 0
        for path, key, filled in messages(self.code):
            if key not in self.words:
                continue
            seen += 1
            said = self.words[key] + self.words.get(key + "-desk", "")
            open_holes = {hole for hole in HOLE.findall(said) if "." not in hole} - filled
            if open_holes:
                wrong.append(f"{path}: {key}: nothing fills {sorted(open_holes)}")
        self.assertEqual(wrong, [])
        self.assertGreater(seen, 100, "the code's messages are no longer recognised")

    def test_every_hole_for_a_value_names_one(self):
        named = {hole for text in self.words.values() for hole in HOLE.findall(text) if "." in hole}
        self.assertGreater(len(named), 20, "the holes for values are no longer recognised")
        for hole in sorted(named):
            key = "called-" + re.sub(r"[._]", "-", hole.rstrip("."))
            self.assertIn(key, self.words)

    def test_holes_and_keys_have_their_form(self):
        for key, text in self.words.items():
            self.assertRegex(key, r"^[a-z0-9]+(-+[a-z0-9]+)*$")
            self.assertIsInstance(text, str, key)
            self.assertTrue(text.strip(), f"{key} is empty")
            for hole in HOLE.findall(text):
                self.assertRegex(hole, r"^[a-z_]+$" if "." not in hole else FIELD, key)


if __name__ == "__main__":
    unittest.main()
