"""A report as HTML: headings, tables with heads for whoever has them read aloud, notes. Every word is escaped."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from html import escape

from jigs.reports.cells import in_print, show_cell, show_in_line
from jigs.reports.report import BOXES, FORMULA, FRACTION, Cell, Column, Counted, Form, Report

_DEEPEST = 6
_ROW = re.compile(r"(?<=\d)–(?=\d)")  # pages 13–18 stay on one line
_LONG = 40  # characters of words that are given room where the table is wider than the window
_FEW = 3  # columns that a narrow window has room for


def as_html(report: Report, level: int = 2) -> str:
    """The report as sections, the heading of the first as `h2` (or another level), those of its parts below it."""
    return "".join(_section(report, level))


def _section(report: Report, level: int) -> Iterator[str]:
    if not report.people:
        return
    columns, rows = report.for_people
    inner = "".join(
        part for each in report.parts for part in _section(each, min(_DEEPEST, level + bool(report.heading)))
    )
    if not (report.heading or (columns and rows) or report.notes or inner):
        return
    yield f'<section class="report" data-report="{escape(report.key)}">'
    head, *more = report.heading.splitlines() or [""]
    if head:
        yield f"<h{level}>{escape(head)}</h{level}>"
    yield from (f"<p>{escape(line)}</p>" for line in more)
    if columns and rows:
        yield from (_record if report.form is Form.RECORD else _table)(columns, rows, report)
    yield from (f'<p class="note">{"<br>".join(map(escape, note.splitlines()))}</p>' for note in report.notes)
    yield inner
    yield "</section>"


def _record(columns: Sequence[Column], rows: Sequence[tuple[Cell, ...]], report: Report) -> Iterator[str]:
    """A line for each figure: what it is, and its value with the unit."""
    yield '<div class="wide"><table class="record">'
    for column, cell in zip(columns, rows[0], strict=True):
        if cell is not None:
            shown = _in_print(show_in_line(cell, column), cell, column)
            yield f'<tr><th scope="row">{escape(column.heading or column.shown_unit)}</th><td>{shown}</td></tr>'
    yield "</table></div>"


def _table(columns: Sequence[Column], rows: Sequence[tuple[Cell, ...]], report: Report) -> Iterator[str]:
    yield '<div class="wide"><table>'
    if any(column.title for column in columns):
        heads = (f'<th scope="col"{_side(column)}>{escape(column.title)}</th>' for column in columns)
        yield f"<thead><tr>{''.join(heads)}</tr></thead>"
    yield "<tbody>"
    long = [any(len(cell) > _LONG for cell in cells if isinstance(cell, str)) for cells in zip(*rows, strict=True)]
    for number, row in enumerate(rows, 1):
        is_sum = report.last_is_sum and number == len(rows)
        yield '<tr class="sum">' if is_sum else "<tr>"
        for place, (cell, column) in enumerate(zip(row, columns, strict=True)):
            tag, scope = ("th", ' scope="row"') if place == 0 and not column.kind.is_number else ("td", "")
            side = ' class="words"' if tag == "td" and long[place] and len(columns) > _FEW else _side(column)
            yield f"<{tag}{scope}{side}>{_in_print(show_cell(cell, column.kind), cell, column)}</{tag}>"
        yield "</tr>"
    yield "</tbody></table></div>"


def _side(column: Column) -> str:
    if column.kind is FRACTION:
        return ' class="unbroken"'
    return ' class="number"' if column.kind.is_number and column.kind is not BOXES else ""


def _in_print(words: str, cell: Cell, column: Column) -> str:
    """With the signs that print has and a keyboard lacks."""
    if column.kind in (FORMULA, FRACTION) or isinstance(cell, Counted):
        words = in_print(words)
    elif not isinstance(cell, str):
        words = words.replace("-", "−")
    return escape(_ROW.sub("–\N{WORD JOINER}", words))
