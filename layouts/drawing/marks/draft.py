"""Drawings: marks in a frame, and the draft that collects them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from layouts.affine import Affine
from layouts.drawing.marks.annulus import Annulus
from layouts.drawing.marks.arc import Arc
from layouts.drawing.marks.circle import Circle
from layouts.drawing.marks.line import Line
from layouts.drawing.marks.mark import Box, Mark, Point, union
from layouts.drawing.marks.polyline import Polyline
from layouts.drawing.marks.text import Anchor, Text
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Marks in a frame of `width_mm` by `height_mm`, in mm from its lower left corner.

    `origin` is the place in the frame that the drawing was laid out from: marks keep their distance to it when
    something else in the drawing grows. Of a table, `rows` says which marks stand in each cell, by row, titles first.
    """

    marks: tuple[Mark, ...]
    width_mm: float
    height_mm: float
    name: str = "drawing"
    origin: Point = (0.0, 0.0)
    rows: tuple[tuple[range, ...], ...] = ()

    def __post_init__(self) -> None:
        if not (0 < self.width_mm < math.inf and 0 < self.height_mm < math.inf):
            raise OutOfRange(f"{self.name} has no size", "give a width and a height over zero")

    @property
    def extent(self) -> Box:
        """What the ink covers, line widths included."""
        return union(mark.inked for mark in self.marks)


class Draft:
    """A drawing in the making: collects marks in drawing order, then becomes a `Drawing`."""

    def __init__(self) -> None:
        self._marks: list[Mark] = []

    def __iter__(self) -> Iterator[Mark]:
        return iter(self._marks)

    def __len__(self) -> int:
        return len(self._marks)

    def line(self, x1: float, y1: float, x2: float, y2: float, role: Role = Role.TICK) -> None:
        """A straight stroke."""
        self._marks.append(Line(x1=x1, y1=y1, x2=x2, y2=y2, role=role))

    def polyline(self, points: Iterable[Point], role: Role, *, closed: bool = False) -> None:
        """Straight strokes through the points."""
        self._marks.append(Polyline(points=tuple(points), role=role, closed=closed))

    def patch(self, points: Iterable[Point], role: Role = Role.GAUGE) -> None:
        """A filled polygon."""
        self._marks.append(Polyline(points=tuple(points), role=role, closed=True, filled=True))

    def rectangle(self, x: float, y: float, width: float, height: float, role: Role) -> None:
        """An outlined rectangle; (x, y) is its lower left corner."""
        self.polyline(_corners(x, y, width, height), role, closed=True)

    def bar(self, x: float, y: float, width: float, height: float, role: Role = Role.GAUGE) -> None:
        """A filled rectangle; (x, y) is its lower left corner."""
        self.patch(_corners(x, y, width, height), role)

    def circle(self, x: float, y: float, r: float, role: Role) -> None:
        """A circle whose middle of the line counts."""
        self._marks.append(Circle(x=x, y=y, r=r, role=role))

    def disc(self, x: float, y: float, r: float, role: Role = Role.GAUGE) -> None:
        """A filled disc whose edge of the ink counts."""
        self._marks.append(Circle(x=x, y=y, r=r, role=role, filled=True))

    def annulus(self, x: float, y: float, r_outer: float, r_inner: float, role: Role = Role.GAUGE) -> None:
        """A flat ring of ink."""
        self._marks.append(Annulus(x=x, y=y, r_outer=r_outer, r_inner=r_inner, role=role))

    def arc(self, x: float, y: float, r: float, start_deg: float, sweep_deg: float, role: Role) -> None:
        """Part of a circle, counter-clockwise from `start_deg` for a sweep over zero."""
        self._marks.append(Arc(x=x, y=y, r=r, start_deg=start_deg, sweep_deg=sweep_deg, role=role))

    def text(
        self,
        x: float,
        y: float,
        string: str,
        size_mm: float,
        *,
        anchor: Anchor = "start",
        angle_deg: float = 0.0,
        bold: bool = False,
        role: Role = Role.LABEL,
    ) -> None:
        """One line of words; (x, y) is on the baseline."""
        self._marks.append(
            Text(
                x=x,
                y=y,
                string=string,
                size_mm=size_mm,
                anchor=anchor,
                angle_deg=angle_deg,
                bold=bold,
                role=role,
            )
        )

    def cross(self, x: float, y: float, arm_mm: float, role: Role = Role.HOLE) -> None:
        """An upright cross whose arms are `arm_mm` long each way."""
        self.line(x - arm_mm, y, x + arm_mm, y, role)
        self.line(x, y - arm_mm, x, y + arm_mm, role)

    def add(self, marks: Iterable[Mark], dx: float = 0.0, dy: float = 0.0) -> None:
        """Marks made elsewhere, moved by (dx, dy)."""
        if not (dx or dy):
            self._marks.extend(marks)
            return
        move = Affine(e=dx, f=dy)
        self._marks.extend(mark.under(move) for mark in marks)

    def drawing(
        self, width_mm: float, height_mm: float, name: str = "drawing", *, origin: Point = (0.0, 0.0)
    ) -> Drawing:
        """The finished drawing, in a frame with its lower left corner at (0, 0)."""
        return Drawing(marks=tuple(self._marks), width_mm=width_mm, height_mm=height_mm, name=name, origin=origin)

    def trimmed(self, name: str = "drawing") -> Drawing:
        """The finished drawing in the tightest frame: everything is moved so that the ink starts at (0, 0)."""
        left, bottom, right, top = union(mark.inked for mark in self._marks)
        move = Affine(e=-left, f=-bottom)
        marks = tuple(mark.under(move) for mark in self._marks)
        return Drawing(marks=marks, width_mm=right - left, height_mm=top - bottom, name=name, origin=(-left, -bottom))


def _corners(x: float, y: float, width: float, height: float) -> tuple[Point, ...]:
    return (x, y), (x + width, y), (x + width, y + height), (x, y + height)
