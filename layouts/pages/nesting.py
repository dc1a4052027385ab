"""Many small pieces on few pages: true scale, none over another, none turned that must not be.

A page is filled from the bottom up: the lowest gap of its skyline gets the first piece, in a fixed order of sizes,
that fits it. Every page is tried in several orders, in rows and in columns, and the fullest try stays. Large pieces
weigh more than their area, as they are the harder to place later. A page holds a bounded number of pieces and a tree
finds each, so the time grows as n log n.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from layouts.drawing.marks import Drawing, Polyline
from layouts.drawing.pens import Role
from layouts.drawing.turning import quarter_turned
from layouts.errors import DoesNotFit, OutOfRange, Remedy
from layouts.pages.page import Field, Placed
from layouts.pages.sheet import GAP_MM

_SLACK_MM = 1e-9  # sums of sizes that should be equal differ by rounding
_WEIGHT = 1.3  # power of a piece's area that it is worth: 1.15 to 2 did alike in trials, 1 worse


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A drawing to be cut out; it may be turned by a quarter unless grain or words forbid it."""

    drawing: Drawing
    may_turn: bool = False

    @property
    def shares_cut(self) -> bool:
        """Whether its frame is its cut line, so that one cut serves two pieces side by side."""
        return _is_framed(self.drawing)


def nest(pieces: Sequence[Piece], field: Field, gap_mm: float = GAP_MM) -> tuple[tuple[Placed, ...], ...]:
    """The pieces on few pages, each where its lower left corner lies in the field; no page is empty.

    Pieces whose frame is their cut line abut and share it. Others keep `gap_mm` from one another, and half of it
    from those that share. The order of the pieces makes no difference to the number of pages. Refuses
    (`DoesNotFit`) a piece larger than the field.
    """
    if not 0 <= gap_mm < math.inf:
        raise OutOfRange(f"a gap of {gap_mm:g} mm between pieces", "give 0 mm or more")
    room = _Room(pieces, field, gap_mm)
    left = set(range(len(pieces)))
    tries = [_Try(room, order, columns) for columns in (False, True) for order in _ORDERS]
    pages = []
    while left:
        spots = max((one.page() for one in tries), key=room.worth)
        for one in tries:
            one.pool.take(spot.piece for spot in spots)
        left.difference_update(spot.piece for spot in spots)
        pages.append(tuple(room.placed(spot) for spot in spots))
    return tuple(pages)


def _is_framed(drawing: Drawing) -> bool:
    width, height = drawing.width_mm, drawing.height_mm
    corners = {(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)}
    outlines = (mark for mark in drawing.marks if isinstance(mark, Polyline) and mark.role is Role.CUT)
    return any(mark.closed and len(mark.points) == 4 and set(mark.points) == corners for mark in outlines)


def _size(piece: Piece) -> tuple[float, float]:
    return piece.drawing.width_mm, piece.drawing.height_mm


class _Cell(NamedTuple):
    """What a piece takes up, upright or turned, its share of the gaps included; mm."""

    width: float
    height: float
    piece: int
    turned: bool


class _Spot(NamedTuple):
    """Where the lower left corner of a cell lies."""

    x: float
    y: float
    cell: _Cell

    @property
    def piece(self) -> int:
        return self.cell.piece


class _Room:
    """The pieces as cells in a field, both grown by the gap that the pieces keep."""

    def __init__(self, pieces: Sequence[Piece], field: Field, gap: float) -> None:
        framed = {id(piece.drawing): piece.shares_cut for piece in pieces}
        self.pieces = sorted(pieces, key=lambda piece: (*_size(piece), piece.may_turn, framed[id(piece.drawing)]))
        self.field = field
        self.gaps = [0.0 if framed[id(piece.drawing)] else gap for piece in self.pieces]
        self.border = min(self.gaps, default=0.0)  # a gap is not wanted at the field's edges
        self.width, self.height = field.width_mm + self.border, field.height_mm + self.border
        self.cells = sorted(cell for number in range(len(pieces)) for cell in self._ways(number))
        self.turned: dict[int, Drawing] = {}

    def _ways(self, number: int) -> Iterator[_Cell]:
        """The piece upright, and turned if it may be."""
        piece, gap = self.pieces[number], self.gaps[number]
        width, height = _size(piece)
        ways = [(width, height, False), *([(height, width, True)] if piece.may_turn else [])]
        fits = [way for way in ways if self._fits(*way[:2])]
        if not fits:
            raise DoesNotFit(
                piece.drawing.name, (width, height), self.field, remedies=(Remedy.LARGER_PAPER, Remedy.TURN_PAPER)
            )
        for wide, high, turned in fits:
            yield _Cell(min(wide + gap, self.width), min(high + gap, self.height), number, turned)

    def _fits(self, width: float, height: float) -> bool:
        return width <= self.field.width_mm + _SLACK_MM and height <= self.field.height_mm + _SLACK_MM

    def worth(self, spots: Sequence[_Spot]) -> float:
        """How well a page is filled."""
        return math.fsum((spot.cell.width * spot.cell.height) ** _WEIGHT for spot in spots)

    def placed(self, spot: _Spot) -> Placed:
        """The piece in the middle of its cell; a drawing that is turned more than once stays one."""
        drawing = self.pieces[spot.piece].drawing
        if spot.cell.turned:
            drawing = self.turned.setdefault(id(drawing), quarter_turned(drawing))
        aside = (spot.cell.width - drawing.width_mm - self.border) / 2
        up = (spot.cell.height - drawing.height_mm - self.border) / 2
        return Placed(drawing=drawing, x=spot.x + aside, y=spot.y + up)


Order = Callable[[_Cell], tuple[float, float]]


def _by_width(cell: _Cell) -> tuple[float, float]:
    return -cell.width, -cell.height


def _by_height(cell: _Cell) -> tuple[float, float]:
    return -cell.height, -cell.width


def _by_class(cell: _Cell) -> tuple[float, float]:
    """By area in classes of an eighth of a doubling, and by width in a class.

    Within a class the tree finds the first cell that fits in log n steps; by area alone it would take many more.
    """
    return -math.floor(8 * math.log2(cell.width * cell.height)), -cell.width


_ORDERS: tuple[Order, ...] = (_by_width, _by_height, _by_class)


class _Try:
    """One way to fill a page: an order of sizes, in rows or (width and height swapped) in columns."""

    def __init__(self, room: _Room, order: Order, columns: bool) -> None:
        self.columns = columns
        self.width, self.height = (room.height, room.width) if columns else (room.width, room.height)
        self.pool = _Pool([_across(cell) for cell in room.cells] if columns else room.cells, order)

    def page(self) -> list[_Spot]:
        """The next page; its pieces stay in the pool."""
        spots = list(_filled(self.pool, self.width, self.height))
        self.pool.give_back(spot.piece for spot in spots)
        return [_Spot(spot.y, spot.x, _across(spot.cell)) for spot in spots] if self.columns else spots


def _across(cell: _Cell) -> _Cell:
    return cell._replace(width=cell.height, height=cell.width)


class _Pool:
    """The cells that are left, in order: a binary tree whose nodes know the least width and height below them."""

    def __init__(self, cells: Sequence[_Cell], order: Order) -> None:
        self.cells = sorted(cells, key=order)
        self.leaves = 1 << max(0, len(cells) - 1).bit_length()
        self.widths, self.heights = [math.inf] * 2 * self.leaves, [math.inf] * 2 * self.leaves
        self.places: dict[int, list[int]] = {}
        for place, cell in enumerate(self.cells):
            self.places.setdefault(cell.piece, []).append(place)
            self.widths[self.leaves + place], self.heights[self.leaves + place] = cell[:2]
        for node in range(self.leaves - 1, 0, -1):
            self._sum_up(node)

    def first(self, width: float, height: float) -> _Cell | None:
        """The first cell no larger than this."""
        nodes = [1]
        while nodes:
            node = nodes.pop()
            if self.widths[node] > width + _SLACK_MM or self.heights[node] > height + _SLACK_MM:
                continue
            if node >= self.leaves:
                return self.cells[node - self.leaves]
            nodes += (2 * node + 1, 2 * node)
        return None

    def take(self, pieces: Iterator[int]) -> None:
        """Takes pieces out, turned or not."""
        for piece in pieces:
            for place in self.places[piece]:
                self._set(place, math.inf, math.inf)

    def give_back(self, pieces: Iterator[int]) -> None:
        """Puts pieces back that were taken."""
        for piece in pieces:
            for place in self.places[piece]:
                self._set(place, *self.cells[place][:2])

    def _set(self, place: int, width: float, height: float) -> None:
        node = self.leaves + place
        self.widths[node], self.heights[node] = width, height
        changed = True
        while changed and node > 1:
            node //= 2
            changed = self._sum_up(node)

    def _sum_up(self, node: int) -> bool:
        """The least of the two below; whether that changes anything."""
        before = self.widths[node], self.heights[node]
        one, other = 2 * node, 2 * node + 1
        self.widths[node] = width = min(self.widths[one], self.widths[other])
        self.heights[node] = height = min(self.heights[one], self.heights[other])
        return (width, height) != before


def _filled(pool: _Pool, width: float, height: float) -> Iterator[_Spot]:
    """One page, from the bottom up; its pieces are taken out of the pool."""
    skyline = _Skyline(width, height)
    while (gap := skyline.lowest()) is not None:
        cell = pool.first(gap.width, height - gap.y)
        if cell is None:
            skyline.give_up()
        else:
            pool.take(iter((cell.piece,)))
            yield _Spot(skyline.put(cell.width, cell.height), gap.y, cell)


class _Step(NamedTuple):
    """A level stretch of a skyline."""

    x: float
    width: float
    y: float


class _Skyline:
    """The upper edge of what has been placed, as level steps from left to right."""

    def __init__(self, width: float, height: float) -> None:
        self.height = height
        self.steps = [_Step(0.0, width, 0.0)]
        self.at = 0  # the lowest step

    def lowest(self) -> _Step | None:
        """The lowest step, the leftmost of several; None when the page is full."""
        self.at = min(range(len(self.steps)), key=lambda number: self.steps[number].y)
        step = self.steps[self.at]
        return step if step.y < self.height else None

    def _sides(self) -> tuple[float, float]:
        """How high it is to the left and to the right of the lowest step."""
        left = self.steps[self.at - 1].y if self.at else self.height
        right = self.steps[self.at + 1].y if self.at + 1 < len(self.steps) else self.height
        return left, right

    def give_up(self) -> None:
        """Raises the lowest step to its lower side: nothing fits it."""
        self._replace(self.steps[self.at]._replace(y=min(self._sides())))

    def put(self, width: float, height: float) -> float:
        """Puts a cell on the lowest step, beside the side nearer to it in height. Returns its x."""
        step = self.steps[self.at]
        left, right = self._sides()
        top, rest = step.y + height, step.width - width
        if rest <= _SLACK_MM:
            self._replace(step._replace(y=top))
            return step.x
        if abs(right - top) < abs(left - top):
            self._replace(_Step(step.x, rest, step.y), _Step(step.x + rest, width, top))
            return step.x + rest
        self._replace(_Step(step.x, width, top), _Step(step.x + width, rest, step.y))
        return step.x

    def _replace(self, *steps: _Step) -> None:
        """New steps for the lowest, merged with those of the same height beside them."""
        low, high = max(0, self.at - 1), self.at + 2
        merged: list[_Step] = []
        for step in (*self.steps[low : self.at], *steps, *self.steps[self.at + 1 : high]):
            if merged and abs(merged[-1].y - step.y) <= _SLACK_MM:
                merged[-1] = merged[-1]._replace(width=merged[-1].width + step.width)
            else:
                merged.append(step)
        self.steps[low:high] = merged
