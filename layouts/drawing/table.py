"""Tables of words and figures, tick boxes among them, that flow over pages."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise, starmap
from typing import NamedTuple

from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.words import (
    BOX_MM,
    BOX_STEP_MM,
    HAIR_MM,
    HEADING,
    HEADING_MM,
    LINE_MM,
    WORDS,
    draw_boxes,
    lines,
    longest_word_mm,
    rule_under,
)
from layouts.errors import DoesNotFit, Remedy

_GUTTER_MM = 3.0
_DOWN_MM = 0.3  # words have more below them, the descenders, than above: even to the eye
_MOST_BOXES = 60  # more are not drawn: nobody ticks them


class Boxes(NamedTuple):
    """A cell of so many boxes to tick; above 60, none but the number."""

    many: int


TableCell = str | Boxes


class TableColumn(NamedTuple):
    """A column: its title, its share of the width, whether figures stand flush right in it, and bold."""

    title: str
    share: float
    right: bool = False
    bold: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows under a heading and the titles of the columns, in a width in mm. Words wrap within their cell.

    A column is as wide as its share, or as its longest word where the others can spare that.
    """

    columns: tuple[TableColumn, ...]
    rows: tuple[tuple[TableCell, ...], ...]
    width_mm: float
    heading: str = ""
    pad_mm: float = 0.9  # above and below the words of a row
    last_is_sum: bool = False

    def drawing(self) -> Drawing:
        """The whole table."""
        return _Laid(self).drawing(0, len(self.rows))

    def blocks(self, room_mm: float, page_mm: float) -> Iterator[Drawing]:
        """The table in parts: the first in the room that is left on a page, the others on pages of their own."""
        laid, at, room = _Laid(self), 0, room_mm
        while at < len(self.rows):
            count = laid.rows_within(at, room, least=1 if room >= page_mm else 2)
            if count:
                yield laid.drawing(at, count)
            elif room >= page_mm:
                needs = self.width_mm, laid.head_mm(at) + laid.heights[at]
                raise DoesNotFit("a row of a table", needs, (self.width_mm, page_mm), remedies=(Remedy.LARGER_PAPER,))
            at, room = at + count, page_mm


class _Laid:
    """A table with its words set in lines."""

    def __init__(self, table: Table) -> None:
        self.table = table
        self.columns = tuple(zip(table.columns, _widths(table), strict=True))
        self.titles = [lines(column.title, width, bold=True) for column, width in self.columns]
        self.cells = [
            [
                list(_cell_lines(cell, width, bold=column.bold or self._is_sum(number)))
                for cell, (column, width) in zip(row, self.columns, strict=True)
            ]
            for number, row in enumerate(table.rows)
        ]
        deepest = [max(1, *(len(cell) for cell in row)) for row in self.cells]
        self.heights = [LINE_MM * count - 0.6 + 2 * table.pad_mm for count in deepest]

    def _is_sum(self, number: int) -> bool:
        return self.table.last_is_sum and number == len(self.table.rows) - 1

    def rows_within(self, at: int, room_mm: float, least: int) -> int:
        """How many rows from `at` on go into a height with their head; where some are left, so many on either side."""
        height, left = self.head_mm(at), len(self.heights) - at
        for count, row in enumerate(self.heights[at:]):
            height += row
            if height > room_mm + 1e-9:
                even = min(count, left - 2)
                return even if even >= 2 else count if count >= least else 0
        return left

    def head_mm(self, at: int) -> float:
        """Of the heading and the titles above the row `at`."""
        titled = max(len(title) for title in self.titles)
        heading = HEADING_MM if self.table.heading and not at else 0.0
        return heading + LINE_MM * titled + (1.0 if titled else 0.4)

    def drawing(self, at: int, count: int) -> Drawing:
        """So many rows from `at` on, under their head."""
        table, head = self.table, self.head_mm(at)
        height = head + sum(self.heights[at : at + count]) + HAIR_MM
        draft, y = Draft(), height
        if table.heading and not at:
            draft.text(0, y - lettering.ASCENT * HEADING, table.heading, HEADING, bold=True)
            y -= HEADING_MM
        rows = [self._draw_titles(draft, y)]
        y = height - head
        for number in range(at, at + count):
            strong = self._is_sum(number) or number == at
            rule_under(draft, table.width_mm, y, Role.LABEL if strong else Role.AID)
            rows.append(self._draw_row(draft, y, number))
            y -= self.heights[number]
        rule_under(draft, table.width_mm, y)
        drawing = draft.drawing(table.width_mm, height, table.heading or "a table", origin=(0.0, height))
        return replace(drawing, rows=tuple(rows))

    def _draw_titles(self, draft: Draft, top: float) -> tuple[range, ...]:
        x, ends = 0.0, [len(draft)]
        for (column, width), title in zip(self.columns, self.titles, strict=True):
            for line, words in enumerate(title):
                y = top - (lettering.ASCENT + lettering.LINE * line) * WORDS
                _write(draft, x, width, y, words, right=column.right, bold=True)
            x += width + _GUTTER_MM
            ends.append(len(draft))
        return tuple(starmap(range, pairwise(ends)))

    def _draw_row(self, draft: Draft, top: float, number: int) -> tuple[range, ...]:
        x, ends, first = 0.0, [len(draft)], top - self.table.pad_mm - _DOWN_MM - lettering.ASCENT * WORDS
        for (column, width), cell in zip(self.columns, self.cells[number], strict=True):
            for line, words in enumerate(cell):
                y = first - LINE_MM * line
                if isinstance(words, Boxes):
                    draw_boxes(draft, x, y - 0.5, words.many)
                else:
                    bold = column.bold or self._is_sum(number)
                    _write(draft, x, width, y, words, right=column.right, bold=bold)
            x += width + _GUTTER_MM
            ends.append(len(draft))
        return tuple(starmap(range, pairwise(ends)))


def _widths(table: Table) -> list[float]:
    """Each column's share, widened to its longest word at the cost of those that have more than theirs."""
    free = table.width_mm - _GUTTER_MM * (len(table.columns) - 1)
    total = sum(column.share for column in table.columns)
    shares = [free * column.share / total for column in table.columns]
    # 0.01 mm more than the longest word: rounding may not send it to a line of its own.
    least = [
        max([longest_word_mm(column.title, bold=True), *_words_mm(table, place)]) + 0.01
        for place, column in enumerate(table.columns)
    ]
    wants = sum(max(0.0, need - share) for need, share in zip(least, shares, strict=True))
    spare = sum(max(0.0, share - need) for need, share in zip(least, shares, strict=True))
    if not wants or not spare:
        return shares
    given = min(1.0, spare / wants)
    taken = min(1.0, wants / spare)
    return [
        share + given * (need - share) if need > share else share - taken * (share - need)
        for need, share in zip(least, shares, strict=True)
    ]


def _words_mm(table: Table, place: int) -> Iterator[float]:
    """The longest word of each cell of a column; that of a sum is bold."""
    bold = table.columns[place].bold
    for number, row in enumerate(table.rows):
        cell, is_sum = row[place], table.last_is_sum and number == len(table.rows) - 1
        yield longest_word_mm(cell, bold=bold or is_sum) if isinstance(cell, str) else BOX_MM


def _write(draft: Draft, x: float, width: float, y: float, words: str, *, right: bool, bold: bool) -> None:
    draft.text(x + width if right else x, y, words, WORDS, anchor="end" if right else "start", bold=bold)


def _cell_lines(cell: TableCell, width: float, *, bold: bool) -> Iterator[TableCell]:
    if isinstance(cell, str):
        yield from lines(cell, width, bold=bold)
    elif cell.many > _MOST_BOXES:
        yield f"× {cell.many}"
    else:
        a_line = max(1, int((width + BOX_STEP_MM - BOX_MM) / BOX_STEP_MM))
        for at in range(0, cell.many, a_line):
            yield Boxes(min(a_line, cell.many - at))
