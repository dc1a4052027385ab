"""The whole drawing vocabulary: marks in millimetres, x to the right and y up, each with a role."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from layouts.drawing import lettering
from layouts.drawing.pens import PENS, Role
from layouts.errors import OutOfRange, Unprintable

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]
Box = tuple[float, float, float, float]  # left, bottom, right, top


def _finite(total: float) -> None:
    # A sum is finite only when all its terms are: one test instead of one per coordinate.
    if not math.isfinite(total):
        raise Unprintable("a mark has a coordinate that is not finite", "give finite millimetres")


def _has_radius(r: float) -> None:
    if r <= 0:
        raise OutOfRange(f"a circle of radius {r:g} mm cannot be drawn", "give a radius over zero")


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight stroke from (x1, y1) to (x2, y2), square ends."""

    x1: float
    y1: float
    x2: float
    y2: float
    role: Role

    def __post_init__(self) -> None:
        _finite(self.x1 + self.y1 + self.x2 + self.y2)

    def moved(self, dx: float, dy: float) -> Line:
        """The same stroke, dx to the right and dy up."""
        return Line(x1=self.x1 + dx, y1=self.y1 + dy, x2=self.x2 + dx, y2=self.y2 + dy, role=self.role)

    @property
    def box(self) -> Box:
        """The extent of the middle of the line."""
        return min(self.x1, self.x2), min(self.y1, self.y2), max(self.x1, self.x2), max(self.y1, self.y2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Polyline:
    """Straight strokes through the points; `closed` joins the last to the first, `filled` inks the inside."""

    points: tuple[Point, ...]
    role: Role
    closed: bool = False
    filled: bool = False

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise OutOfRange(f"a polyline of {len(self.points)} points", "give two or more")
        _finite(sum(x + y for x, y in self.points))

    def moved(self, dx: float, dy: float) -> Polyline:
        """The same strokes, dx to the right and dy up."""
        return replace(self, points=tuple((x + dx, y + dy) for x, y in self.points))

    @property
    def box(self) -> Box:
        """The extent of the points."""
        xs, ys = zip(*self.points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A circle about (x, y) of radius r: a stroke whose middle counts, or filled, a disc whose edge counts."""

    x: float
    y: float
    r: float
    role: Role
    filled: bool = False

    def __post_init__(self) -> None:
        _finite(self.x + self.y + self.r)
        _has_radius(self.r)

    def moved(self, dx: float, dy: float) -> Circle:
        """The same circle, dx to the right and dy up."""
        return Circle(x=self.x + dx, y=self.y + dy, r=self.r, role=self.role, filled=self.filled)

    @property
    def box(self) -> Box:
        """The extent of the circle."""
        return self.x - self.r, self.y - self.r, self.x + self.r, self.y + self.r


@dataclass(frozen=True, slots=True, kw_only=True)
class Annulus:
    """A flat ring of ink about (x, y) between two radii; both edges count."""

    x: float
    y: float
    r_outer: float
    r_inner: float
    role: Role

    def __post_init__(self) -> None:
        _finite(self.x + self.y + self.r_outer + self.r_inner)
        _has_radius(self.r_inner)
        if self.r_outer <= self.r_inner:
            raise OutOfRange("a ring whose outer radius is not the larger", "give the outer radius first")

    def moved(self, dx: float, dy: float) -> Annulus:
        """The same ring, dx to the right and dy up."""
        return replace(self, x=self.x + dx, y=self.y + dy)

    @property
    def box(self) -> Box:
        """The extent of the outer edge."""
        r = self.r_outer
        return self.x - r, self.y - r, self.x + r, self.y + r


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """Part of a circle: from `start_deg` (0 at +x, counter-clockwise) through `sweep_deg`, not over 360."""

    x: float
    y: float
    r: float
    start_deg: float
    sweep_deg: float
    role: Role

    def __post_init__(self) -> None:
        _finite(self.x + self.y + self.r + self.start_deg + self.sweep_deg)
        _has_radius(self.r)
        if not 0 < abs(self.sweep_deg) <= 360:
            raise OutOfRange(f"an arc of {self.sweep_deg:g} degrees", "give 1 to 360, or minus for clockwise")

    def moved(self, dx: float, dy: float) -> Arc:
        """The same arc, dx to the right and dy up."""
        return replace(self, x=self.x + dx, y=self.y + dy)

    def at(self, share: float) -> Point:
        """The point at a share of the way along, 0 to 1."""
        angle = math.radians(self.start_deg + share * self.sweep_deg)
        return self.x + self.r * math.cos(angle), self.y + self.r * math.sin(angle)

    @property
    def box(self) -> Box:
        """The extent of the arc: its ends, and the sides of the circle that it passes."""
        low, high = sorted((self.start_deg, self.start_deg + self.sweep_deg))
        quarters = range(math.ceil(low / 90), math.floor(high / 90) + 1)
        span = self.sweep_deg
        shares = [0.0, 1.0, *((q * 90 - self.start_deg) / span for q in quarters)]
        xs, ys = zip(*(self.at(share) for share in shares), strict=True)
        return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
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
        _finite(self.x + self.y + self.size_mm + self.angle_deg)
        lettering.check(self.string)

    def moved(self, dx: float, dy: float) -> Text:
        """The same words, dx to the right and dy up."""
        return replace(self, x=self.x + dx, y=self.y + dy)

    @property
    def width_mm(self) -> float:
        """Advance width of the string."""
        return lettering.width_mm(self.string, self.size_mm, bold=self.bold)

    @property
    def start(self) -> Point:
        """Where the first letter starts, on the baseline."""
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor] * self.width_mm
        angle = math.radians(self.angle_deg)
        return self.x - back * math.cos(angle), self.y - back * math.sin(angle)

    @property
    def box(self) -> Box:
        """The extent, from the descenders to the ascenders."""
        x0, y0 = self.start
        angle = math.radians(self.angle_deg)
        cos, sin = math.cos(angle), math.sin(angle)
        low, high, wide = -lettering.DESCENT * self.size_mm, lettering.ASCENT * self.size_mm, self.width_mm
        corners = [(u * cos - v * sin, u * sin + v * cos) for u in (0, wide) for v in (low, high)]
        xs, ys = zip(*corners, strict=True)
        return x0 + min(xs), y0 + min(ys), x0 + max(xs), y0 + max(ys)


Mark = Line | Polyline | Circle | Annulus | Arc | Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Marks in a frame of `width_mm` by `height_mm`, origin at its lower left corner."""

    marks: tuple[Mark, ...]
    width_mm: float
    height_mm: float
    name: str = "drawing"

    def __post_init__(self) -> None:
        if not (0 < self.width_mm < math.inf and 0 < self.height_mm < math.inf):
            raise OutOfRange(f"{self.name} has no size", "give a width and a height over zero")

    @property
    def extent(self) -> Box:
        """What the ink covers, line widths included."""
        return union(inked(mark) for mark in self.marks)


def inked(mark: Mark) -> Box:
    """What a mark's ink covers: its box and half a line width."""
    left, bottom, right, top = mark.box
    edge_counts = isinstance(mark, Text | Annulus) or getattr(mark, "filled", False)
    half = 0.0 if edge_counts else PENS[mark.role].width_mm / 2
    return left - half, bottom - half, right + half, top + half


def union(boxes: Iterable[Box]) -> Box:
    """The smallest box around all of them."""
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


class Draft:
    """A drawing in the making: collects marks in drawing order, then becomes a `Drawing`."""

    def __init__(self) -> None:
        self._marks: list[Mark] = []

    def __iter__(self) -> Iterator[Mark]:
        return iter(self._marks)

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
        self._marks.extend(marks if not (dx or dy) else (mark.moved(dx, dy) for mark in marks))

    def drawing(self, width_mm: float, height_mm: float, name: str = "drawing") -> Drawing:
        """The finished drawing, in a frame with its origin at the lower left."""
        return Drawing(marks=tuple(self._marks), width_mm=width_mm, height_mm=height_mm, name=name)

    def trimmed(self, name: str = "drawing") -> Drawing:
        """The finished drawing in the tightest frame: everything is moved so that the ink starts at (0, 0)."""
        left, bottom, right, top = union(inked(mark) for mark in self._marks)
        marks = tuple(mark.moved(-left, -bottom) for mark in self._marks)
        return Drawing(marks=marks, width_mm=right - left, height_mm=top - bottom, name=name)


def _corners(x: float, y: float, width: float, height: float) -> tuple[Point, ...]:
    return (x, y), (x + width, y), (x + width, y + height), (x, y + height)
