"""A body: a closed skin of triangles, counter-clockwise as seen from outside; and bodies that go in one file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

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
        points, corners = self._arrays
        if not np.isfinite(points).all():
            raise OutOfRange(f"{self.name} has a corner that is not finite", "give finite millimetres")
        # Closed and turned alike: every side is run through once each way.
        ahead = np.roll(corners, -1, axis=1)
        forth, back = (
            np.sort((one * len(points) + other).ravel()) for one, other in ((corners, ahead), (ahead, corners))
        )
        twice = (forth[1:] == forth[:-1]).any()
        if twice or (forth != back).any() or _volume(points, corners) <= 0:
            raise OutOfRange(f"{self.name} is not closed, or is inside out", "make it of whole outlines")

    @property
    def _arrays(self) -> tuple[Any, Any]:
        return np.array(self.points, dtype=float), np.array(self.triangles, dtype=np.int64).reshape(-1, 3)

    @property
    def volume_mm3(self) -> float:
        """The sum of the prisms from the bed to each triangle: its area as seen from above x its mean height."""
        return _volume(*self._arrays)

    @property
    def box(self) -> Box3:
        """Its lowest and its highest corner."""
        xs, ys, zs = zip(*self.points, strict=True)
        return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def _volume(points: Any, corners: Any) -> float:
    a, b, c = (points[corners[:, number]] for number in range(3))
    doubled = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (c[:, 0] - a[:, 0]) * (b[:, 1] - a[:, 1])
    return float((doubled * (a[:, 2] + b[:, 2] + c[:, 2])).sum()) / 6


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
