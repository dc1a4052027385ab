"""One page filled from the bottom up: the lowest gap of its skyline gets the next piece that fits it."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

SLACK_MM = 1e-9  # sums of sizes that should be equal differ by rounding


class Cell(NamedTuple):
    """What a piece takes up, upright or turned, its share of the gaps included; mm."""

    width: float
    height: float
    piece: int
    turned: bool


class Spot(NamedTuple):
    """Where the lower left corner of a cell lies."""

    x: float
    y: float
    cell: Cell

    @property
    def piece(self) -> int:
        """The number of the piece in it."""
        return self.cell.piece


def across(cell: Cell) -> Cell:
    """Width and height swapped, to fill columns as if they were rows."""
    return Cell(cell.height, cell.width, cell.piece, cell.turned)


def filled(pop: Callable[[float, float], Cell | None], width: float, height: float) -> list[Spot]:
    """A page of this size, mm. `pop` gives the next cell no larger than a width and a height, each only once."""
    skyline = _Skyline(width, height)
    spots = []
    while (low := min(skyline.tops)) < height:
        skyline.at = skyline.tops.index(low)
        cell = pop(skyline.widths[skyline.at], height - low)
        if cell is None:
            skyline.give_up()
        else:
            spots.append(Spot(skyline.put(cell.width, cell.height), low, cell))
    return spots


class _Skyline:
    """The upper edge of what has been placed, as level steps from left to right.

    Plain lists side by side: regrouping fills pages by the ten thousand, and objects took three times as long.
    """

    def __init__(self, width: float, height: float) -> None:
        self.height = height
        self.lefts, self.widths, self.tops = [0.0], [width], [0.0]
        self.at = 0  # the lowest step, the leftmost of several

    def _sides(self) -> tuple[float, float]:
        """How high it is to the left and to the right of the lowest step."""
        left = self.tops[self.at - 1] if self.at else self.height
        right = self.tops[self.at + 1] if self.at + 1 < len(self.tops) else self.height
        return left, right

    def give_up(self) -> None:
        """Raises the lowest step to its lower side: nothing fits it."""
        self._raise(self.at, min(self._sides()))

    def put(self, width: float, height: float) -> float:
        """Puts a cell on the lowest step, beside the side nearer to it in height. Returns its x."""
        at, x = self.at, self.lefts[self.at]
        left, right = self._sides()
        low, rest = self.tops[at], self.widths[at] - width
        top = low + height
        if rest <= SLACK_MM:
            self._raise(at, top)
            return x
        if abs(right - top) < abs(left - top):
            at, x = at + 1, x + rest
            self.widths[at - 1] = rest
        else:
            self.lefts[at], self.widths[at] = x + width, rest
        self.lefts.insert(at, x)
        self.widths.insert(at, width)
        self.tops.insert(at, low)
        self._raise(at, top)
        return x

    def _raise(self, at: int, top: float) -> None:
        """A step at a new height, one with those of the same height beside it."""
        self.tops[at] = top
        for left in (at, at - 1):
            if 0 <= left < len(self.tops) - 1 and abs(self.tops[left] - self.tops[left + 1]) <= SLACK_MM:
                self.tops[left] = top
                self.widths[left] += self.widths.pop(left + 1)
                del self.lefts[left + 1], self.tops[left + 1]
