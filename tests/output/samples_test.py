"""The files of out-samples/ are what the program makes from the sample job now.

`sh out-samples/make.sh` makes them anew. Of the SVG files those of whole drawings are kept; their
pages hold the same lines once more, and are not.
"""

import os
import pathlib
import re
import subprocess
import tempfile
import unittest

import same_drawings

PROGRAM = os.environ.get("POUCHWRIGHT", "pouchwright")
SOURCE = pathlib.Path(os.environ.get("POUCHWRIGHT_SOURCE",
                                     pathlib.Path(__file__).resolve().parents[2]))
PREVIEWS = tuple(f"packet-{section}.png" for section in ("overview", "lay", "steps", "checks"))
KEPT = ("template.pdf", "mask.pdf", "packet.pdf", "sizes.txt", *PREVIEWS,
        *(f"{drawing}.{form}" for drawing in ("template", "slip-card", "shield")
          for form in ("svg", "png")))
LARGEST = 400_000  # bytes of one file: they are kept in the history, too


def same(kept, made):
    """SVG is the same where it draws the same, however its numbers are written."""
    if kept.suffix != ".svg":
        return kept.read_bytes() == made.read_bytes()
    comparison = same_drawings.Comparison()
    comparison.files(kept, made)
    return not comparison.faults


class Samples(unittest.TestCase):
    def test_kept_files_are_current(self):
        job = str(SOURCE / "patterns" / "heron-quay.toml")
        with tempfile.TemporaryDirectory() as folder:
            made = pathlib.Path(folder)
            for command in ("template", "mask"):
                subprocess.run([PROGRAM, command, job, "--out", folder, "--png", "--quiet"],
                               check=True, timeout=60)
            subprocess.run([PROGRAM, "packet", job, "--out", made / "packet.pdf", "--png",
                            "--quiet"],
                           check=True, timeout=60)
            sizes = subprocess.run([PROGRAM, "size", job, "--quiet"], check=True,
                                   capture_output=True, timeout=60)
            (made / "sizes.txt").write_bytes(sizes.stdout)
            for name in KEPT:
                with self.subTest(name):
                    self.assertLess((made / name).stat().st_size, LARGEST)
                    kept = SOURCE / "out-samples" / name
                    self.assertTrue(same(kept, made / name),
                                    f"{name} is old: run sh out-samples/make.sh")

    def test_the_readme_shows_and_names_only_what_is_kept(self):
        readme = (SOURCE / "README.md").read_text(encoding="utf-8")
        shown = re.findall(r"\(out-samples/([^)]+)\)", readme)
        self.assertIn("packet-steps.png", shown)
        named = re.findall(r"`out-samples/([\w.-]+)`", readme)
        self.assertIn("packet.pdf", named)
        self.assertEqual([one for one in {*shown, *named} if one not in KEPT], [])


if __name__ == "__main__":
    unittest.main()
