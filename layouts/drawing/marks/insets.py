"""Polygons with their sides moved inwards, as an ink spread is undone."""

from __future__ import annotations

import math

from layouts.drawing.marks.mark import Point
from layouts.errors import OutOfRange

_SAME_MM = 1e-9


def vanishes(what: str, by: float) -> OutOfRange:
    """The refusal of a shape that has no room for being drawn in by so much."""
    problem = f"{what} vanishes when an ink spread of {by:.3f} mm an edge is undone"
    return OutOfRange(problem, "leave it out, or measure the ink spread again")


def inset(points: tuple[Point, ...], by: float) -> tuple[Point, ...]:
    """A closed polygon with every side moved inwards by `by`, whichever way round it runs.

    Corners are where the moved sides meet. Refuses (`OutOfRange`) a polygon with a side that would turn over.
    """
    # A point that lies on the one before makes a side of no length, which has no inward way.
    pairs = zip((points[-1], *points), points, strict=False)
    corners = tuple(point for before, point in pairs if math.dist(before, point) > _SAME_MM)
    befores, afters = (corners[-1], *corners[:-1]), (*corners[1:], corners[0])
    area = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(corners, afters, strict=True))  # twice over
    moved = by if area > 0 else -by  # above zero it runs counter-clockwise
    found = tuple(_corner(*corner, moved) for corner in zip(befores, corners, afters, strict=True))
    ends = (*found[1:], found[0])
    for (x0, y0), (x1, y1), (u0, v0), (u1, v1) in zip(corners, afters, found, ends, strict=True):
        if (x1 - x0) * (u1 - u0) + (y1 - y0) * (v1 - v0) <= 0:
            raise vanishes(f"a shape with a side of {math.hypot(x1 - x0, y1 - y0):.3g} mm", by)
    return found


def _corner(before: Point, at: Point, after: Point, by: float) -> Point:
    """Where the sides into and out of a corner meet once moved to their left by `by`."""
    (ux, uy), (vx, vy) = _along(before, at), _along(at, after)
    bend = 1 + ux * vx + uy * vy  # of unit vectors: 2 for none, 0 for a turn straight back
    if bend < _SAME_MM:
        raise vanishes("a spike", abs(by))
    return at[0] - by * (uy + vy) / bend, at[1] + by * (ux + vx) / bend


def _along(start: Point, end: Point) -> tuple[float, float]:
    length = math.dist(start, end)
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length
