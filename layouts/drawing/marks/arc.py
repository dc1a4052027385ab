"""Part of a circle, as a stroke."""

from __future__ import annotations

from dataclasses import dataclass, replace

from layouts.affine import Affine
from layouts.drawing.marks.mark import Mark, Path, Point, finite, has_radius, on_circle
from layouts.drawing.marks.outlines import chains
from layouts.drawing.marks.polyline import Polyline
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc(Mark):
    """Part of a circle: from `start_deg` (0 at +x, counter-clockwise) through `sweep_deg`, not over 360."""

    x: float
    y: float
    r: float
    start_deg: float
    sweep_deg: float
    role: Role

    def __post_init__(self) -> None:
        finite(self.x + self.y + self.r + self.start_deg + self.sweep_deg)
        has_radius(self.r)
        if not 0 < abs(self.sweep_deg) <= 360:
            raise OutOfRange(f"an arc of {self.sweep_deg:g} degrees", "give 1 to 360, or minus for clockwise")

    @property
    def filled(self) -> bool:
        """Never: the middle of the line counts."""
        return False

    def at(self, share: float) -> Point:
        """The point at a share of the way along, 0 to 1."""
        return on_circle(self.x, self.y, self.r, self.start_deg + share * self.sweep_deg)

    def trace(self, path: Path) -> None:
        """From its start to its end; it is never closed."""
        path.move(*self.at(0.0))
        path.arc(self.x, self.y, self.r, self.start_deg, self.sweep_deg)

    def under(self, transform: Affine) -> Arc | Polyline:
        """An arc where the transform keeps shapes, else strokes that are true within half a micrometre."""
        if transform.scale is None:
            ((points, _),) = chains(self)
            return Polyline(points=points, role=self.role).under(transform)
        x, y = transform.apply(self.x, self.y)
        way = -1.0 if transform.determinant < 0 else 1.0  # a mirror image runs the other way round
        start, sweep = transform.turn_deg + way * self.start_deg, way * self.sweep_deg
        return replace(self, x=x, y=y, r=self.r * transform.scale, start_deg=start, sweep_deg=sweep)

    def inset(self, by_mm: float) -> Arc:
        """Itself: its middle counts."""
        return self
