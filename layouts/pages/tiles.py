"""A drawing larger than a page, split into tiles that are joined again by hand.

Neighbouring tiles share a strip. The join is the middle of that strip: one tile is cut along it and laid on the
other. Crosses on the join, and a check bar across it, stand in margins outside the drawing, so nothing of the
drawing is written over. Joins keep away from holes, and cut through no words.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from layouts.drawing import lettering
from layouts.drawing.clipping import clipped
from layouts.drawing.ink import is_gauge
from layouts.drawing.marks import Box, Draft, Drawing, Mark, Point
from layouts.drawing.pens import Role
from layouts.drawing.turning import quarter_turned
from layouts.drawing.words import FIGURE, TITLE, WORDS
from layouts.errors import DoesNotFit, OutOfRange, Remedy

if TYPE_CHECKING:
    from layouts.pages.page import Field

OVERLAP_MM = 15.0  # of neighbouring tiles
CLEAR_MM = 15.0  # from a join to the nearest hole
BAR_MM = 40.0  # the check bar across a join
_HALF = OVERLAP_MM / 2
_SLACK_MM = 1e-9  # a place reckoned from the one side and from the other is the same place
_OFF_STROKES_MM = 0.3  # a join that runs along a line keeps this far from it, where it can
_HEAD_MM = 9.0  # name, number and key map, above everything
_LEAST_MM = 40.0  # width of a tile, for its head
_BAND_MM, _FAR_BAND_MM = 9.0, 7.0  # margins with the bars and crosses; and with the crosses at the other end
_BAR_UP, _CROSS_UP = 5.0, 2.7  # from the drawing to the middle of the bar, and of the far cross
_ARM, _LONG_ARM = 2.2, 6.0

HOW_TO_JOIN = (
    "Tiles: cut each along the marks at its left edge, or above; lay it on its neighbour, crosses and lines meeting; "
    f"check that the bar across the join measures {BAR_MM:g} mm; tape. First each row, then the rows."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One part of a whole: its drawing for a page, its name, and what it shows (its window), in the whole's mm."""

    drawing: Drawing
    name: str
    window: Box
    origin: Point  # where the whole's origin lies in the drawing


def tiled(drawing: Drawing, field: Field) -> tuple[Drawing, ...]:
    """The drawing itself when it fits the field, else its tiles in reading order."""
    if not is_too_large(drawing, field):
        return (drawing,)
    return tuple(tile.drawing for tile in tiles(drawing, field))


def tiles(drawing: Drawing, field: Field) -> tuple[Tile, ...]:
    """The tiles of a drawing that is too large for the field, row by row from the top, each no larger than the field.

    Together they show the whole exactly; dashes may start anew at a tile's edge. Refuses (`OutOfRange`) a drawing
    with no place for a join, and (`DoesNotFit`) a field too small for tiles.
    """
    plan = _plan(drawing, field)
    return tuple(
        _Maker(drawing, plan, row, column).tile()
        for row in reversed(range(len(plan.ys) + 1))
        for column in range(len(plan.xs) + 1)
    )


def is_too_large(drawing: Drawing, field: Field) -> bool:
    """Whether a drawing needs more than the field."""
    return drawing.width_mm > field.width_mm + 1e-9 or drawing.height_mm > field.height_mm + 1e-9


# ---------------------------------------------------------------------------------------------- where the joins are


class _Plan(NamedTuple):
    """Joins across (x) and along (y) of the whole, in order; rows count from below."""

    xs: tuple[float, ...]
    ys: tuple[float, ...]


def _plan(drawing: Drawing, field: Field) -> _Plan:
    """The fewest joins, as evenly spread as words and holes let them be."""
    wide = high = False
    across, along = field  # how much of the whole a tile can show
    bands = _BAND_MM + _FAR_BAND_MM
    for _ in range(3):  # joins one way leave less room the other way
        wide, high = wide or drawing.width_mm > across + 1e-9, high or drawing.height_mm > along + 1e-9
        across = field.width_mm - (bands if high else 0.0)
        along = field.height_mm - _HEAD_MM - (bands if wide else 0.0)
    least = 2 * BAR_MM
    if min(across if wide else least, along if high else least) < least:
        raise DoesNotFit(
            "a tile with its marks", (least, least), (across, along), remedies=(Remedy.LARGER_PAPER, Remedy.TURN_PAPER)
        )
    return _Plan(
        _joins(drawing, 0, across) if wide else (),
        _joins(drawing, 1, along) if high else (),
    )


def _joins(drawing: Drawing, axis: int, most: float) -> tuple[float, ...]:
    """Where to join across one axis, when a tile can show `most` of it."""
    length = (drawing.width_mm, drawing.height_mm)[axis]
    must, wish = _barred(drawing, axis)
    ends = [(-math.inf, BAR_MM / 2), (length - BAR_MM / 2, math.inf)]
    for barred in ((*ends, *must, *wish), (*ends, *must)):
        found = _spread(_merged(barred), length, most)
        if found is not None:
            return found
    side = ("left", "foot")[axis]
    raise OutOfRange(
        f"{drawing.name} has no place for a join within every {most:.0f} mm from its {side} that is clear of words "
        f"and {CLEAR_MM:g} mm from holes",
        remedies=(Remedy.LARGER_PAPER, Remedy.TURN_PAPER),
    )


Span = tuple[float, float]


def _barred(drawing: Drawing, axis: int) -> tuple[list[Span], list[Span]]:
    """Where joins must not be (words, near holes), and where they had better not be (gauges, along a line)."""
    must, wish = [], []
    for mark in drawing.marks:
        low, high = mark.box[axis], mark.box[axis + 2]
        if not mark.divisible:
            must.append((low - _OFF_STROKES_MM, high + _OFF_STROKES_MM))
        elif mark.role is Role.HOLE:
            must.append((low - CLEAR_MM, high + CLEAR_MM))
        elif is_gauge(mark) or low == high:
            wish.append((low - _OFF_STROKES_MM, high + _OFF_STROKES_MM))
    return must, wish


def _merged(spans: Sequence[Span]) -> list[Span]:
    merged: list[Span] = []
    for low, high in sorted(spans):
        if merged and low < merged[-1][1]:
            merged[-1] = merged[-1][0], max(high, merged[-1][1])
        else:
            merged.append((low, high))
    return merged


def _spread(barred: Sequence[Span], length: float, most: float) -> tuple[float, ...] | None:
    """The fewest joins outside the barred spans, near to even; None when there are none.

    The first and the last tile have half an overlap, the others two: measured from `_HALF` to `length - _HALF`,
    no two neighbours may be more than `most - OVERLAP_MM` apart.
    """
    stop, reach = length - _HALF, most - OVERLAP_MM
    latest = [_HALF]
    while stop - latest[-1] > reach:
        at = _before(barred, latest[-1] + reach)
        if at <= latest[-1] or len(latest) > length:
            return None
        latest.append(at)
    earliest = [stop]
    for _ in latest[1:]:
        earliest.append(_after(barred, earliest[-1] - reach))
    # Between its earliest and its latest place, each join as near to an even share of the rest as may be.
    joins = [_HALF]
    for number, (low, high) in enumerate(zip(earliest[:0:-1], latest[1:], strict=True)):
        high = min(high, _before(barred, joins[-1] + reach))
        even = joins[-1] + (stop - joins[-1]) / (len(latest) - number)
        wanted = min(max(even, low), high)
        below, above = _before(barred, wanted), _after(barred, wanted)
        joins.append(below if wanted - below <= above - wanted else above)
    return tuple(joins[1:])


def _before(barred: Sequence[Span], at: float) -> float:
    """The last place up to `at` that is not barred."""
    return next((low for low, high in barred if low < at < high - _SLACK_MM), at)


def _after(barred: Sequence[Span], at: float) -> float:
    """The first place from `at` on that is not barred."""
    return next((high for low, high in barred if low + _SLACK_MM < at < high), at)


# ------------------------------------------------------------------------------------------------ what is on a tile


class _Maker:
    """One tile of a plan: column from the left, row from below."""

    def __init__(self, whole: Drawing, plan: _Plan, row: int, column: int) -> None:
        self.whole, self.plan, self.row, self.column = whole, plan, row, column
        self.x_joins, self.y_joins = _around(plan.xs, column), _around(plan.ys, row)
        left, right = _shown(self.x_joins, whole.width_mm)
        bottom, top = _shown(self.y_joins, whole.height_mm)
        self.window: Box = left, bottom, right, top
        self.left = _BAND_MM if plan.ys else 0.0
        self.bottom = _FAR_BAND_MM if plan.xs else 0.0
        self.right = self.left + right - left
        self.top = self.bottom + top - bottom
        self.width = max(self.right + (_FAR_BAND_MM if plan.ys else 0.0), _LEAST_MM)
        self.height = self.top + (_BAND_MM if plan.xs else 0.0) + _HEAD_MM
        self.name = self._name(row, column)

    def _name(self, row: int, column: int) -> str:
        """A1 at the top left, A2 beside it, B1 below; after Z comes AA."""
        from_top = len(self.plan.ys) - row
        letters = chr(ord("A") + from_top % 26)
        if from_top >= 26:
            letters = chr(ord("A") + from_top // 26 - 1) + letters
        return f"{letters}{column + 1}"

    def tile(self) -> Tile:
        """The finished tile."""
        left, bottom, *_ = self.window
        dx, dy = self.left - left, self.bottom - bottom
        draft = Draft()
        cut_at = self._cut_at()
        draft.add((part for mark in self.whole.marks for part in clipped(mark, cut_at)), dx, dy)
        for mark in (*self._column_joins(), *self._row_joins()):
            draft.add((mark,))
        self._head(draft)
        drawing = draft.drawing(self.width, self.height, f"{self.whole.name}, tile {self.name}")
        return Tile(drawing=drawing, name=self.name, window=self.window, origin=(dx, dy))

    def _cut_at(self) -> Box:
        """The window without sides where the whole ends: half a line's width may stand out there."""
        left, bottom, right, top = self.window
        (west, east), (south, north) = self.x_joins, self.y_joins
        return (
            -math.inf if west is None else left,
            -math.inf if south is None else bottom,
            math.inf if east is None else right,
            math.inf if north is None else top,
        )

    def _column_joins(self) -> Iterator[Mark]:
        """Bars and crosses above the drawing, crosses below it."""
        before, after = self.x_joins
        shown = self.left, self.right
        for join, step in ((before, -1), (after, 1)):
            if join is not None:
                at, other = join + self.left - self.window[0], self._name(self.row, self.column + step)
                near = Draft()
                _bar(near, at, shown, other, step, cut=step < 0)
                _cross(near, at, -(self.top - self.bottom) - _CROSS_UP, cut=step < 0)
                for mark in near:
                    yield mark.moved(0.0, self.top)

    def _row_joins(self) -> Iterator[Mark]:
        """The same at the left and the right of the drawing, turned by a quarter."""
        before, after = self.y_joins
        shown = self.bottom, self.top
        for join, step in ((before, -1), (after, 1)):
            if join is not None:
                at, other = join + self.bottom - self.window[1], self._name(self.row + step, self.column)
                near = Draft()
                _bar(near, at, shown, other, step, cut=step > 0)
                _cross(near, at, -(self.right - self.left) - _CROSS_UP, cut=step > 0)
                turned = quarter_turned(near.drawing(self.width + self.height, 1.0))
                for mark in turned.marks:
                    yield mark.moved(self.left - 1.0, 0.0)

    def _head(self, draft: Draft) -> None:
        """Name, number and key map, within what is left when the tile has been cut."""
        west, east = self.x_joins
        left = self.left + (0.0 if west is None else _HALF + 1.5)
        right = max(self.right, self.width - _FAR_BAND_MM) if east is None else self.right - _HALF - 1.5
        y = self.height - _HEAD_MM + 2.6
        draft.text(left, y, self.name, TITLE, bold=True)
        x = left + lettering.width_mm(self.name, TITLE, bold=True) + 3.0
        end = self._key_map(draft, right) - 3.0
        columns, rows = len(self.plan.xs) + 1, len(self.plan.ys) + 1
        number = (rows - 1 - self.row) * columns + self.column + 1
        of = f"tile {number} of {rows * columns}"
        for words in (f"{of} · {self.whole.name}", of, f"{number}/{rows * columns}"):
            if x + lettering.width_mm(words, WORDS) <= end:
                draft.text(x, y, words, WORDS)
                return

    def _key_map(self, draft: Draft, right: float) -> float:
        """The grid of tiles with this one filled, flush right; returns its left side."""
        columns, rows = len(self.plan.xs) + 1, len(self.plan.ys) + 1
        wide, high = min(6.0, 26.0 / columns), min(4.2, 7.0 / rows)
        left, bottom = right - 0.1 - columns * wide, self.height - 0.1 - rows * high
        draft.bar(left + self.column * wide, bottom + self.row * high, wide, high, Role.AID)
        for row in range(rows):
            for column in range(columns):
                draft.rectangle(left + column * wide, bottom + row * high, wide, high, Role.LABEL)
        return left


def _around(joins: Sequence[float], number: int) -> tuple[float | None, float | None]:
    """The joins before and after a tile; None at the ends of the whole."""
    return joins[number - 1] if number else None, joins[number] if number < len(joins) else None


def _shown(joins: tuple[float | None, float | None], length: float) -> Span:
    """From where to where a tile shows the whole."""
    before, after = joins
    return 0.0 if before is None else before - _HALF, length if after is None else after + _HALF


def _bar(draft: Draft, at: float, shown: Span, other: str, step: int, *, cut: bool) -> None:
    """A check bar with a cross at `at`, and as much of it as is shown; y counts up from the drawing's edge.

    `step` is -1 when the neighbour comes before this tile, and 1 when it comes after.
    """
    y, half = _BAR_UP, BAR_MM / 2
    low, high = max(at - half, shown[0]), min(at + half, shown[1])
    draft.line(low, y, high, y)
    for tick in (at - half, at - half / 2, at + half / 2, at + half):
        if low - 1e-9 <= tick <= high + 1e-9:
            draft.line(tick, y - 1.2, tick, y + 1.2)
    draft.line(at, y - _ARM, at, y + _ARM)
    middle = at - step * (half + _HALF) / 2
    draft.text(middle, y + 1.9, f"{other} →" if step > 0 else f"← {other}", FIGURE, anchor="middle", bold=True)
    draft.text(middle, y - 3.7, f"{BAR_MM:g} mm", FIGURE, anchor="middle")
    if cut:
        draft.line(at, y + _ARM, at, _BAND_MM, Role.CUT)
        draft.line(at, 0.4, at, y - _ARM, Role.CUT)


def _cross(draft: Draft, at: float, y: float, *, cut: bool) -> None:
    """The cross at the far end of a join; below it the cut mark."""
    draft.line(at - _LONG_ARM, y, at + _LONG_ARM, y)
    draft.line(at, y - _ARM, at, y + _ARM)
    if cut:
        draft.line(at, y - _ARM, at, y - _FAR_BAND_MM + _CROSS_UP + 0.1, Role.CUT)
