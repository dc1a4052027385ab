"""Words in one line."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from layouts.affine import Affine
from layouts.drawing import lettering
from layouts.drawing.marks.mark import Mark, Path, Point, finite
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange

Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Text(Mark):
    """Words in one line. (x, y) is on the baseline at the anchor; size is the em; angle is counter-clockwise."""

    x: float
    y: float
    string: str
    size_mm: float
    anchor: Anchor = "start"
    angle_deg: float = 0.0
    bold: bool = False
    role: Role = Role.LABEL

    def __post_init__(self) -> None:
        finite(self.x + self.y + self.size_mm + self.angle_deg)
        lettering.check(self.string)

    @property
    def filled(self) -> bool:
        """Always: letters are ink."""
        return True

    @property
    def divisible(self) -> bool:
        """No: words are there whole, or not at all."""
        return False

    @property
    def width_mm(self) -> float:
        """Advance width of the string."""
        return lettering.width_mm(self.string, self.size_mm, bold=self.bold)

    @property
    def start(self) -> Point:
        """Where the first letter starts, on the baseline."""
        if self.anchor == "start":
            return self.x, self.y
        back = (0.5 if self.anchor == "middle" else 1.0) * self.width_mm
        angle = math.radians(self.angle_deg)
        return self.x - back * math.cos(angle), self.y - back * math.sin(angle)

    @property
    def corners(self) -> tuple[Point, ...]:
        """The corners of the line of words, from the descenders to the ascenders."""
        x0, y0 = self.start
        angle = math.radians(self.angle_deg)
        cos, sin = math.cos(angle), math.sin(angle)
        low, high, wide = -lettering.DESCENT * self.size_mm, lettering.ASCENT * self.size_mm, self.width_mm
        return tuple((x0 + (u * cos - v * sin), y0 + (u * sin + v * cos)) for u in (0, wide) for v in (low, high))

    def trace(self, path: Path) -> None:
        """The words as such: who cannot write them asks the lettering for their outlines."""
        path.words(self)

    def under(self, transform: Affine) -> Text:
        """The words larger and turned. Refuses (`OutOfRange`) a transform that would mirror or slant them."""
        scale = transform.scale
        if scale is None or transform.determinant < 0:
            raise OutOfRange(f"words that would be mirrored or slanted, {self.string!r}", "turn them, or move them")
        x, y = transform.apply(self.x, self.y)
        angle = self.angle_deg + transform.turn_deg
        return Text(
            x=x,
            y=y,
            string=self.string,
            size_mm=self.size_mm * scale,
            anchor=self.anchor,
            angle_deg=angle,
            bold=self.bold,
            role=self.role,
        )

    def inset(self, by_mm: float) -> Text:
        """Itself: letters are read, not measured."""
        return self
