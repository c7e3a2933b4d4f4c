#!/usr/bin/env python3
"""An example at the top of a header calls what there is: each member in it is declared in that
header or in one that it includes, each function and type in some header.

    python3 tests/checks/check_examples.py
"""

import functools
import pathlib
import re
import sys
import unittest

ROOT = pathlib.Path(__file__).resolve().parents[2]
SRC = ROOT / "src"
EXAMPLE = re.compile(r"^///     ([^/\n].*)$", re.M)
OWN = re.compile(r'^#include "([^"]+)"', re.M)
# Variables that an example makes up are not among them.
MEMBERS = re.compile(r"(?:(?<=\.)|(?<=->))[A-Za-z_]\w*")
CALLED = re.compile(r"\b[a-z_]\w*(?=\()|\b[A-Z]\w*[a-z]\w*|(?<=::)[A-Za-z_]\w*")
# The language, its library, and what a reader of the example does with a value.
KNOWN = set("""if for while switch return sizeof std string vector optional size front back begin end value
    push_back empty find at first second move get emplace_back value_or cout cerr print show""".split())


def opening(text):
    """The comment that opens a header."""
    lines = []
    for line in text.splitlines():
        if not line.startswith("///"):
            break
        lines.append(line)
    return "\n".join(lines)


@functools.lru_cache(maxsize=None)
def declared(name):
    """All words of a header and of what it includes, comments aside."""
    text = (SRC / name).read_text(encoding="utf-8")
    words = set(re.findall(r"\w+", re.sub(r"//.*", "", text)))
    for included in OWN.findall(text):
        words |= declared(included)
    return frozenset(words)


@functools.lru_cache(maxsize=None)
def declared_somewhere():
    return frozenset().union(*(declared(h.relative_to(SRC).as_posix()) for h in SRC.rglob("*.h")))


def unknown(header):
    name = header.relative_to(SRC).as_posix()
    example = "\n".join(EXAMPLE.findall(opening(header.read_text(encoding="utf-8"))))
    code = re.sub(r'"[^"\n]*"|//.*|#.*', " ", example)
    local = set(re.findall(r"\b(\w+) ?(?:=|\{|;|:)", code))
    local |= set(re.findall(r"[\w>&*] (\w+)\(", code)) - {"return"}  # `Type name(...)`
    members = set(MEMBERS.findall(code))
    called = set(CALLED.findall(code)) - members
    missing = (members - declared(name)) | (called - declared_somewhere())
    return sorted(missing - KNOWN - local)


class Examples(unittest.TestCase):
    def test_each_name_in_a_headers_example_exists(self):
        headers = sorted(SRC.rglob("*.h"))
        self.assertGreater(len(headers), 50)
        for header in headers:
            with self.subTest(header.relative_to(ROOT).as_posix()):
                self.assertEqual(unknown(header), [], "an example uses names that are not there")


if __name__ == "__main__":
    unittest.main(argv=sys.argv)
