"""Closed outlines of straight pieces and arcs, kept exact: their area, their offset by a kerf, and points on them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from layouts.drawing.marks.mark import Box, Point, finite, has_radius, on_circle
from layouts.errors import OutOfRange

_SAME_MM = 1e-9
_MITRE = 2.5  # a corner that would reach further out, in offsets, is rounded: a round beam leaves it as sharp
_LEAST_CHORDS = 12  # of a circle, however small


class Corner(NamedTuple):
    """Where a piece begins, and through how many degrees it turns on its way to the next: 0 if it is straight."""

    x: float
    y: float
    sweep_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A straight piece or an arc from one point to another. Of an arc: its centre, its radius, where it starts."""

    start: Point
    end: Point
    sweep_deg: float = 0.0

    @property
    def is_arc(self) -> bool:
        """Whether it is bent."""
        return self.sweep_deg != 0

    @property
    def centre(self) -> Point:
        """Of the arc: from the middle of its chord, square to it, by half the chord over tan(sweep / 2)."""
        (x0, y0), (x1, y1) = self.start, self.end
        out = 1 / math.tan(math.radians(self.sweep_deg) / 2) / 2
        return (x0 + x1) / 2 - (y1 - y0) * out, (y0 + y1) / 2 + (x1 - x0) * out

    @property
    def radius(self) -> float:
        """Of the arc, mm: half the chord over sin(sweep / 2)."""
        return abs(math.dist(self.start, self.end) / 2 / math.sin(math.radians(self.sweep_deg) / 2))

    @property
    def start_deg(self) -> float:
        """Where on its circle the arc starts, from +x."""
        return _angle(self.centre, self.start)

    @property
    def length_mm(self) -> float:
        """Along it."""
        if not self.is_arc:
            return math.dist(self.start, self.end)
        return math.radians(abs(self.sweep_deg)) * self.radius

    def points(self, within_mm: float) -> Iterator[Point]:
        """Points on it, without its start; chords lie within `within_mm` of an arc."""
        if self.is_arc:
            (x, y), r, start = self.centre, self.radius, self.start_deg
            chords = max(_LEAST_CHORDS, math.ceil(math.pi / math.acos(1 - min(within_mm / r, 1))))
            count = max(1, math.ceil(chords * abs(self.sweep_deg) / 360))
            yield from (on_circle(x, y, r, start + self.sweep_deg * step / count) for step in range(1, count))
        yield self.end


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """A circle about (x, y) of radius r as an outline, mm."""

    x: float
    y: float
    r: float

    def __post_init__(self) -> None:
        finite(self.x + self.y + self.r)
        has_radius(self.r)

    @property
    def area_mm2(self) -> float:
        """pi r^2."""
        return math.pi * self.r**2

    @property
    def length_mm(self) -> float:
        """Once round."""
        return math.tau * self.r

    @property
    def box(self) -> Box:
        """What it spans."""
        return self.x - self.r, self.y - self.r, self.x + self.r, self.y + self.r

    def points(self, within_mm: float) -> tuple[Point, ...]:
        """Points on it, counter-clockwise from +x; chords lie within `within_mm` of it."""
        count = max(_LEAST_CHORDS, math.ceil(math.pi / math.acos(1 - min(within_mm / self.r, 1))))
        return tuple(on_circle(self.x, self.y, self.r, 360 * step / count) for step in range(count))

    def grown(self, by_mm: float) -> Round:
        """The circle by so much larger all round; smaller under zero. Refuses one that would vanish."""
        if self.r + by_mm <= 0:
            raise narrow(2 * self.r)
        return Round(x=self.x, y=self.y, r=self.r + by_mm)

    def stretched(self, across: float, along: float) -> Round:
        """Its place as stretched across and along, its size by the mean of both: a circle stays one."""
        return Round(x=self.x * across, y=self.y * along, r=self.r * (across + along) / 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A closed line through corners, counter-clockwise; its pieces are straight, or arcs."""

    corners: tuple[Corner, ...]

    def __post_init__(self) -> None:
        finite(math.fsum(value for corner in self.corners for value in corner))
        bent = any(corner.sweep_deg for corner in self.corners)
        if len(self.corners) < (2 if bent else 3):
            raise OutOfRange(f"an outline of {len(self.corners)} corners", "give three or more")

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Its pieces in order."""
        ends = (*self.corners[1:], self.corners[0])
        return tuple(
            Piece(start=(here.x, here.y), end=(there.x, there.y), sweep_deg=here.sweep_deg)
            for here, there in zip(self.corners, ends, strict=True)
        )

    @property
    def area_mm2(self) -> float:
        """Of the polygon of its corners, and what each arc adds: r^2 (a - sin a) / 2. Over zero counter-clockwise."""
        total = 0.0
        for piece in self.pieces:
            (x0, y0), (x1, y1) = piece.start, piece.end
            total += (x0 * y1 - x1 * y0) / 2
            if piece.is_arc:
                angle = math.radians(piece.sweep_deg)
                total += piece.radius**2 * (angle - math.sin(angle)) / 2
        return total

    @property
    def length_mm(self) -> float:
        """Once round."""
        return math.fsum(piece.length_mm for piece in self.pieces)

    @property
    def box(self) -> Box:
        """What it spans."""
        xs, ys = zip(*self._extremes(), strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    def _extremes(self) -> Iterator[Point]:
        for piece in self.pieces:
            yield piece.start
            if piece.is_arc:
                (x, y), r, start = piece.centre, piece.radius, piece.start_deg
                low, high = sorted((start, start + piece.sweep_deg))
                for quarter in range(math.ceil(low / 90), math.floor(high / 90) + 1):
                    yield on_circle(x, y, r, 90.0 * quarter)

    def points(self, within_mm: float) -> tuple[Point, ...]:
        """Points on it in order; chords lie within `within_mm` of its arcs."""
        found = [point for piece in self.pieces for point in piece.points(within_mm)]
        return (found[-1], *found[:-1])

    def turned_round(self) -> Outline:
        """The same the other way round."""
        pieces = self.pieces[::-1]
        return Outline(corners=tuple(Corner(*piece.end, -piece.sweep_deg) for piece in pieces))

    def stretched(self, across: float, along: float) -> Outline:
        """Every corner stretched across and along. An arc keeps its angle, so that it stays an arc."""
        return Outline(corners=tuple(Corner(c.x * across, c.y * along, c.sweep_deg) for c in self.corners))

    def grown(self, by_mm: float) -> Outline:
        """The outline by so much larger all round, exactly; smaller under zero.

        Straight pieces move out, arcs change their radius, and neighbours meet where they now cross; a corner that
        would reach far out is rounded. Refuses (`OutOfRange`) an outline of which a part would vanish.
        """
        if by_mm == 0:
            return self
        moved = [_moved(piece, by_mm) for piece in self.pieces]
        olds = self.pieces
        corners = list[Corner]()
        joins = [_join(moved[at - 1], moved[at], olds[at].start, by_mm) for at in range(len(moved))]
        for at, piece in enumerate(moved):
            ahead = joins[(at + 1) % len(moved)]
            corners.append(_between(piece, olds[at], joins[at][-1], ahead[0]))
            if len(ahead) > 1:  # a corner rounded about where it was, to the left where the outline grows
                turn = (_angle(olds[at].end, ahead[1]) - _angle(olds[at].end, ahead[0])) % 360
                corners.append(Corner(*ahead[0], turn if by_mm > 0 else turn - 360))
        return Outline(corners=tuple(corners))


Closed = Outline | Round


def narrow(size_mm: float) -> OutOfRange:
    """The refusal of something that the kerf would eat."""
    return OutOfRange(f"a cut {size_mm:.2f} mm wide is within the kerf", "make it wider")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Carrier:
    """What a moved piece lies on: a line from a point along a direction, or a circle."""

    start: Point
    end: Point
    centre: Point | None = None
    radius: float = 0.0


def _moved(piece: Piece, out: float) -> _Carrier:
    """A piece moved out by so much: to the right of its way, as outlines run counter-clockwise."""
    if piece.is_arc:
        (x, y), r = piece.centre, piece.radius
        new = r + (out if piece.sweep_deg > 0 else -out)
        if new <= _SAME_MM:
            raise narrow(2 * r)
        ends = [(x + (u - x) * new / r, y + (v - y) * new / r) for u, v in (piece.start, piece.end)]
        return _Carrier(start=ends[0], end=ends[1], centre=(x, y), radius=new)
    (x0, y0), (x1, y1) = piece.start, piece.end
    length = math.dist(piece.start, piece.end)
    if length <= _SAME_MM:
        raise OutOfRange("an outline with a piece of no length", "leave it out")
    dx, dy = (y1 - y0) / length * out, -(x1 - x0) / length * out
    return _Carrier(start=(x0 + dx, y0 + dy), end=(x1 + dx, y1 + dy))


def _join(before: _Carrier, after: _Carrier, corner: Point, by_mm: float) -> tuple[Point, ...]:
    """Where two neighbours now meet; or the two ends of a rounding, where they are far apart or do not cross."""
    if math.dist(before.end, after.start) <= 1e-7:
        return (before.end,)
    crossings = _crossings(before, after)
    if crossings:
        nearest = min(crossings, key=lambda point: math.dist(point, corner))
        if math.dist(nearest, corner) <= _MITRE * abs(by_mm):
            return (nearest,)
    if _opens(before, after, corner, by_mm):
        return before.end, after.start
    raise narrow(abs(by_mm) * 2)


def _opens(before: _Carrier, after: _Carrier, corner: Point, by_mm: float) -> bool:
    """Whether the neighbours are torn apart at a corner by the move, and do not run into each other."""
    (x, y), (x0, y0), (x1, y1) = corner, before.end, after.start
    cross = (x0 - x) * (y1 - y) - (y0 - y) * (x1 - x)
    return cross * by_mm > 0 if abs(cross) > _SAME_MM**2 else True


def _between(moved: _Carrier, old: Piece, start: Point, end: Point) -> Corner:
    """A moved piece between its new ends. Refuses one that would run backwards: it has been eaten."""
    if moved.centre is None:
        (x0, y0), (x1, y1) = old.start, old.end
        if (end[0] - start[0]) * (x1 - x0) + (end[1] - start[1]) * (y1 - y0) <= 0:
            raise narrow(math.dist(old.start, old.end))
        return Corner(*start)
    first, last = _angle(moved.centre, start), _angle(moved.centre, end)
    sweep = (last - first) % 360 if old.sweep_deg > 0 else -((first - last) % 360)
    if abs(sweep - old.sweep_deg) > 180:  # past its other end
        raise narrow(2 * old.radius)
    return Corner(*start, sweep)


def _crossings(one: _Carrier, other: _Carrier) -> Sequence[Point]:
    if one.centre is None and other.centre is None:
        return _lines_cross(one, other)
    if one.centre is None:
        return _line_meets_circle(one, other)
    if other.centre is None:
        return _line_meets_circle(other, one)
    return _circles_cross(one.centre, one.radius, other.centre, other.radius)


def _lines_cross(one: _Carrier, other: _Carrier) -> Sequence[Point]:
    (x0, y0), (x1, y1), (u0, v0), (u1, v1) = one.start, one.end, other.start, other.end
    down = (x1 - x0) * (v1 - v0) - (y1 - y0) * (u1 - u0)
    if abs(down) <= 1e-12 * math.dist(one.start, one.end) * math.dist(other.start, other.end):
        return ()
    share = ((u0 - x0) * (v1 - v0) - (v0 - y0) * (u1 - u0)) / down
    return ((x0 + share * (x1 - x0), y0 + share * (y1 - y0)),)


def _line_meets_circle(line: _Carrier, circle: _Carrier) -> Sequence[Point]:
    x, y = circle.centre or (0.0, 0.0)
    (x0, y0), (x1, y1) = line.start, line.end
    length = math.dist(line.start, line.end)
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    along = (x - x0) * ux + (y - y0) * uy
    off = (x - x0) * uy - (y - y0) * ux
    square = circle.radius**2 - off**2
    if square < -1e-9:
        return ()
    half = math.sqrt(max(square, 0.0))
    return [(x0 + (along + way * half) * ux, y0 + (along + way * half) * uy) for way in (-1, 1)]


def _circles_cross(one: Point, r: float, other: Point, s: float) -> Sequence[Point]:
    apart = math.dist(one, other)
    if apart <= _SAME_MM:
        return ()
    along = (apart**2 + r**2 - s**2) / (2 * apart)
    square = r**2 - along**2
    if square < -1e-9:
        return ()
    half = math.sqrt(max(square, 0.0))
    ux, uy = (other[0] - one[0]) / apart, (other[1] - one[1]) / apart
    return [(one[0] + along * ux - way * half * uy, one[1] + along * uy + way * half * ux) for way in (-1, 1)]


def _angle(centre: Point, point: Point) -> float:
    return math.degrees(math.atan2(point[1] - centre[1], point[0] - centre[0]))
