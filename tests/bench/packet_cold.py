"""How long a packet takes from nothing: `python3 tests/bench/packet_cold.py [PROGRAM] [JOB.toml]`.

Every run is a fresh process. Beside it the bare drawing of as many pages: poppler's pdftocairo reads
the finished packet and draws the same pages with the same library, and works nothing out. Printed
for people: the best of a few runs of each, and their ratio (aim: at most 2, with a release build).
"""

import pathlib
import subprocess
import sys
import tempfile
import time

TOP = pathlib.Path(__file__).resolve().parents[2]
RUNS = 10


def best_ms(line):
    times = []
    for _ in range(RUNS):
        began = time.perf_counter()
        subprocess.run(line, check=True, stdout=subprocess.DEVNULL)
        times.append(time.perf_counter() - began)
    return 1000 * min(times)


def main():
    program = sys.argv[1] if len(sys.argv) > 1 else TOP / ".build/release/src/pouchwright"
    job = sys.argv[2] if len(sys.argv) > 2 else TOP / "patterns/heron-quay.toml"
    with tempfile.TemporaryDirectory() as folder:
        packet, redrawn = pathlib.Path(folder, "packet.pdf"), pathlib.Path(folder, "redrawn.pdf")
        made = best_ms([program, "packet", job, "--quiet", "--out", packet])
        bare = best_ms(["pdftocairo", "-pdf", packet, redrawn])
        pages = subprocess.run(["qpdf", "--show-npages", packet], check=True, capture_output=True,
                               text=True).stdout.strip()
    print(f"packet of {pages} pages: {made:.0f} ms, bare drawing: {bare:.0f} ms, "
          f"ratio {made / bare:.2f}")


if __name__ == "__main__":
    main()
