"""What lines a finished file holds, as libraries other than ours see them.

    page = pdf_page("mask.pdf", 1)          # through poppler (pdftocairo)
    page = svg_file("mask.svg")             # our file as it stands, read here
    page = svg_through_rsvg("mask.svg")     # our file as librsvg draws it
    page.width, page.height                 # mm
    squares(page, 50, near=(20, 200))       # [(x, y, width, height)], line centres
    segments(page)                          # [Segment], clipped to what shows

All numbers are millimetres from the page's top left corner. Only the standard library and the two
programs pdftocairo (Debian poppler-utils) and rsvg-convert (librsvg2-bin) are used. Not for text:
letters come as filled outlines or are left out.

Run as a program it prints what it finds: vectors.py FILE [PAGE].
"""

import math
import os
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ElementTree
from dataclasses import dataclass, field

GROUPS = ("cut", "fold", "seam", "seal", "notch", "grain", "label", "registration", "scale-check")
MM_PER = {"mm": 1.0, "cm": 10.0, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6, "px": 25.4 / 96,
          "": 25.4 / 96}
IDENTITY = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
CURVE_STEPS = 16


@dataclass
class Polyline:
    """One subpath; curves are broken into CURVE_STEPS chords."""
    points: list
    closed: bool
    group: str = ""          # the nearest of GROUPS around it
    id: str = ""
    width: float = 0.0       # of the stroke; 0 where not stroked
    dashes: tuple = ()
    filled: bool = False
    curved: bool = False
    clip: "Clip" = None      # only what is inside shows


@dataclass(frozen=True)
class Clip:
    """A box (x0, y0, x1, y1) and boxes cut out of it."""
    box: tuple
    holes: tuple = ()


@dataclass
class Segment:
    """A straight stroke as far as it shows, ends ordered by x, then y."""
    x0: float
    y0: float
    x1: float
    y1: float
    width: float
    group: str = ""
    dashes: tuple = ()

    @property
    def length(self):
        return math.hypot(self.x1 - self.x0, self.y1 - self.y0)


@dataclass
class Page:
    width: float
    height: float
    polylines: list = field(default_factory=list)
    ids: list = field(default_factory=list)
    strokes_only: bool = False


def pdf_page(path, page=1, strokes_only=False):
    """Page `page` (from 1) of a PDF as poppler sees it; `strokes_only` leaves filled shapes out."""
    # Left to itself pdftocairo shrinks an A4 page by 0.1 % on to a paper of whole points.
    svg = subprocess.run(["pdftocairo", "-svg", "-noshrink", "-nocenter", "-f", str(page),
                          "-l", str(page), str(path), "-"],
                         check=True, capture_output=True).stdout
    return read_svg(svg, strokes_only)


def pdf_page_size(path, page=1):
    """(width, height) by poppler's pdfinfo, which does not round to whole points."""
    text = subprocess.run(["pdfinfo", "-f", str(page), "-l", str(page), str(path)],
                          check=True, capture_output=True, text=True).stdout
    found = re.search(r"^Page +\d+ size: +([\d.]+) x ([\d.]+) pts", text, re.MULTILINE)
    return tuple(float(value) * MM_PER["pt"] for value in found.groups())


def svg_through_rsvg(path, form="svg", strokes_only=False):
    """An SVG file as librsvg draws it; `form` is svg or pdf."""
    with tempfile.TemporaryDirectory() as folder:
        drawn = os.path.join(folder, "drawn." + form)
        subprocess.run(["rsvg-convert", "-f", form, "-o", drawn, str(path)], check=True)
        if form == "svg":
            return svg_file(drawn, strokes_only)
        return pdf_page(drawn, strokes_only=strokes_only)


def svg_file(path, strokes_only=False):
    """An SVG file as it stands."""
    with open(path, "rb") as file:
        return read_svg(file.read(), strokes_only)


def read_svg(data, strokes_only=False):
    """The Page in SVG `data` (bytes or text)."""
    root = ElementTree.fromstring(data)
    width, height = length(root.get("width")), length(root.get("height"))
    x0, y0, view_width, view_height = numbers(root.get("viewBox"))
    across, down = width / view_width, height / view_height
    scale = (across, 0.0, 0.0, down, -x0 * across, -y0 * down)
    page = Page(width, height, strokes_only=strokes_only)
    page.ids = [element.get("id") for element in root.iter() if element.get("id")]
    clips = {element.get("id"): element for element in root.iter() if tag(element) == "clipPath"}
    _walk(root, scale, {}, "", None, clips, page)
    return page


def segments(page, group=None):
    """All straight strokes, clipped to what shows on the page; with `group`, only its own."""
    found = []
    whole = Clip((-0.01, -0.01, page.width + 0.01, page.height + 0.01))
    for line in page.polylines:
        if not line.width or line.curved or (group is not None and line.group != group):
            continue
        points = line.points + (line.points[:1] if line.closed else [])
        for a, b in zip(points, points[1:]):
            for part in clipped(a, b, narrowed(whole, line.clip)):
                (xa, ya), (xb, yb) = sorted(part)
                found.append(Segment(xa, ya, xb, yb, line.width, line.group, line.dashes))
    return found


def squares(page, side, near=None, within=5.0, tolerance=0.5):
    """Stroked squares along the axes, `side` +- `tolerance`, as (x, y, width, height) of their line
    centres; `near` = (x, y) asks for a top left corner within `within` of it."""
    return rectangles(page, side, side, near, within, tolerance)


def rectangles(page, width, height, near=None, within=5.0, tolerance=0.5):
    """As `squares`, for rectangles."""
    found = []
    for line in page.polylines:
        box = _rectangle(line)
        if box is None or abs(box[2] - width) > tolerance or abs(box[3] - height) > tolerance:
            continue
        if near is None or math.hypot(box[0] - near[0], box[1] - near[1]) <= within:
            found.append(box)
    return sorted(found)


def length(text):
    """`210mm`, `595.28pt`, `100` (px) in mm."""
    found = re.fullmatch(r"\s*([-+.\deE]+)\s*([a-z]*)\s*", text)
    return float(found.group(1)) * MM_PER[found.group(2)]


def numbers(text):
    return [float(n) for n in re.findall(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?", text or "")]


def tag(element):
    return element.tag.rsplit("}", 1)[-1]


def multiplied(a, b):
    """The matrix that does b, then a."""
    return (a[0] * b[0] + a[2] * b[1], a[1] * b[0] + a[3] * b[1],
            a[0] * b[2] + a[2] * b[3], a[1] * b[2] + a[3] * b[3],
            a[0] * b[4] + a[2] * b[5] + a[4], a[1] * b[4] + a[3] * b[5] + a[5])


def moved(matrix, point):
    x, y = point
    return (matrix[0] * x + matrix[2] * y + matrix[4], matrix[1] * x + matrix[3] * y + matrix[5])


def transform_of(text):
    """The matrix of a transform attribute."""
    matrix = IDENTITY
    for name, arguments in re.findall(r"(\w+)\s*\(([^)]*)\)", text or ""):
        n = numbers(arguments)
        if name == "matrix":
            step = tuple(n)
        elif name == "translate":
            step = (1, 0, 0, 1, n[0], n[1] if len(n) > 1 else 0)
        elif name == "scale":
            step = (n[0], 0, 0, n[1] if len(n) > 1 else n[0], 0, 0)
        elif name == "rotate" and len(n) == 1:
            c, s = math.cos(math.radians(n[0])), math.sin(math.radians(n[0]))
            step = (c, s, -s, c, 0, 0)
        else:
            raise ValueError(f"transform not understood: {name}({arguments})")
        matrix = multiplied(matrix, step)
    return matrix


def path_steps(data):
    """[(verb, points)] of a path, in its own coordinates: M, L, C with its three points, or Z."""
    steps, at, start = [], (0.0, 0.0), (0.0, 0.0)
    for command, arguments in re.findall(r"([MmLlHhVvCcZz])([^MmLlHhVvCcZz]*)", data):
        n = numbers(arguments)
        kind = command.upper()
        if kind == "Z":
            steps.append(("Z", []))
            at = start
            continue
        size = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6}[kind]
        for k in range(0, len(n), size):
            x, y = at if command.islower() else (0.0, 0.0)
            part = n[k:k + size]
            if kind in "HV":
                points = [(x + part[0], at[1]) if kind == "H" else (at[0], y + part[0])]
            else:
                points = [(x + part[j], y + part[j + 1]) for j in range(0, size, 2)]
            is_move = kind == "M" and k == 0
            at = points[-1]
            start = at if is_move else start
            steps.append(("M" if is_move else "C" if kind == "C" else "L", points))
    return steps


def path_lines(data):
    """[(points, closed, curved)] of a path's subpaths, in its own coordinates."""
    lines, points, curved = [], [], False

    def finish(closed):
        if len(points) > 1:
            lines.append((list(points), closed, curved))

    for verb, to in path_steps(data):
        if verb == "Z":
            finish(True)
            points, curved = points[:1], False
        elif verb == "M":
            finish(False)
            points, curved = list(to), False
        elif verb == "L":
            points.append(to[0])
        else:
            points.extend(_curve([points[-1], *to]))
            curved = True
    finish(False)
    return lines


def _curve(corners):
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = corners
    for k in range(1, CURVE_STEPS + 1):
        t = k / CURVE_STEPS
        u = 1 - t
        a, b, c, d = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
        yield (a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3)


INHERITED = ("fill", "stroke", "stroke-width", "stroke-dasharray")


def _style(element, inherited):
    style = dict(inherited)
    style.update({key: element.get(key) for key in INHERITED if element.get(key) is not None})
    for part in (element.get("style") or "").split(";"):
        key, _, value = part.partition(":")
        if key.strip() in INHERITED:
            style[key.strip()] = value.strip()
    return style


def _walk(element, matrix, inherited, group, clip, clips, page):
    if tag(element) in ("defs", "clipPath", "symbol", "mask", "pattern"):
        return
    matrix = multiplied(matrix, transform_of(element.get("transform")))
    style = _style(element, inherited)
    if element.get("id") in GROUPS:
        group = element.get("id")
    clip = narrowed(clip, _clip_of(element, matrix, clips))
    data = _path_data(element)
    if data:
        _add(element, data, matrix, style, group, clip, page)
    for child in element:
        _walk(child, matrix, style, group, clip, clips, page)


def _path_data(element):
    if tag(element) == "path":
        return element.get("d")
    if tag(element) == "rect":
        x, y = float(element.get("x", 0)), float(element.get("y", 0))
        return f"M{x} {y}h{element.get('width')}v{element.get('height')}H{x}Z"
    return None


def _add(element, data, matrix, style, group, clip, page):
    stroked = style.get("stroke", "none") != "none"
    filled = style.get("fill", "black") != "none"
    if page.strokes_only and not stroked:
        return
    size = math.sqrt(abs(matrix[0] * matrix[3] - matrix[1] * matrix[2]))
    width = numbers(style.get("stroke-width", "1"))[0] * size if stroked else 0.0
    dashes = tuple(n * size for n in numbers(style.get("stroke-dasharray"))) if stroked else ()
    for points, closed, curved in path_lines(data):
        page.polylines.append(Polyline([moved(matrix, p) for p in points], closed, group,
                                       element.get("id") or "", width, dashes, filled, curved,
                                       clip))


def _clip_of(element, matrix, clips):
    """The Clip of the element's clip path, or None. Clip paths are boxes along the axes: a large
    one with others cut out of it, or (as Cairo writes it) those that together are what is left."""
    found = re.search(r"url\(['\"]?#([^)'\"]+)", element.get("clip-path") or "")
    if not found:
        return None
    outlines = []
    for child in clips[found.group(1)]:
        inner = multiplied(matrix, transform_of(child.get("transform")))
        outlines += [[moved(inner, p) for p in line]
                     for line, _, _ in path_lines(_path_data(child) or "")]
    if not outlines:
        return Clip((0.0, 0.0, 0.0, 0.0))
    return clip_of_outlines(outlines)


def clip_of_outlines(outlines):
    """The Clip that keeps what is inside of an odd number of `outlines`, whose sides lie along the
    axes."""
    xs = sorted({round(x, 4) for line in outlines for x, _ in line})
    ys = sorted({round(y, 4) for line in outlines for _, y in line})
    holes = []
    for x0, x1 in zip(xs, xs[1:]):
        for y0, y1 in zip(ys, ys[1:]):
            middle = ((x0 + x1) / 2, (y0 + y1) / 2)
            if sum(_is_inside(middle, line) for line in outlines) % 2 == 0:
                holes.append((x0, y0, x1, y1))
    return Clip((xs[0], ys[0], xs[-1], ys[-1]), tuple(holes))


def _is_inside(point, outline):
    inside = False
    for (xa, ya), (xb, yb) in zip(outline, outline[1:] + outline[:1]):
        if (ya > point[1]) != (yb > point[1]):
            inside ^= point[0] < xa + (point[1] - ya) / (yb - ya) * (xb - xa)
    return inside


def narrowed(a, b):
    """What both show; None shows all."""
    if a is None or b is None:
        return a or b
    box = (max(a.box[0], b.box[0]), max(a.box[1], b.box[1]),
           min(a.box[2], b.box[2]), min(a.box[3], b.box[3]))
    return Clip(box, a.holes + b.holes)


def clipped(a, b, clip):
    """The parts of the segment that show, in order."""
    if clip is None:
        return [(a, b)]
    whole = _inside_box(a, b, clip.box)
    parts = [whole] if whole else []
    for hole in clip.holes:
        cut = _inside_box(a, b, hole)
        if cut:
            parts = [rest for first, last in parts
                     for rest in ((first, min(last, cut[0])), (max(first, cut[1]), last))
                     if rest[0] < rest[1]]
    at = lambda t: (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))
    return [(at(first), at(last)) for first, last in parts]


def _inside_box(a, b, box):
    """The part inside the box as (from, to), 0 to 1 along the segment (Liang and Barsky's way), or
    None."""
    first, last = 0.0, 1.0
    for start, step, low, high in ((a[0], b[0] - a[0], box[0], box[2]),
                                   (a[1], b[1] - a[1], box[1], box[3])):
        if step == 0:
            if start < low or start > high:
                return None
            continue
        near, far = sorted(((low - start) / step, (high - start) / step))
        first, last = max(first, near), min(last, far)
    return (first, last) if first < last else None


def _rectangle(line):
    """(x, y, width, height) where the line is a stroked rectangle along the axes, else None."""
    points = line.points
    if len(points) == 5 and math.dist(points[0], points[4]) < 1e-3:
        points = points[:4]
    elif not line.closed:
        return None
    if not line.width or line.curved or len(points) != 4:
        return None
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    box = (min(xs), min(ys), max(xs), max(ys))
    corners = {(0, 0), (0, 1), (1, 0), (1, 1)}
    seen = set()
    for x, y in points:
        ends = [k for k in (0, 1) for j in (0, 1)
                if abs(x - box[2 * k]) < 0.01 and abs(y - box[1 + 2 * j]) < 0.01
                and not seen.add((k, j))]
        if not ends:
            return None
    return (box[0], box[1], box[2] - box[0], box[3] - box[1]) if seen == corners else None


def main(arguments):
    path = arguments[0]
    page = pdf_page(path, int(arguments[1]) if len(arguments) > 1 else 1) \
        if path.endswith(".pdf") else svg_file(path)
    print(f"{page.width:.3f} x {page.height:.3f} mm")
    for s in segments(page):
        dashes = " ".join(f"{d:.3f}" for d in s.dashes)
        print(f"{s.group or '-':12} {s.x0:9.3f} {s.y0:9.3f} {s.x1:9.3f} {s.y1:9.3f} "
              f"width {s.width:.3f} {dashes}")


if __name__ == "__main__":
    main(sys.argv[1:])
