"""A flat ring of ink."""

from __future__ import annotations

from dataclasses import dataclass, replace

from layouts.affine import Affine
from layouts.drawing.marks.insets import vanishes
from layouts.drawing.marks.mark import Mark, Path, finite, has_radius
from layouts.drawing.marks.outlines import bridged, outlines
from layouts.drawing.marks.polyline import Polyline
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange


@dataclass(frozen=True, slots=True, kw_only=True)
class Annulus(Mark):
    """A flat ring of ink about (x, y) between two radii; both edges count."""

    x: float
    y: float
    r_outer: float
    r_inner: float
    role: Role

    def __post_init__(self) -> None:
        finite(self.x + self.y + self.r_outer + self.r_inner)
        has_radius(self.r_inner)
        if self.r_outer <= self.r_inner:
            raise OutOfRange("a ring whose outer radius is not the larger", "give the outer radius first")

    @property
    def filled(self) -> bool:
        """Always."""
        return True

    def trace(self, path: Path) -> None:
        """Round outside counter-clockwise, and back round inside."""
        for r, sweep in ((self.r_outer, 360.0), (self.r_inner, -360.0)):
            path.move(self.x + r, self.y)
            path.arc(self.x, self.y, r, 0.0, sweep)
            path.close()

    def under(self, transform: Affine) -> Annulus | Polyline:
        """A ring where the transform keeps shapes, else a polygon that is true within half a micrometre."""
        if transform.scale is None:
            points = bridged(outlines(self))
            return Polyline(points=points, role=self.role, closed=True, filled=True).under(transform)
        x, y = transform.apply(self.x, self.y)
        return replace(self, x=x, y=y, r_outer=self.r_outer * transform.scale, r_inner=self.r_inner * transform.scale)

    def inset(self, by_mm: float) -> Annulus:
        """A narrower ring about the same middle radius."""
        if self.r_outer - by_mm <= self.r_inner + by_mm or self.r_inner + by_mm <= 0:
            raise vanishes(f"a ring {self.r_outer - self.r_inner:.3g} mm wide", by_mm)
        return replace(self, r_outer=self.r_outer - by_mm, r_inner=self.r_inner + by_mm)
