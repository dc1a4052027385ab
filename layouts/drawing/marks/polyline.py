"""Straight strokes through points, or a filled polygon."""

from __future__ import annotations

from dataclasses import dataclass, replace

from layouts.affine import Affine
from layouts.drawing.marks.insets import inset
from layouts.drawing.marks.mark import Mark, Path, Point, finite
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange


@dataclass(frozen=True, slots=True, kw_only=True)
class Polyline(Mark):
    """Straight strokes through the points; `closed` joins the last to the first, `filled` inks the inside."""

    points: tuple[Point, ...]
    role: Role
    closed: bool = False
    filled: bool = False

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise OutOfRange(f"a polyline of {len(self.points)} points", "give two or more")
        finite(sum(x + y for x, y in self.points))

    def trace(self, path: Path) -> None:
        """Through the points in order."""
        first, *rest = self.points
        path.move(*first)
        for point in rest:
            path.line(*point)
        if self.closed:
            path.close()

    def under(self, transform: Affine) -> Polyline:
        """Always a polyline."""
        return replace(self, points=tuple(transform.apply(x, y) for x, y in self.points))

    def inset(self, by_mm: float) -> Polyline:
        """Every side of a filled polygon moved inwards; strokes stay."""
        return replace(self, points=inset(self.points, by_mm)) if self.filled else self
