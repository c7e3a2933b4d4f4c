"""The files of out-samples/ are what the program makes from the sample job now.

`sh out-samples/make.sh` makes them anew. The SVG files are not kept: they are large.
"""

import os
import pathlib
import subprocess
import tempfile
import unittest

PROGRAM = os.environ.get("POUCHWRIGHT", "pouchwright")
SOURCE = pathlib.Path(os.environ.get("POUCHWRIGHT_SOURCE",
                                     pathlib.Path(__file__).resolve().parents[2]))
KEPT = ("template.pdf", "mask.pdf", "packet.pdf", "template.png", "slip-card.png", "shield.png", "sizes.txt")


class Samples(unittest.TestCase):
    def test_kept_files_are_current(self):
        job = str(SOURCE / "patterns" / "heron-quay.toml")
        with tempfile.TemporaryDirectory() as folder:
            made = pathlib.Path(folder)
            for command in ("template", "mask"):
                subprocess.run([PROGRAM, command, job, "--out", folder, "--png", "--quiet"],
                               check=True, timeout=60)
            subprocess.run([PROGRAM, "packet", job, "--out", made / "packet.pdf", "--quiet"],
                           check=True, timeout=60)
            sizes = subprocess.run([PROGRAM, "size", job, "--quiet"], check=True,
                                   capture_output=True, timeout=60)
            (made / "sizes.txt").write_bytes(sizes.stdout)
            for name in KEPT:
                with self.subTest(name):
                    kept = (SOURCE / "out-samples" / name).read_bytes()
                    self.assertTrue(kept == (made / name).read_bytes(),
                                    f"{name} is old: run sh out-samples/make.sh")


if __name__ == "__main__":
    unittest.main()
