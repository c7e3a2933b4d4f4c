"""Compares sets of straight lines: is a stretch of line covered by what was found elsewhere?

    found = LineSet(vectors.segments(page))
    found.missing(segment)       # [(from, to)] mm along the segment that nothing covers

Two lines agree if they lie within the tolerance of each other all along and have one width.
"""

import math
from collections import defaultdict

TOLERANCE = 0.05     # mm
WIDTHS = 0.02        # mm, between two strokes that count as one width
ANGLES = 180         # buckets of direction, one degree each


class LineSet:
    def __init__(self, segments, tolerance=TOLERANCE):
        self.tolerance = tolerance
        self.by_angle = defaultdict(list)
        for s in segments:
            if s.length > 1e-6:
                self.by_angle[_bucket(s)].append(s)

    def covering(self, segment):
        """The stretches (from, to) along `segment` that lie on lines of this set, in order."""
        length = segment.length
        ux, uy = (segment.x1 - segment.x0) / length, (segment.y1 - segment.y0) / length
        stretches = []
        for other in self._near(segment):
            if abs(other.width - segment.width) > WIDTHS:
                continue
            along = []
            for x, y in ((other.x0, other.y0), (other.x1, other.y1)):
                dx, dy = x - segment.x0, y - segment.y0
                along.append((dx * ux + dy * uy, dx * uy - dy * ux))
            part = _close_part(sorted(along), length, self.tolerance)
            if part:
                stretches.append(part)
        return sorted(stretches)

    def missing(self, segment):
        """The stretches (from, to) along `segment` that no line of this set covers."""
        gaps, reached = [], 0.0
        for first, last in self.covering(segment):
            if first > reached + self.tolerance:
                gaps.append((reached, first))
            reached = max(reached, last)
        if segment.length > reached + self.tolerance:
            gaps.append((reached, segment.length))
        return gaps

    def _near(self, segment):
        middle = _bucket(segment)
        # A short line's direction is less certain.
        spread = 1 + int(math.degrees(math.atan2(self.tolerance, segment.length)))
        for step in range(-spread, spread + 1):
            yield from self.by_angle.get((middle + step) % ANGLES, ())


def _bucket(segment):
    angle = math.degrees(math.atan2(segment.y1 - segment.y0, segment.x1 - segment.x0))
    return round(angle) % ANGLES


def _close_part(ends, length, tolerance):
    """Where a line with these (along, off) ends is within `tolerance` of the axis and in it."""
    (a0, d0), (a1, d1) = ends
    first, last = max(a0, 0.0), min(a1, length)
    if last <= first:
        return None
    slope = (d1 - d0) / (a1 - a0)
    if max(abs(d0 + slope * (first - a0)), abs(d0 + slope * (last - a0))) > tolerance:
        return None
    return (first, last)


def described(segment, stretches):
    """For messages: the segment and what is missing of it."""
    parts = ", ".join(f"{a:.2f} to {b:.2f}" for a, b in stretches)
    return (f"{segment.group or 'line'} {segment.x0:.3f},{segment.y0:.3f} "
            f"{segment.x1:.3f},{segment.y1:.3f} width {segment.width:.2f}: {parts}")


def uncovered(segments, line_set):
    """What of `segments` the set does not cover, described. Those shorter than the tolerance can be
    told nothing of, and a dashed line may end where its last dash does: Cairo clips to the ink."""
    told = []
    for segment in segments:
        if segment.length <= 2 * line_set.tolerance:
            continue
        blank = max(segment.dashes[1::2], default=0) + line_set.tolerance
        stretches = [(first, last) for first, last in line_set.missing(segment)
                     if not (last - first <= blank and (first == 0 or last == segment.length))]
        if stretches:
            told.append(described(segment, stretches))
    return told
