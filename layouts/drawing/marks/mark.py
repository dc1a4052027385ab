"""What every mark can be asked, and the path that it traces for whoever draws or measures it.

A new mark says whether it is filled, traces its path, and says what it is under a transform and drawn in by an ink
spread. Boxes, outlines, clipping and every renderer follow from that.
"""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any, ClassVar, Protocol, Self, cast

from layouts.affine import Affine
from layouts.drawing.pens import PENS, Role
from layouts.errors import OutOfRange, Unprintable

if TYPE_CHECKING:
    from layouts.drawing.marks.text import Text

Point = tuple[float, float]
Box = tuple[float, float, float, float]  # left, bottom, right, top


class Path(Protocol):
    """What takes a path: a renderer, or something that measures. Every outline starts with a move."""

    def move(self, x: float, y: float) -> None:
        """A new outline starts here."""

    def line(self, x: float, y: float) -> None:
        """Straight on to a point."""

    def arc(self, x: float, y: float, r: float, start_deg: float, sweep_deg: float) -> None:
        """On along a circle about (x, y), from where the path is, at `start_deg`, through `sweep_deg`."""

    def close(self) -> None:
        """Back to where the outline started."""

    def words(self, text: Text) -> None:
        """Words in one line; they are always filled."""


class Mark(ABC):
    """A mark on paper. Frozen; all of it in millimetres, x to the right and y up."""

    __slots__ = ()
    __dataclass_fields__: ClassVar[dict[str, Any]]  # every mark is a dataclass
    role: Role

    @property
    @abstractmethod
    def filled(self) -> bool:
        """Whether the inside is inked, so that the edge of the ink counts, instead of the middle of the line."""

    @abstractmethod
    def trace(self, path: Path) -> None:
        """Takes the path along the mark: along its middle, or around what is filled (even-odd)."""

    @abstractmethod
    def under(self, transform: Affine) -> Mark:
        """The mark after a transform. What that makes of no mark of its kind becomes one of another kind."""

    @abstractmethod
    def inset(self, by_mm: float) -> Self:
        """The mark with every edge of its ink drawn in by so much; itself where no edge counts.

        Refuses (`OutOfRange`) what would vanish.
        """

    @property
    def divisible(self) -> bool:
        """Whether it may be cut through. Words may not."""
        return True

    def moved(self, dx: float, dy: float) -> Self:
        """The mark, dx to the right and dy up: a move makes nothing else of it."""
        return cast(Self, self.under(Affine(e=dx, f=dy)))

    @property
    def box(self) -> Box:
        """The extent of the middle of the line, or of the edge of the ink."""
        extent = _Extent()
        self.trace(extent)
        return min(extent.xs), min(extent.ys), max(extent.xs), max(extent.ys)

    @property
    def inked(self) -> Box:
        """What its ink covers: its box and, of a stroke, half a line width."""
        left, bottom, right, top = self.box
        half = 0.0 if self.filled else PENS[self.role].width_mm / 2
        return left - half, bottom - half, right + half, top + half


def union(boxes: Iterable[Box]) -> Box:
    """The smallest box around all of them."""
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


def finite(total: float) -> None:
    """Refuses (`Unprintable`) coordinates of which this is the sum: it is finite only when all of them are."""
    if not math.isfinite(total):
        raise Unprintable("a mark has a coordinate that is not finite", "give finite millimetres")


def has_radius(r: float) -> None:
    """Refuses (`OutOfRange`) a radius that is not over zero."""
    if r <= 0:
        raise OutOfRange(f"a circle of radius {r:g} mm cannot be drawn", "give a radius over zero")


def on_circle(x: float, y: float, r: float, angle_deg: float) -> Point:
    """The point of a circle at an angle, counter-clockwise from +x."""
    angle = math.radians(angle_deg)
    return x + r * math.cos(angle), y + r * math.sin(angle)


class _Extent:
    """Takes a path and keeps the points that its box is stretched over."""

    def __init__(self) -> None:
        self.xs: list[float] = []
        self.ys: list[float] = []

    def line(self, x: float, y: float) -> None:
        self.xs.append(x)
        self.ys.append(y)

    move = line

    def arc(self, x: float, y: float, r: float, start_deg: float, sweep_deg: float) -> None:
        """Its end, and the sides of the circle that it passes."""
        end = start_deg + sweep_deg
        self.line(*on_circle(x, y, r, end))
        low, high = (start_deg, end) if sweep_deg > 0 else (end, start_deg)
        for quarter in range(math.ceil(low / 90), math.floor(high / 90) + 1):
            across, up = _QUARTERS[quarter % 4]
            self.line(x + across * r, y + up * r)

    def close(self) -> None:
        pass

    def words(self, text: Text) -> None:
        for corner in text.corners:
            self.line(*corner)


_QUARTERS = ((1, 0), (0, 1), (-1, 0), (0, -1))
