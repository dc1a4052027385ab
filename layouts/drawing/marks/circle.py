"""A circle or a disc."""

from __future__ import annotations

from dataclasses import dataclass, replace

from layouts.affine import Affine
from layouts.drawing.marks.insets import vanishes
from layouts.drawing.marks.mark import Mark, Path, finite, has_radius
from layouts.drawing.marks.outlines import outlines
from layouts.drawing.marks.polyline import Polyline
from layouts.drawing.pens import Role


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle(Mark):
    """A circle about (x, y) of radius r: a stroke whose middle counts, or filled, a disc whose edge counts."""

    x: float
    y: float
    r: float
    role: Role
    filled: bool = False

    def __post_init__(self) -> None:
        finite(self.x + self.y + self.r)
        has_radius(self.r)

    def trace(self, path: Path) -> None:
        """Once round, counter-clockwise from +x."""
        path.move(self.x + self.r, self.y)
        path.arc(self.x, self.y, self.r, 0.0, 360.0)
        path.close()

    def under(self, transform: Affine) -> Circle | Polyline:
        """A circle where the transform keeps shapes, else a polygon that is true within half a micrometre."""
        if transform.scale is None:
            (points,) = outlines(self)
            polygon = Polyline(points=points, role=self.role, closed=True, filled=self.filled)
            return polygon.under(transform)
        x, y = transform.apply(self.x, self.y)
        return Circle(x=x, y=y, r=self.r * transform.scale, role=self.role, filled=self.filled)

    def inset(self, by_mm: float) -> Circle:
        """A smaller disc; a stroke stays."""
        if not self.filled:
            return self
        if self.r <= by_mm:
            raise vanishes(f"a disc of {2 * self.r:.3g} mm", by_mm)
        return replace(self, r=self.r - by_mm)
