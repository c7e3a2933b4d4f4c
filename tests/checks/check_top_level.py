"""Only the fixed names stand at the top of the project, so that a newcomer finds the way about."""

import os
import pathlib
import shutil
import subprocess
import unittest

TOP = pathlib.Path(os.environ.get("POUCHWRIGHT_SOURCE", pathlib.Path(__file__).resolve().parents[2]))

FIXED = {"README.md", "DEVELOPERS.md", "CMakeLists.txt", "src", "patterns", "fonts", "tests",
         "out-samples", "shared", "LICENSE", "CHANGELOG.md", "CMakePresets.json"}
# What tools look for by these names.
DOTTED = {".ci", ".clang-format", ".clang-tidy", ".gitignore"}
# What git and the build put there; never in the history.
MADE = {".git", ".build"}


def names():
    """The top-level names in git's list; in a copy without git, those in the folder."""
    if (TOP / ".git").exists() and shutil.which("git"):
        listed = subprocess.run(["git", "-c", f"safe.directory={TOP}", "-C", TOP, "ls-files", "-z"],
                                check=True, capture_output=True).stdout.decode()
        return {path.split("/")[0] for path in listed.split("\0") if path}
    return {path.name for path in TOP.iterdir()} - MADE


class TopLevel(unittest.TestCase):
    def test_only_the_fixed_names(self):
        self.assertEqual(names() - FIXED - DOTTED, set())

    def test_every_fixed_name_is_there(self):
        self.assertEqual(FIXED - names(), set())


if __name__ == "__main__":
    unittest.main()
