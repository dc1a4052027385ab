"""Many small pieces on few pages: true scale, none over another, none turned that must not be.

Every page is filled in several orders of sizes, in rows and in columns, and the fullest try stays. Large pieces weigh
more than their area, as they are the harder to place later. A page holds a bounded number of pieces and a tree finds
each, so the time grows as n log n. Pages that hold few pieces each are then regrouped (`regrouping.py`): small pieces
fill what is left over by themselves, large ones must find those that they go with.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from layouts.drawing.marks import Drawing, Polyline
from layouts.drawing.pens import Role
from layouts.drawing.turning import quarter_turned
from layouts.errors import DoesNotFit, OutOfRange, Remedy
from layouts.pages.page import Field, Placed
from layouts.pages.regrouping import regrouped
from layouts.pages.sheet import GAP_MM
from layouts.pages.skyline import SLACK_MM, Cell, Spot, across, filled

_WEIGHT = 1.3  # power of a piece's area that it is worth: 1.15 to 2 did alike in trials, 1 worse


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A drawing to be cut out; it may be turned by a quarter unless grain or words forbid it."""

    drawing: Drawing
    may_turn: bool = False

    @property
    def shares_cut(self) -> bool:
        """Whether its frame is its cut line, so that one cut serves two pieces side by side."""
        width, height = self.drawing.width_mm, self.drawing.height_mm
        corners = {(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)}
        outlines = (mark for mark in self.drawing.marks if isinstance(mark, Polyline) and mark.role is Role.CUT)
        return any(mark.closed and len(mark.points) == 4 and set(mark.points) == corners for mark in outlines)


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
    pages: list[list[Spot]] = []
    while left:
        spots = max((one.page() for one in tries), key=room.worth)
        for one in tries:
            one.pool.take(spot.piece for spot in spots)
        left.difference_update(spot.piece for spot in spots)
        pages.append(spots)
    pages = regrouped(pages, room.cells, (room.width, room.height), room.worth)
    return tuple(tuple(map(room.placed, spots)) for spots in pages)


def _size(piece: Piece) -> tuple[float, float]:
    return piece.drawing.width_mm, piece.drawing.height_mm


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

    def _ways(self, number: int) -> Iterator[Cell]:
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
            yield Cell(min(wide + gap, self.width), min(high + gap, self.height), number, turned)

    def _fits(self, width: float, height: float) -> bool:
        return width <= self.field.width_mm + SLACK_MM and height <= self.field.height_mm + SLACK_MM

    def worth(self, spots: Sequence[Spot]) -> float:
        """How well a page is filled."""
        return math.fsum((spot.cell.width * spot.cell.height) ** _WEIGHT for spot in spots)

    def placed(self, spot: Spot) -> Placed:
        """The piece in the middle of its cell; a drawing that is turned more than once stays one."""
        drawing = self.pieces[spot.piece].drawing
        if spot.cell.turned:
            drawing = self.turned.setdefault(id(drawing), quarter_turned(drawing))
        aside = (spot.cell.width - drawing.width_mm - self.border) / 2
        up = (spot.cell.height - drawing.height_mm - self.border) / 2
        return Placed(drawing=drawing, x=spot.x + aside, y=spot.y + up)


Order = Callable[[Cell], tuple[float, float]]

_ORDERS: tuple[Order, ...] = (
    lambda cell: (-cell.width, -cell.height),
    lambda cell: (-cell.height, -cell.width),
    # By area in classes of an eighth of a doubling, and by width in a class: within a class the tree finds the first
    # cell that fits in log n steps; by area alone it would take many more.
    lambda cell: (-math.floor(8 * math.log2(cell.width * cell.height)), -cell.width),
)


class _Try:
    """One way to fill a page: an order of sizes, in rows or (width and height swapped) in columns."""

    def __init__(self, room: _Room, order: Order, columns: bool) -> None:
        self.columns = columns
        self.width, self.height = (room.height, room.width) if columns else (room.width, room.height)
        self.pool = _Pool([across(cell) for cell in room.cells] if columns else room.cells, order)

    def page(self) -> list[Spot]:
        """The next page; its pieces stay in the pool."""
        spots = filled(self.pool.pop, self.width, self.height)
        self.pool.give_back(spot.piece for spot in spots)
        return [Spot(spot.y, spot.x, across(spot.cell)) for spot in spots] if self.columns else spots


class _Pool:
    """The cells that are left, in order: a binary tree whose nodes know the least width and height below them."""

    def __init__(self, cells: Sequence[Cell], order: Order) -> None:
        self.cells = sorted(cells, key=order)
        self.leaves = 1 << max(0, len(cells) - 1).bit_length()
        self.widths, self.heights = [math.inf] * 2 * self.leaves, [math.inf] * 2 * self.leaves
        self.places: dict[int, list[int]] = {}
        for place, cell in enumerate(self.cells):
            self.places.setdefault(cell.piece, []).append(place)
            self.widths[self.leaves + place], self.heights[self.leaves + place] = cell[:2]
        for node in range(self.leaves - 1, 0, -1):
            self._sum_up(node)

    def pop(self, width: float, height: float) -> Cell | None:
        """The first cell no larger than this; its piece is taken out."""
        widths, heights, widest, highest = self.widths, self.heights, width + SLACK_MM, height + SLACK_MM
        nodes = [1]
        while nodes:
            node = nodes.pop()
            if widths[node] > widest or heights[node] > highest:
                continue
            if node >= self.leaves:
                cell = self.cells[node - self.leaves]
                self.take((cell.piece,))
                return cell
            nodes += (2 * node + 1, 2 * node)
        return None

    def take(self, pieces: Iterable[int]) -> None:
        """Takes pieces out, turned or not."""
        for piece in pieces:
            for place in self.places[piece]:
                self._set(place, math.inf, math.inf)

    def give_back(self, pieces: Iterable[int]) -> None:
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
        widths, heights, one, other = self.widths, self.heights, 2 * node, 2 * node + 1
        width, height = widths[one], heights[one]
        if widths[other] < width:  # quicker than min(), and here most of the time goes
            width = widths[other]
        if heights[other] < height:
            height = heights[other]
        if width == widths[node] and height == heights[node]:
            return False
        widths[node], heights[node] = width, height
        return True
