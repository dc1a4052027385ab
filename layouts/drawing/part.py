"""What is to be cut out of a drawing: closed outlines with holes, in millimetres, without a page."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from layouts.drawing.marks import Drawing, Point
from layouts.drawing.marks.outlines import Chain, chains
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange

_SAME_MM = 1e-6  # ends of strokes that are nearer meet


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A closed outline, counter-clockwise, and the holes in it, clockwise; mm in the drawing's own frame."""

    outline: tuple[Point, ...]
    holes: tuple[tuple[Point, ...], ...] = ()
    name: str = "part"

    def __post_init__(self) -> None:
        for polygon in (self.outline, *self.holes):
            if len(polygon) < 3:
                raise OutOfRange(f"an outline of {len(polygon)} corners", "give three or more")


def parts(drawing: Drawing, within_mm: float = 0.01) -> tuple[Part, ...]:
    """The parts of a drawing in the order of their outlines: what its cut lines enclose, less what lies inside.

    Cut lines that meet end to end make one outline. A cut outline within another, and the outline of a hole, is a
    hole in it; one within such a hole is a part again. Chords lie within `within_mm` of their curves. Refuses
    (`OutOfRange`) a cut line that encloses nothing, and a hole outside every part.
    """
    cuts = _closed(drawing, Role.CUT, within_mm)
    holes = _closed(drawing, Role.HOLE, within_mm)
    depths = [sum(_holds(other, polygon) for other in cuts if other is not polygon) for polygon in cuts]
    inner = [(polygon, depth - 1) for polygon, depth in zip(cuts, depths, strict=True) if depth % 2]
    outer = [(polygon, depth) for polygon, depth in zip(cuts, depths, strict=True) if depth % 2 == 0]
    owned: list[list[tuple[Point, ...]]] = [[] for _ in outer]
    for polygon, wanted in (*inner, *((hole, None) for hole in holes)):
        around = [place for place, (edge, _) in enumerate(outer) if _holds(edge, polygon)]
        if not around:
            raise OutOfRange(f"a hole outside every outline of {drawing.name}", "draw the outline that it is in")
        place = max(around, key=lambda place: outer[place][1])
        if wanted is not None and outer[place][1] != wanted:
            raise OutOfRange(f"outlines of {drawing.name} that cross", "draw each clear of the others")
        owned[place].append(_run(polygon, -1.0))
    return tuple(
        Part(outline=_run(polygon, 1.0), holes=tuple(held), name=drawing.name)
        for (polygon, _), held in zip(outer, owned, strict=True)
    )


def _closed(drawing: Drawing, role: Role, within_mm: float) -> list[tuple[Point, ...]]:
    """The closed outlines of a role. Crosses, which mark the middle of a hole, are left out."""
    found = [chain for mark in drawing.marks if mark.role is role for chain in chains(mark, within_mm)]
    polygons = [chain.points for chain in found if chain.closed]
    for chain in _joined([chain.points for chain in found if not chain.closed]):
        if chain.closed:
            polygons.append(chain.points)
        elif role is Role.CUT:
            (x, y), *_ = chain.points
            problem = f"a cut line of {drawing.name} that encloses nothing, from {x:.2f}, {y:.2f} mm"
            raise OutOfRange(problem, "close it, or draw it in another role")
    return polygons


def _joined(strokes: Sequence[tuple[Point, ...]]) -> list[Chain]:
    """Strokes that meet end to end, joined; those that come back to their start are closed."""
    left, done = list(strokes), []
    while left:
        points = list(left.pop(0))
        while math.dist(points[0], points[-1]) > _SAME_MM or len(points) < 3:
            away = (min(math.dist(points[-1], one[0]), math.dist(points[-1], one[-1])) for one in left)
            reached = next((place for place, mm in enumerate(away) if mm <= _SAME_MM), None)
            if reached is None:
                break
            other = left.pop(reached)
            points += other[1:] if math.dist(points[-1], other[0]) <= _SAME_MM else other[-2::-1]
        closed = len(points) > 3 and math.dist(points[0], points[-1]) <= _SAME_MM
        done.append(Chain(tuple(points[:-1] if closed else points), closed))
    return done


def _holds(polygon: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether a polygon holds the first corner of another, by the even-odd rule."""
    x, y = other[0]
    inside = False
    for (x0, y0), (x1, y1) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            inside = not inside
    return inside


def _run(polygon: tuple[Point, ...], way: float) -> tuple[Point, ...]:
    """The polygon counter-clockwise for a way over zero, else clockwise."""
    ends = (*polygon[1:], polygon[0])
    area = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(polygon, ends, strict=True))
    return polygon if area * way > 0 else polygon[::-1]
