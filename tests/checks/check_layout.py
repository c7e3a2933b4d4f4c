"""Every C++ file is laid out as clang-format does it by the repository's .clang-format."""

import os
import pathlib
import subprocess
import unittest

TOP = pathlib.Path(os.environ.get("POUCHWRIGHT_SOURCE", pathlib.Path(__file__).resolve().parents[2]))
FORMAT = ["clang-format", "--dry-run", "-Werror"]


def files():
    return sorted(path for folder in ("src", "tests") for ending in ("*.cc", "*.h")
                  for path in (TOP / folder).rglob(ending) if "node_modules" not in path.parts)


class Layout(unittest.TestCase):
    def test_every_file_is_laid_out(self):
        self.assertGreater(len(files()), 100)
        run = subprocess.run([*FORMAT, *files()], cwd=TOP, capture_output=True, text=True, check=False)
        self.assertEqual(run.returncode, 0, f"{run.stderr}\nclang-format -i FILE lays a file out")

    def test_another_layout_is_seen(self):
        run = subprocess.run([*FORMAT, "--assume-filename=src/base/length.h"], cwd=TOP,
                             input="int  a ;\n", capture_output=True, text=True, check=False)
        self.assertNotEqual(run.returncode, 0)


if __name__ == "__main__":
    unittest.main()
