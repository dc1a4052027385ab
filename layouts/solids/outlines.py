"""Outlines of which solids are made: circles as polygons that are true where it counts, rectangles, and words. All mm.

A hole is drawn around its circle, so that its flats touch the wanted size; a pin within its circle, so that its
corners do. So a caliper between flats of a hole, or over corners of a pin, reads what was wanted.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise

from layouts.drawing import lettering
from layouts.units import positive

Point = tuple[float, float]
Polygon = tuple[Point, ...]

CHORD_MM = 0.0019  # how far a polygon stands off a circle whose size counts: under two micrometres
LOOSE_MM = 0.02  # and off a round whose size does not
_LETTERS_MM = 0.05


def sides_of(radius_mm: float, within_mm: float = CHORD_MM) -> int:
    """How many sides a polygon around a circle has whose corners stand off it by `within_mm` at the most.

    They do by r / cos(pi / n) - r. A multiple of four, so that the polygon is as wide as it is high.

    >>> sides_of(2.5), sides_of(4.0)
    (84, 104)
    """
    ratio = positive(radius_mm, "a radius") / (radius_mm + within_mm)
    return max(12, 4 * math.ceil(math.pi / math.acos(ratio) / 4))


def around(radius_mm: float, x: float = 0.0, y: float = 0.0, *, within_mm: float = CHORD_MM) -> Polygon:
    """A hole: the polygon whose flats touch the circle. R = r / cos(pi / n)."""
    count = sides_of(radius_mm, within_mm)
    return regular(radius_mm / math.cos(math.pi / count), count, x, y)


def within(radius_mm: float, x: float = 0.0, y: float = 0.0, *, within_mm: float = CHORD_MM) -> Polygon:
    """A pin: the polygon whose corners lie on the circle."""
    return regular(radius_mm, sides_of(radius_mm, within_mm), x, y)


def regular(corner_mm: float, count: int, x: float = 0.0, y: float = 0.0) -> Polygon:
    """A regular polygon by the radius of its corners, flat on top."""
    turns = ((step + 0.5) / count * math.tau for step in range(count))
    return tuple((x + corner_mm * math.cos(turn), y + corner_mm * math.sin(turn)) for turn in turns)


def rectangle(x0: float, y0: float, x1: float, y1: float) -> Polygon:
    """From its lower left to its upper right corner."""
    return (x0, y0), (x1, y0), (x1, y1), (x0, y1)


def rounded(x0: float, y0: float, x1: float, y1: float, radius_mm: float) -> Polygon:
    """A rectangle with round corners."""
    r = radius_mm
    steps = max(2, sides_of(r, LOOSE_MM) // 4)
    corners = ((x1 - r, y1 - r), (x0 + r, y1 - r), (x0 + r, y0 + r), (x1 - r, y0 + r))
    return tuple(
        (x + r * math.cos(turn), y + r * math.sin(turn))
        for quarter, (x, y) in enumerate(corners)
        for turn in ((quarter + step / steps) * math.pi / 2 for step in range(steps + 1))
    )


def words(string: str, x: float, y: float, size_mm: float, *, anchor: float = 0.5) -> tuple[Polygon, ...]:
    """The outlines of bold words on a baseline; `anchor` is the share of their width that lies left of x.

    Outlines that run clockwise are the insides of letters. Refuses (`Unprintable`) what the lettering lacks.
    """
    lettering.check(string)
    scale = size_mm / lettering.UNITS_PER_EM
    left = x - anchor * words_mm(string, size_mm)
    letters = [
        tuple(
            tuple((left + (at + u) * scale, y + v * scale) for u, v in reversed(contour))
            for contour in _contours(letter, size_mm)
        )
        for letter, at in lettering.advances(string, bold=True)
    ]
    found = tuple(polygon for letter in letters for polygon in letter)
    ends = [(min(xs), max(xs)) for letter in letters if (xs := [px for polygon in letter for px, _ in polygon])]
    if any(right > begins for (_, right), (begins, _) in pairwise(ends)):  # the feet of R and A run into one another
        from layouts.solids.shape import united  # what joins outlines is loaded where it is needed

        return united(found)
    return found


def words_along(string: str, x: float, y: float, size_mm: float) -> tuple[Polygon, ...]:
    """Words from front to back, read from the right: they begin at y, and stand to the left of x."""
    turned = words(string, 0.0, 0.0, size_mm, anchor=0.0)
    return tuple(tuple((x - up, y + on) for on, up in polygon) for polygon in turned)


def words_mm(string: str, size_mm: float) -> float:
    """How wide words are."""
    return lettering.width_mm(string, size_mm, bold=True)


@cache
def _contours(letter: str, size_mm: float) -> tuple[Polygon, ...]:
    within_units = _LETTERS_MM * lettering.UNITS_PER_EM / size_mm
    found = lettering.contours(letter, bold=True, within=within_units)
    # the last corner of a contour is its first again
    return tuple(contour[:-1] if contour[0] == contour[-1] else contour for contour in found)


def area_mm2(polygon: Polygon) -> float:
    """What a polygon encloses; below zero where it runs clockwise."""
    ends = (*polygon[1:], polygon[0])
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(polygon, ends, strict=True)) / 2


def grown(polygon: Polygon, middle: Point, by_mm: float) -> Polygon:
    """A regular polygon with every side further from its middle by so much."""
    x, y = middle
    corner = math.dist(polygon[0], middle)
    share = 1.0 + by_mm / (corner * math.cos(math.pi / len(polygon)))
    return tuple((x + (px - x) * share, y + (py - y) * share) for px, py in polygon)
