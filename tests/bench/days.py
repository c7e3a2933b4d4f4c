#!/usr/bin/env python3
"""How much less cloth seeded days take than their jobs apart.

    POUCHWRIGHT=program python3 tests/bench/days.py [DAYS [SEED]]

Each day makes two to four pouches of random sizes and counts from one laminate, some with a cotton
outer. Prints for each cloth the sums, the days on which the joint plan takes more (there should be
none), and how often a plan is proved the shortest. Ratios only: no times.
"""

import json
import os
import pathlib
import random
import statistics
import subprocess
import sys
import tempfile

PROGRAM = os.environ.get("POUCHWRIGHT", "pouchwright")


def lays(job):
    made = subprocess.run([PROGRAM, "lay", str(job), "--json", "--quiet"], check=True,
                          capture_output=True, text=True)
    return json.loads(made.stdout)["lays"]


def job_text(dice):
    outer = '[materials]\nouter = "cotton-110"\n' if dice.random() < 0.5 else ""
    return (f'construction = "foldover"\n[pouch]\nwidth = "{dice.randrange(120, 320, 5)} mm"\n'
            f'depth = "{dice.randrange(110, 280, 5)} mm"\n{outer}'
            f'[batch]\npouches = {dice.randint(5, 40)}\n')


def main():
    days = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    dice = random.Random(int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    together, apart, saved, worse, gaps = {}, {}, [], 0, []
    with tempfile.TemporaryDirectory() as held:
        folder = pathlib.Path(held)
        for number in range(days):
            names = []
            for index in range(dice.randint(2, 4)):
                names.append(f"job-{index}.toml")
                (folder / names[-1]).write_text(job_text(dice), encoding="utf-8")
            day = folder / "day.toml"
            day.write_text("".join(f'[[make]]\njob = "{name}"\n' for name in names),
                           encoding="utf-8")
            alone = {}
            for name in names:
                for lay in lays(folder / name):
                    alone[lay["cloth"]] = alone.get(lay["cloth"], 0) + lay["length_mm"]
            for lay in lays(day):
                cloth, length = lay["cloth"], lay["length_mm"]
                together[cloth] = together.get(cloth, 0) + length
                apart[cloth] = apart.get(cloth, 0) + alone[cloth]
                saved.append(1 - length / alone[cloth])
                gaps.append((length - lay["bound_mm"]) / length)
                if length > alone[cloth] + 1e-6:
                    worse += 1
                    print(f"day {number}: {cloth} takes {length - alone[cloth]:.1f} mm more")
    for cloth, length in sorted(together.items()):
        print(f"{cloth}: {length / apart[cloth]:.4f} of the jobs apart")
    print(f"a cloth of a day saves {100 * statistics.median(saved):.1f} % in the median, "
          f"{100 * max(saved):.1f} % at most; {worse} of {len(saved)} take more")
    print(f"gap to the bound: {100 * statistics.median(gaps):.2f} % in the median, "
          f"{100 * max(gaps):.2f} % at worst")


if __name__ == "__main__":
    main()
