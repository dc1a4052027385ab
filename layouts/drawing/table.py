"""Tables of words and figures, tick boxes among them, that flow over pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import PENS, Role
from layouts.errors import DoesNotFit

HEADING, WORDS = 3.6, 2.5  # em sizes, mm
BOX_MM = 2.8  # a box to tick
_BOX_STEP = 4.0
_GUTTER_MM = 3.0
_HEADING_MM = 5.4  # a heading with the room under it
_DOWN_MM = 0.3  # words have more below them, the descenders, than above: even to the eye
_HAIR_MM = PENS[Role.AID].width_mm / 2
_MOST_BOXES = 60  # more are not drawn: nobody ticks them


class Boxes(NamedTuple):
    """A cell of so many boxes to tick; above 60, none but the number."""

    many: int


Cell = str | Boxes


class Column(NamedTuple):
    """A column: its title, its share of the width, whether figures stand flush right in it, and bold."""

    title: str
    share: float
    right: bool = False
    bold: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows under a heading and the titles of the columns, in a width in mm. Words wrap within their cell."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    width_mm: float
    heading: str = ""
    pad_mm: float = 0.9  # above and below the words of a row
    last_is_sum: bool = False

    def drawing(self) -> Drawing:
        """The whole table."""
        return self._drawing(self.rows, 0)

    def blocks(self, room_mm: float, page_mm: float) -> Iterator[Drawing]:
        """The table in parts: the first in the room that is left on a page, the others on pages of their own."""
        at, room = 0, room_mm
        while at < len(self.rows):
            count = self._rows_within(at, room)
            if count:
                yield self._drawing(self.rows[at : at + count], at)
            elif room >= page_mm:
                needs = self.width_mm, self._head_mm(at) + self._row_mm(at)
                raise DoesNotFit("a row of a table", needs, (self.width_mm, page_mm), "try a larger paper")
            at, room = at + count, page_mm

    def _rows_within(self, at: int, room_mm: float) -> int:
        """How many rows from `at` on go into a height with their head; never a last row alone under a sum's rule."""
        height = self._head_mm(at)
        for number in range(at, len(self.rows)):
            height += self._row_mm(number)
            if height > room_mm + 1e-9:
                return number - at
        return len(self.rows) - at

    @property
    def _titled(self) -> bool:
        return any(column.title for column in self.columns)

    def _head_mm(self, at: int) -> float:
        titles = [lettering.LINE * WORDS * len(lines) for lines in self._title_lines()] if self._titled else [0.0]
        return (_HEADING_MM if self.heading and not at else 0.0) + max(titles) + (1.0 if self._titled else 0.4)

    def _title_lines(self) -> list[list[str]]:
        return [
            broken(column.title, WORDS, width, bold=True)
            for column, width in zip(self.columns, self._widths(), strict=True)
        ]

    def _row_mm(self, number: int) -> float:
        lines = max(len(lines) for lines in self._cells(number))
        return lettering.LINE * WORDS * max(1, lines) - 0.6 + 2 * self.pad_mm

    def _widths(self) -> list[float]:
        free = self.width_mm - _GUTTER_MM * (len(self.columns) - 1)
        total = sum(column.share for column in self.columns)
        return [free * column.share / total for column in self.columns]

    def _is_sum(self, number: int) -> bool:
        return self.last_is_sum and number == len(self.rows) - 1

    def _cells(self, number: int) -> list[list[Cell]]:
        """The lines of each cell of a row."""
        return [
            list(_cell_lines(cell, width, bold=column.bold or self._is_sum(number)))
            for cell, column, width in zip(self.rows[number], self.columns, self._widths(), strict=True)
        ]

    def _drawing(self, rows: Sequence[tuple[Cell, ...]], at: int) -> Drawing:
        height = self._head_mm(at) + sum(self._row_mm(at + number) for number in range(len(rows))) + _HAIR_MM
        draft, y = Draft(), height
        if self.heading and not at:
            draft.text(0, y - lettering.ASCENT * HEADING, self.heading, HEADING, bold=True)
            y -= _HEADING_MM
        if self._titled:
            self._draw_titles(draft, y)
        y = height - self._head_mm(at)
        for number in range(at, at + len(rows)):
            self._rule(draft, y, Role.LABEL if self._is_sum(number) or number == at else Role.AID)
            self._draw_row(draft, y, number)
            y -= self._row_mm(number)
        self._rule(draft, y, Role.AID)
        return draft.drawing(self.width_mm, height, self.heading or "a table")

    def _rule(self, draft: Draft, y: float, role: Role) -> None:
        draft.line(_HAIR_MM, y, self.width_mm - _HAIR_MM, y, role)

    def _draw_titles(self, draft: Draft, top: float) -> None:
        x = 0.0
        for column, width, lines in zip(self.columns, self._widths(), self._title_lines(), strict=True):
            for line, words in enumerate(lines):
                y = top - (lettering.ASCENT + lettering.LINE * line) * WORDS
                _write(draft, x, width, y, words, right=column.right, bold=True)
            x += width + _GUTTER_MM

    def _draw_row(self, draft: Draft, top: float, number: int) -> None:
        x, first = 0.0, top - self.pad_mm - _DOWN_MM - lettering.ASCENT * WORDS
        for column, width, lines in zip(self.columns, self._widths(), self._cells(number), strict=True):
            for line, words in enumerate(lines):
                y = first - lettering.LINE * WORDS * line
                if isinstance(words, Boxes):
                    draw_boxes(draft, x, y - 0.5, words.many)
                else:
                    bold = column.bold or self._is_sum(number)
                    _write(draft, x, width, y, words, right=column.right, bold=bold)
            x += width + _GUTTER_MM


def _write(draft: Draft, x: float, width: float, y: float, words: str, *, right: bool, bold: bool) -> None:
    draft.text(x + width if right else x, y, words, WORDS, anchor="end" if right else "start", bold=bold)


def _cell_lines(cell: Cell, width: float, *, bold: bool) -> Iterator[Cell]:
    if isinstance(cell, str):
        yield from broken(cell, WORDS, width, bold=bold)
    elif cell.many > _MOST_BOXES:
        yield f"× {cell.many}"
    else:
        a_line = max(1, int((width + _BOX_STEP - BOX_MM) / _BOX_STEP))
        for at in range(0, cell.many, a_line):
            yield Boxes(min(a_line, cell.many - at))


def draw_boxes(draft: Draft, x: float, y: float, count: int = 1) -> None:
    """Boxes to tick, side by side; (x, y) is the lower left corner of the first."""
    for number in range(count):
        draft.rectangle(x + number * _BOX_STEP + _HAIR_MM, y, BOX_MM, BOX_MM, Role.LABEL)


def paragraph(sentences: Sequence[str], width_mm: float, heading: str = "", *, ticks: bool = False) -> Drawing:
    """Sentences under a heading, each on lines of its own, with a box to tick before each where that is wanted."""
    indent = BOX_MM + 2.2 if ticks else 0.0
    items = [broken(sentence, WORDS, width_mm - indent) for sentence in sentences]
    head = _HEADING_MM if heading else 0.0
    height = head + sum(lettering.LINE * WORDS * len(lines) + 0.9 for lines in items)
    draft, y = Draft(), height - head
    if heading:
        draft.text(0, height - lettering.ASCENT * HEADING, heading, HEADING, bold=True)
    for lines in items:
        if ticks:
            draw_boxes(draft, 0.0, y - 2.9)
        for words in lines:
            draft.text(indent, y - 2.4, words, WORDS)
            y -= lettering.LINE * WORDS
        y -= 0.9
    return draft.drawing(width_mm, height, heading or "a paragraph")


def broken(string: str, size_mm: float, within_mm: float, *, bold: bool = False) -> list[str]:
    """The string in lines no wider than `within_mm`, broken at spaces, and inside a word that is too long by itself."""
    lines = []
    for line in lettering.wrap(string, size_mm, within_mm, bold=bold):
        while lettering.width_mm(line, size_mm, bold=bold) > within_mm and len(line) > 1:
            end = _most(line, size_mm, within_mm, bold)
            lines.append(line[:end])
            line = line[end:]
        lines.append(line)
    return lines


def _most(line: str, size_mm: float, within_mm: float, bold: bool) -> int:
    """How many characters of a word go in a width; at least one."""
    end = 1
    while end < len(line) and lettering.width_mm(line[: end + 1], size_mm, bold=bold) <= within_mm:
        end += 1
    return end
