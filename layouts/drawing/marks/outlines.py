"""Outlines of marks as points, true to a tolerance."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from layouts.drawing import lettering
from layouts.drawing.marks.mark import Mark, Point, on_circle

if TYPE_CHECKING:
    from layouts.drawing.marks.text import Text

TRUE_MM = 0.0005  # how far a chord may lie inside its curve
_LEAST_CHORDS = 12  # of a circle, however small
_SAME_MM = 1e-9


class Chain(NamedTuple):
    """Points that are joined in order, and whether the last is joined to the first."""

    points: tuple[Point, ...]
    closed: bool


def chains(mark: Mark, within_mm: float = TRUE_MM) -> tuple[Chain, ...]:
    """All that a mark traces, as points on it; chords lie within `within_mm` of their curves."""
    flat = _Flat(within_mm)
    mark.trace(flat)
    flat.end(closed=False)
    return tuple(Chain(points, closed or mark.filled) for points, closed in flat.chains)


def outlines(mark: Mark, within_mm: float = TRUE_MM) -> tuple[tuple[Point, ...], ...]:
    """The closed polygons that a mark traces: what it encloses, or fills by the even-odd rule. Open strokes have none.

    Chords lie within `within_mm` of their curves. Words are the outlines of their letters.
    """
    return tuple(chain.points for chain in chains(mark, within_mm) if chain.closed and len(chain.points) > 2)


def bridged(polygons: Sequence[tuple[Point, ...]]) -> tuple[Point, ...]:
    """Several polygons as one, joined from the first corner of the first by lines that are walked both ways."""
    first, *rest = polygons
    if not rest:
        return first
    return (*first, *(point for other in rest for point in (first[0], *other, other[0])))


class _Flat:
    """Takes a path and keeps it as chains of points."""

    def __init__(self, within_mm: float) -> None:
        self.within = within_mm
        self.chains: list[Chain] = []
        self.points: list[Point] = []

    def end(self, *, closed: bool) -> None:
        """The chain is complete; where it comes back to its first point, that stands once."""
        if closed and len(self.points) > 2 and math.dist(self.points[0], self.points[-1]) < _SAME_MM:
            del self.points[-1]
        if self.points:
            self.chains.append(Chain(tuple(self.points), closed))
        self.points = []

    def move(self, x: float, y: float) -> None:
        self.end(closed=False)
        self.points = [(x, y)]

    def line(self, x: float, y: float) -> None:
        self.points.append((x, y))

    def arc(self, x: float, y: float, r: float, start_deg: float, sweep_deg: float) -> None:
        chords = max(_LEAST_CHORDS, math.ceil(math.pi / math.acos(1 - min(self.within / r, 1))))
        count = max(1, math.ceil(chords * abs(sweep_deg) / 360))
        self.points += (on_circle(x, y, r, start_deg + sweep_deg * step / count) for step in range(1, count + 1))

    def close(self) -> None:
        self.end(closed=True)

    def words(self, text: Text) -> None:
        self.end(closed=False)
        unit = text.size_mm / lettering.UNITS_PER_EM
        (x0, y0), angle = text.start, math.radians(text.angle_deg)
        cos, sin = unit * math.cos(angle), unit * math.sin(angle)
        for character, advance in lettering.advances(text.string, bold=text.bold):
            for contour in lettering.contours(character, bold=text.bold, within=self.within / unit):
                at = ((advance + u, v) for u, v in contour)
                self.chains.append(Chain(tuple((x0 + u * cos - v * sin, y0 + u * sin + v * cos) for u, v in at), True))
