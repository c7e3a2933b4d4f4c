"""Whether two programs draw the same: `python3 tests/output/same_drawings.py FOLDER FOLDER`.

Every SVG of the first folder is held to the one of its name in the second: the same elements with the
same attributes, and every point of every path where it was, to a thousandth of a millimetre. Letters
are written in hundredths, so each of their points may be off by one. By hand, when what writes SVG is
changed: make the same files with the old and the new program. Not for files of different jobs.
"""

import pathlib
import sys
import xml.etree.ElementTree as ElementTree

import vectors

MOST = 0.001  # mm
MOST_OF_LETTERS = 0.011


def written(steps):
    """Steps without moves that lead nowhere."""
    return [step for step, after in zip(steps, steps[1:] + [("", [])])
            if not step[0] == after[0] == "M"]


def farthest(old, new):
    """How far points of two paths lie apart at most; None where they do not run alike."""
    old, new = written(vectors.path_steps(old)), written(vectors.path_steps(new))
    if [verb for verb, _ in old] != [verb for verb, _ in new]:
        return None
    return max((max(abs(a[0] - b[0]), abs(a[1] - b[1]))
                for (_, ours), (_, theirs) in zip(old, new) for a, b in zip(ours, theirs)), default=0)


class Comparison:
    def __init__(self):
        self.faults, self.paths, self.letters, self.farthest = [], 0, 0, {False: 0.0, True: 0.0}

    def files(self, old, new):
        if not new.exists():
            self.faults.append(f"{new}: missing")
            return
        ours = list(ElementTree.parse(old).iter())
        theirs = list(ElementTree.parse(new).iter())
        if len(ours) != len(theirs):
            self.faults.append(f"{new}: {len(theirs)} elements instead of {len(ours)}")
        for a, b in zip(ours, theirs):
            self.elements(new, a, b)

    def elements(self, name, old, new):
        def others(element):
            return {key: value for key, value in element.items() if key != "d"}

        if (old.tag, old.text, others(old)) != (new.tag, new.text, others(new)):
            self.faults.append(f"{name}: {others(new)} instead of {others(old)}")
        if old.get("d") is None:
            return
        is_text = old.get("aria-label") is not None
        apart = farthest(old.get("d"), new.get("d"))
        self.paths += 1
        self.letters += is_text
        if apart is None or apart > (MOST_OF_LETTERS if is_text else MOST):
            self.faults.append(f"{name}: {old.get('aria-label') or old.get('id')}: {apart} mm apart")
            return
        self.farthest[is_text] = max(self.farthest[is_text], apart)


def main():
    old, new = map(pathlib.Path, sys.argv[1:3])
    comparison = Comparison()
    files = sorted(path.relative_to(old) for path in old.rglob("*.svg"))
    for file in files:
        comparison.files(old / file, new / file)
    print("\n".join(comparison.faults[:40]))
    print(f"{len(files)} files, {comparison.paths} paths, {comparison.letters} of them texts; farthest "
          f"apart: lines {comparison.farthest[False]:.4f} mm, letters {comparison.farthest[True]:.4f} mm")
    return bool(comparison.faults) or not files


if __name__ == "__main__":
    sys.exit(main())
