"""What a picture is compared with: the true places of the marks on a sheet that is meant to be scanned.

A sheet gives its own target; nothing here knows any sheet. Places are in mm from the lower left corner of the paper,
x to the right and y up.
"""

from __future__ import annotations

from dataclasses import dataclass

from layouts.drawing.marks import Box, Line
from layouts.errors import OutOfRange

LEAST_MARKERS, MOST_MARKERS = 6, 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Stripes:
    """Bars of ink side by side: the box that they stand in with white around, and where ink is along its profile."""

    box: Box
    upright: bool  # the bars stand upright, so that the profile runs along x
    ink: tuple[tuple[float, float], ...]  # from, to: in mm of the sheet, along the profile, ascending

    def __post_init__(self) -> None:
        edges = [edge for pair in self.ink for edge in pair]
        low, high = (self.box[0], self.box[2]) if self.upright else (self.box[1], self.box[3])
        if not self.ink or edges != sorted(edges) or not low < edges[0] <= edges[-1] < high:
            raise OutOfRange("stripes that are not in order within their box", "give them ascending, from and to")

    def moved(self, dx: float, dy: float) -> Stripes:
        """The same, dx to the right and dy up."""
        left, bottom, right, top = self.box
        by = dx if self.upright else dy
        ink = tuple((low + by, high + by) for low, high in self.ink)
        return Stripes(box=(left + dx, bottom + dy, right + dx, top + dy), upright=self.upright, ink=ink)


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """The markers, the first of them a ring, and what else on the sheet a picture is read by."""

    label: str
    discs: tuple[tuple[float, float], ...]  # their centres, counter-clockwise; some at the corners of their rectangle
    radius_mm: float
    hole_mm: float  # radius of the white middle of the ring
    card: Box | None = None  # the outline that a bank card lies on
    rule: Line | None = None  # the line that the edge of a steel rule lies on
    ink: tuple[Box, ...] = ()  # what is printed near them
    stripes: tuple[Stripes, ...] = ()  # what the spread of the ink is read from

    def __post_init__(self) -> None:
        if not LEAST_MARKERS <= len(self.discs) <= MOST_MARKERS:
            raise OutOfRange(
                f"a sheet with {len(self.discs)} markers for a scan", f"give it {LEAST_MARKERS} to {MOST_MARKERS}"
            )
        if not 0 < self.hole_mm < self.radius_mm:
            raise OutOfRange("a ring whose middle is not the smaller", "give the radius of the ink first")

    @property
    def span_mm(self) -> tuple[float, float]:
        """Sides of the rectangle of the markers."""
        xs, ys = zip(*self.discs, strict=True)
        return max(xs) - min(xs), max(ys) - min(ys)
