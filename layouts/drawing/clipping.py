"""Marks cut off at the sides of a box: what is left of each, exactly.

Strokes stay strokes of the same shape: a circle becomes arcs. Filled shapes with round edges become polygons that lie
within half a micrometre of the curve. Words are not cut: they are there whole, or not at all.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from layouts.drawing.marks import Arc, Box, Line, Mark, Point, Polyline, Text
from layouts.drawing.marks.mark import on_circle
from layouts.drawing.marks.outlines import bridged, outlines
from layouts.drawing.pens import Role

_SAME = 1e-9


def clipped(mark: Mark, box: Box) -> tuple[Mark, ...]:
    """What of a mark lies in the box (left, bottom, right, top; infinite sides cut nothing off)."""
    left, bottom, right, top = mark.box
    if left >= box[0] and bottom >= box[1] and right <= box[2] and top <= box[3]:
        return (mark,)
    if not mark.divisible or left > box[2] or bottom > box[3] or right < box[0] or top < box[1]:
        return ()
    if mark.filled:
        edges = outlines(mark)
        points: Sequence[Point] = bridged(edges) if edges else ()
        # Side by side (Sutherland and Hodgman): what is left in several parts hangs together by lines of no width.
        for axis in (0, 1):
            points = _cut_off(_cut_off(points, axis, box[axis], 1.0), axis, box[axis + 2], -1.0)
        return (Polyline(points=tuple(points), role=mark.role, closed=True, filled=True),) if len(points) > 2 else ()
    scissors = _Scissors(mark.role, box)
    mark.trace(scissors)
    scissors.cut(closed=False)
    return tuple(scissors.parts)


class _Scissors:
    """Takes the path of a stroke and keeps what of it lies in the box, as marks."""

    def __init__(self, role: Role, box: Box) -> None:
        self.role, self.box = role, box
        self.parts: list[Mark] = []
        self.points: list[Point] = []  # straight strokes up to here
        self.first: Point = (0.0, 0.0)

    def cut(self, *, closed: bool) -> None:
        """The straight strokes so far are complete."""
        first = self.points[:1]
        runs = _runs((*self.points, *first) if closed else self.points, self.box)
        if closed and len(runs) > 1 and runs[0][0] == first[0] == runs[-1][-1]:
            # What leads through the first point stays in one part.
            runs = [[*runs[-1], *runs[0][1:]], *runs[1:-1]]
        for run in runs:
            if len(run) == 2:
                (x1, y1), (x2, y2) = run
                self.parts.append(Line(x1=x1, y1=y1, x2=x2, y2=y2, role=self.role))
            else:
                self.parts.append(Polyline(points=tuple(run), role=self.role))
        self.points = self.points[-1:]

    def move(self, x: float, y: float) -> None:
        self.cut(closed=False)
        self.first = (x, y)
        self.points = [self.first]

    def line(self, x: float, y: float) -> None:
        self.points.append((x, y))

    def arc(self, x: float, y: float, r: float, start_deg: float, sweep_deg: float) -> None:
        self.cut(closed=False)
        arc = Arc(x=x, y=y, r=r, start_deg=start_deg, sweep_deg=sweep_deg, role=self.role)
        left, bottom, right, top = self.box
        kept: list[tuple[float, float]] = []
        for low, high in pairwise([0.0, *sorted(_crossings(arc, self.box)), 1.0]):
            u, v = arc.at((low + high) / 2)
            if high - low > _SAME and left <= u <= right and bottom <= v <= top:
                kept.append((low, high))
        for low, high in _joined(kept, whole=abs(sweep_deg) == 360):
            part = replace(arc, start_deg=start_deg + low * sweep_deg, sweep_deg=(high - low) * sweep_deg)
            self.parts.append(part)
        self.points = [on_circle(x, y, r, start_deg + sweep_deg)]

    def close(self) -> None:
        straight = self.points[0] == self.first
        if not straight and math.dist(self.points[-1], self.first) > _SAME:
            self.points.append(self.first)
        self.cut(closed=straight and len(self.points) > 1)

    def words(self, text: Text) -> None:
        self.parts += clipped(text, self.box)


# ------------------------------------------------------------------------------------------------------- strokes


def _runs(points: Sequence[Point], box: Box) -> list[list[Point]]:
    """The parts of a chain of strokes that lie in the box."""
    runs: list[list[Point]] = []
    goes_on = False
    for start, end in pairwise(points):
        span = _span(start, end, box)
        if span is None:
            goes_on = False
            continue
        if not (goes_on and span[0] == 0):
            runs.append([_between(start, end, span[0])])
        runs[-1].append(_between(start, end, span[1]))
        goes_on = span[1] == 1
    return runs


def _span(start: Point, end: Point, box: Box) -> tuple[float, float] | None:
    """From which share of a stroke to which it lies in the box (Liang and Barsky); None when it does not."""
    low, high = 0.0, 1.0
    for axis in (0, 1):
        at, step, least, most = start[axis], end[axis] - start[axis], box[axis], box[axis + 2]
        if step == 0:
            if not least <= at <= most:
                return None
            continue
        one, other = (least - at) / step, (most - at) / step
        low, high = max(low, min(one, other)), min(high, max(one, other))
    return (low, high) if low < high else None


def _between(start: Point, end: Point, share: float) -> Point:
    if share in (0, 1):
        return end if share else start
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


# --------------------------------------------------------------------------------------------------- round strokes


def _crossings(arc: Arc, box: Box) -> Iterator[float]:
    """Where along the arc, as a share, it crosses the sides of the box produced."""
    for offset, turn in ((box[0] - arc.x, 0), (box[2] - arc.x, 0), (box[1] - arc.y, 90), (box[3] - arc.y, 90)):
        if abs(offset) < arc.r:
            half = math.degrees(math.acos(offset / arc.r))
            for angle in (turn + half, turn - half):
                share = (angle - arc.start_deg) * math.copysign(1, arc.sweep_deg) % 360 / abs(arc.sweep_deg)
                if share < 1:
                    yield share


def _joined(spans: list[tuple[float, float]], *, whole: bool) -> list[tuple[float, float]]:
    """Spans that follow one another as one; all round, the last may go on in the first."""
    joined: list[tuple[float, float]] = []
    for low, high in spans:
        if joined and low - joined[-1][1] <= _SAME:
            joined[-1] = joined[-1][0], high
        else:
            joined.append((low, high))
    if whole and len(joined) > 1 and joined[0][0] == 0 and joined[-1][1] == 1:
        last, _ = joined.pop()
        joined[0] = last - 1, joined[0][1]
    return joined


# --------------------------------------------------------------------------------------------------- filled shapes


def _cut_off(points: Sequence[Point], axis: int, at: float, way: float) -> list[Point]:
    """The polygon beyond a line across one axis: above it for a way over zero, else below."""
    kept: list[Point] = []
    for before, point in zip((*points[-1:], *points), points, strict=False):
        was_in, is_in = (way * (each[axis] - at) >= 0 for each in (before, point))
        if was_in != is_in:
            kept.append(_between(before, point, (at - before[axis]) / (point[axis] - before[axis])))
        if is_in:
            kept.append(point)
    return kept
