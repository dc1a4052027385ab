"""A straight stroke."""

from __future__ import annotations

from dataclasses import dataclass

from layouts.affine import Affine
from layouts.drawing.marks.mark import Mark, Path, finite
from layouts.drawing.pens import Role


@dataclass(frozen=True, slots=True, kw_only=True)
class Line(Mark):
    """A straight stroke from (x1, y1) to (x2, y2), square ends."""

    x1: float
    y1: float
    x2: float
    y2: float
    role: Role

    def __post_init__(self) -> None:
        finite(self.x1 + self.y1 + self.x2 + self.y2)

    @property
    def filled(self) -> bool:
        """Never: the middle of the line counts."""
        return False

    def trace(self, path: Path) -> None:
        """From the one end to the other."""
        path.move(self.x1, self.y1)
        path.line(self.x2, self.y2)

    def under(self, transform: Affine) -> Line:
        """Always a line."""
        (x1, y1), (x2, y2) = transform.apply(self.x1, self.y1), transform.apply(self.x2, self.y2)
        return Line(x1=x1, y1=y1, x2=x2, y2=y2, role=self.role)

    def inset(self, by_mm: float) -> Line:
        """Itself: its middle counts."""
        return self
