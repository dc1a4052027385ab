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
        if not math.isfinite(sum(map(sum, self.points))):
            raise OutOfRange(f"{self.name} has a corner that is not finite", "give finite millimetres")
        sides = [side for a, b, c in self.triangles for side in ((a, b), (b, c), (c, a))]
        once = set(sides)
        # Closed and turned alike: every side is run through once each way.
        if len(once) != len(sides) or any((b, a) not in once for a, b in once) or self.volume_mm3 <= 0:
            raise OutOfRange(f"{self.name} is not closed, or is inside out", "make it of whole outlines")

    @property
    def volume_mm3(self) -> float:
        """The sum of the tetrahedra from the origin to each triangle: a . (b x c) / 6."""
        total = 0.0
        for i, j, k in self.triangles:
            (ax, ay, az), (bx, by, bz), (cx, cy, cz) = self.points[i], self.points[j], self.points[k]
            total += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
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
