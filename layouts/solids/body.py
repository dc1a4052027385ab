"""A body: a closed skin of triangles, counter-clockwise as seen from outside; and bodies that go in one file."""

from __future__ import annotations

import math
from dataclasses import dataclass

from layouts.errors import OutOfRange

Point3 = tuple[float, float, float]
Triangle = tuple[int, int, int]
Box3 = tuple[Point3, Point3]


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A closed body, mm: its corners, and triangles of three of them each. Refuses (`OutOfRange`) an open skin."""

    name: str
    points: tuple[Point3, ...]
    triangles: tuple[Triangle, ...]

    def __post_init__(self) -> None:
        if not math.isfinite(sum(x + y + z for x, y, z in self.points)):
            raise OutOfRange(f"{self.name} has a corner that is not finite", "give finite millimetres")
        # Closed and turned alike: every side is run through once each way. A side as one number, since that is faster.
        n = len(self.points)
        forth = {side for a, b, c in self.triangles for side in (a * n + b, b * n + c, c * n + a)}
        back = {side for a, b, c in self.triangles for side in (b * n + a, c * n + b, a * n + c)}
        if len(forth) != 3 * len(self.triangles) or forth != back or self.volume_mm3 <= 0:
            raise OutOfRange(f"{self.name} is not closed, or is inside out", "make it of whole outlines")

    @property
    def volume_mm3(self) -> float:
        """The sum of the prisms from the bed to each triangle: its area as seen from above x its mean height."""
        points, total = self.points, 0.0
        for i, j, k in self.triangles:
            (ax, ay, az), (bx, by, bz), (cx, cy, cz) = points[i], points[j], points[k]
            total += ((bx - ax) * (cy - ay) - (cx - ax) * (by - ay)) * (az + bz + cz)
        return total / 6

    @property
    def box(self) -> Box3:
        """Its lowest and its highest corner."""
        xs, ys, zs = zip(*self.points, strict=True)
        return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """What is printed together: a title, and bodies that lie apart on the bed as they are to be printed."""

    title: str
    bodies: tuple[Body, ...]

    def __post_init__(self) -> None:
        if not self.bodies:
            raise OutOfRange(f"{self.title} without a body", "give one or more")

    @property
    def box(self) -> Box3:
        """Around all bodies."""
        lows, highs = zip(*(body.box for body in self.bodies), strict=True)
        (x0, y0, z0), (x1, y1, z1) = map(min, zip(*lows, strict=True)), map(max, zip(*highs, strict=True))
        return (x0, y0, z0), (x1, y1, z1)

    @property
    def size_mm(self) -> Point3:
        """How much room it takes on the bed, across, along and up."""
        (x0, y0, z0), (x1, y1, z1) = self.box
        return x1 - x0, y1 - y0, z1 - z0
