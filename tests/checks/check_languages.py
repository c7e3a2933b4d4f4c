"""Holds every language of shared/words/ to the English texts, and to the trade words of glossary.toml.

Whatever stands on paper or on the page is said in each language; what only who edits files or types commands sees may
be said in English, and is counted. A line of a file is one that the program reads without a TOML library.
"""

import os
import pathlib
import re
import tomllib
import unittest

TOP = pathlib.Path(os.environ.get("POUCHWRIGHT_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
WORDS = TOP / "shared" / "words"

# Parts of en.toml (by their comment) and beginnings of keys that may be said in English.
RARE_PARTS = ("The command line.", "The manual page.", "Files and folders.", "Reading files.",
              "Constructions: what can be wrong", "Constructions of several panels",
              "Operations: what folding the panel shows", "Faults of fonts",
              "The desk: what the command and its server say", "What a run says")
RARE_KEYS = ("cli-", "manual-", "usage-", "words-", "list-language", "language-")

# CLDR has a form for whole millions in these; the last form is said for them.
OF_MILLIONS = {"es": "many", "fr": "many", "pt": "many"}

# Their English quotes keys of files that are no trade words there.
QUOTING = {"day-no-make-hint", "new-stock-hint"}

PLAIN = re.compile(r'^"([^"\\]+)" = "((?:[^"\\]|\\["\\])*)"$')
HOLE = re.compile(r"\{([A-Za-z0-9_.\-]+)(?=[},])")
FORM = re.compile(r"\s*(=\d+|[a-z]+)\s*\{")


def texts(name):
    return tomllib.loads((WORDS / f"{name}.toml").read_text(encoding="utf-8"))


ENGLISH = texts("en")
GLOSSARY = texts("glossary")
LANGUAGES = sorted(path.stem for path in WORDS.glob("*.toml") if path.stem not in ("en", "glossary"))
TONGUES = [tag for tag in LANGUAGES if "-" not in tag]


def rare_keys():
    rare, part = set(), ""
    for line in (WORDS / "en.toml").read_text(encoding="utf-8").splitlines():
        if line.startswith("# "):
            part = line[2:]
        found = PLAIN.match(line)
        if found and (part.startswith(RARE_PARTS) or found[1].startswith(RARE_KEYS)):
            rare.add(found[1])
    return rare


def plurals(text):
    """[(hole, {form: text})] of all holes with forms; None for forms that cannot be read."""
    found, at = [], 0
    begin = re.compile(r"\{([A-Za-z0-9_.\-]+),\s*plural,")
    while hole := begin.search(text, at):
        forms, at = {}, hole.end()
        while form := FORM.match(text, at):
            depth, end = 1, form.end()
            while end < len(text) and depth:
                depth += (text[end] == "{") - (text[end] == "}")
                end += 1
            forms[form[1]] = text[form.end():end - 1]
            at = end
        is_closed = re.compile(r"\s*\}").match(text, at)
        found.append((hole[1], forms if is_closed else None))
    return found


def holes(text):
    """The names of all holes, those inside forms as well."""
    found = {hole for hole, _ in plurals(text)}
    for _, forms in plurals(text):
        for form in (forms or {}).values():
            found |= holes(form)
    for _, forms in plurals(text):
        for form in (forms or {}).values():
            text = text.replace("{" + form + "}", "")
    return found | set(HOLE.findall(text))


def told(text):
    """An English text without its holes and what it quotes of files and command lines."""
    text = HOLE.sub("{", text)
    return re.sub(r"\[[a-z_.\[]+\]|--[a-z-]+|\b[a-z_]+\.[a-z_]+\b|\b[a-z_]+ = \S+|\bto say \S+", "", text)


class Languages(unittest.TestCase):
    def test_there_are_some(self):
        self.assertLessEqual({"ar", "de", "es", "fr", "hi", "pt", "sw"}, set(TONGUES))
        self.assertLessEqual({"en-GB", "en-US"}, set(LANGUAGES))

    def test_every_line_is_read_at_once(self):
        for tag in ["en", *LANGUAGES]:
            for number, line in enumerate((WORDS / f"{tag}.toml").read_text(encoding="utf-8").splitlines(), 1):
                with self.subTest(f"{tag}.toml:{number}"):
                    self.assertTrue(not line or line.startswith("#") or PLAIN.match(line), line)

    def test_nothing_of_paper_or_page_is_missing(self):
        rare = rare_keys()
        for tag in TONGUES:
            said = texts(tag)
            letters = {key for key, text in ENGLISH.items() if re.search(r"[A-Za-z]{2}", HOLE.sub("", text))}
            missing = sorted(letters - said.keys())
            print(f"{tag}: {len(set(missing) & rare)} of {len(rare)} rare texts are said in English")
            with self.subTest(tag):
                self.assertEqual([key for key in missing if key not in rare], [])

    def test_keys_and_holes_are_those_of_the_english(self):
        for tag in LANGUAGES:
            for key, text in texts(tag).items():
                if key.startswith("language-plural-"):
                    continue
                with self.subTest(f"{tag}: {key}"):
                    self.assertIn(key, ENGLISH)
                    self.assertEqual(holes(text), holes(ENGLISH[key]))

    def test_each_count_has_every_form_of_its_language(self):
        for tag in LANGUAGES:
            said = texts(tag)
            rules = [key.removeprefix("language-plural-") for key in said if key.startswith("language-plural-")]
            wanted = {*rules, "other"} - {OF_MILLIONS.get(tag)}
            for key, text in said.items():
                for hole, forms in plurals(text):
                    with self.subTest(f"{tag}: {key}", hole=hole):
                        self.assertIsNotNone(forms, "cannot be read")
                        named = {form for form in forms if not form.startswith("=")}
                        self.assertEqual(named - {OF_MILLIONS.get(tag)}, wanted)

    def test_trade_words_are_called_alike(self):
        rare = rare_keys()
        for term, row in GLOSSARY.items():
            english = re.compile(r"(?<![\w-])(?:" + "|".join(map(re.escape, row["english"])) + r")(?![\w-])", re.I)
            for tag in TONGUES:
                self.assertIn(tag, row, term)
                said = texts_of(tag)
                for key, text in ENGLISH.items():
                    if key in rare or key in QUOTING or key not in said or not english.search(told(text)):
                        continue
                    with self.subTest(f"{tag}: {key}", term=term):
                        self.assertTrue(any(own.lower() in said[key].lower() for own in row[tag]),
                                        f"{text!r} is said as {said[key]!r}, without any of {row[tag]}")


_KEPT = {}


def texts_of(tag):
    if tag not in _KEPT:
        _KEPT[tag] = texts(tag)
    return _KEPT[tag]


if __name__ == "__main__":
    unittest.main()
