"""Folds what a cutting template shows, as a person would who has only the print.

    printed = printed_panels(folder)                  # {"template": Printed, ...}
    panel = printed["template"]
    strip = Strip(panel.names, panel.lines, bottom=140)
    strip.fold(("front", "back"), "front", ON_TOP)
    strip.contacts()                                  # {("back", "front"): [0, 140]}

Takes nothing from the program but its whole-drawing SVGs, and folds by a route of its own: each span
is a stretch of a strip that is mirrored about a line. All numbers are millimetres; `y` runs along a
flat panel from its start, `x` across from its left raw edge.
"""

import pathlib
import re
import xml.etree.ElementTree as ElementTree
from dataclasses import dataclass, field

import vectors

ON_TOP, UNDERNEATH = "on top", "underneath"
START_HEM, END_HEM = "start-hem", "end-hem"


@dataclass
class Printed:
    """One template: its outline's corners, what is drawn on it, all from the panel's top left."""
    width: float
    length: float
    outline: list
    names: list = field(default_factory=list)   # of the spans
    lines: list = field(default_factory=list)   # where they begin, and where the last one ends
    bands: list = field(default_factory=list)   # (x0, x1, y0, y1)
    notches: list = field(default_factory=list)  # (x0, x1, y)
    marks: dict = field(default_factory=dict)   # name -> [(x, y0, y1)]
    seams: list = field(default_factory=list)   # (x0, y0, x1, y1)
    outer: tuple = None                         # (x0, x1, y0, y1), where it is smaller


def printed_panels(folder):
    """Stem of the file -> Printed, of the whole drawings in `folder`."""
    return {path.stem: printed(path) for path in sorted(pathlib.Path(folder).glob("template*.svg"))
            if not re.search(r"-([A-Z]+\d+|start)$", path.stem)}


def printed(path):
    shapes = {}
    for group in ElementTree.parse(path).getroot():
        for shape in group:
            if shape.get("id") and shape.get("d"):
                shapes[shape.get("id")] = vectors.path_lines(shape.get("d"))
    corners = shapes["panel"][0][0]
    left, bottom = min(x for x, _ in corners), max(y for _, y in corners)
    # The panel's start is printed at the lower edge, as the pictures of the steps show it.
    found = {name: [[(x - left, bottom - y) for x, y in points] for points, _, _ in lines]
             for name, lines in shapes.items()}
    panel = Printed(max(x for x, _ in found["panel"][0]), max(y for _, y in found["panel"][0]),
                    found["panel"][0])
    read_folds(panel, found)
    for name, lines in found.items():
        if name.startswith("fused-band"):
            panel.bands.append(box_of(lines))
        elif name.startswith("notch--"):
            (x0, y), (x1, _) = sorted(lines[0])
            panel.notches.append((x0, x1, y))
        elif name.startswith("seam-line"):
            panel.seams.append((*lines[0][0], *lines[0][1]))
        elif name.startswith("attachment--"):
            plain = re.sub(r"-\d+$", "", name.removeprefix("attachment--"))
            panel.marks.setdefault(plain, []).append(mark_of(lines))
        elif name == "outer":
            panel.outer = box_of(lines)
    return panel


def read_folds(panel, found):
    """A fold's line is called after the spans on its two sides."""
    panel.lines, folds = [0.0], []
    for name, lines in found.items():
        if name.startswith("fold--"):
            before, after = name.removeprefix("fold--").split("---")
            folds.append((min(y for _, y in lines[0]), before, after))
    for y, before, after in sorted(folds):
        panel.names = panel.names or [before]
        panel.names.append(after)
        panel.lines.append(y)
    panel.lines.append(panel.length)


def box_of(lines):
    points = [point for line in lines for point in line]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), max(xs), min(ys), max(ys)


def mark_of(lines):
    """A cross at a point, or two bars joined by a line where a stretch is covered."""
    across = sorted(line[0][1] for line in lines if abs(line[0][1] - line[1][1]) < 1e-6)
    down = next(line for line in lines if abs(line[0][0] - line[1][0]) < 1e-6)
    return down[0][0], across[0], across[-1]


class Layer:
    """One span of a strip: where it starts and ends on the strip, and where it lies."""

    def __init__(self, name, start, end, bottom):
        self.name, self.start, self.end = name, start, end
        self.sign, self.offset, self.film_up = 1, -bottom, True

    def height(self, y):
        return self.sign * y + self.offset

    def y(self, height):
        return (height - self.offset) / self.sign

    @property
    def heights(self):
        return tuple(sorted((self.height(self.start), self.height(self.end))))

    def turn(self, line):
        self.sign, self.offset = -self.sign, 2 * line - self.offset
        self.film_up = not self.film_up


class Strip:
    """Film-up cloth, folded along its printed lines. `stack` is from the bottom up."""

    def __init__(self, names, lines, bottom):
        self.strips = []
        self.stack = []
        self.lay(names, lines, bottom)

    def lay(self, names, lines, bottom):
        """Lays a strip on what lies, film up, `bottom` of it at height 0; returns its layers."""
        layers = [Layer(name, lines[i], lines[i + 1], bottom) for i, name in enumerate(names)]
        self.strips.append(layers)
        self.stack += layers
        return layers

    def layer(self, name):
        return next(layer for layer in self.stack if layer.name == name)

    def fold(self, between, turned, lands):
        """Everything of the strip on the side of the span `turned` goes over the line."""
        strip = next(strip for strip in self.strips if any(one.name == turned for one in strip))
        first = next(i for i, one in enumerate(strip) if one.name == between[0])
        at = strip[first].height(strip[first].end)
        side = strip[:first + 1] if turned == between[0] else strip[first + 1:]
        stays = [layer for layer in self.stack if layer not in side]
        moved = [layer for layer in reversed(self.stack) if layer in side]
        for layer in moved:
            layer.turn(at)
        self.stack = stays + moved if lands == ON_TOP else moved + stays

    def over(self, low, high):
        return [layer for layer in self.stack
                if layer.heights[0] < (low + high) / 2 < layer.heights[1]]

    def stretches(self):
        edges = sorted({round(edge, 3) for layer in self.stack for edge in layer.heights})
        return [pair for pair in zip(edges, edges[1:]) if pair[1] - pair[0] > 0.01]

    def contacts(self):
        """Film on film: {(lower, upper): [from, to]}."""
        found = {}
        for low, high in self.stretches():
            stack = self.over(low, high)
            for lower, upper in zip(stack, stack[1:]):
                if lower.film_up and not upper.film_up:
                    found.setdefault((lower.name, upper.name), [low, high])[1] = high
        return found

    def bare_film(self, also_below):
        """Heights at which film looks at the iron, added up for either side."""
        total = 0
        for low, high in self.stretches():
            stack = self.over(low, high)
            if stack:
                sides = stack[-1].film_up + (also_below and not stack[0].film_up)
                total += sides * (high - low)
        return total


def joined(intervals, gap=0.05):
    """Intervals that touch are one."""
    result = []
    for low, high in sorted(intervals):
        if result and low <= result[-1][1] + gap:
            result[-1][1] = max(result[-1][1], high)
        else:
            result.append([low, high])
    return result
