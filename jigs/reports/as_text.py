"""A report for a terminal: aligned columns, and never a line wider than it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from unicodedata import combining, east_asian_width

from jigs.reports.cells import show_cell, show_in_line
from jigs.reports.report import Cell, Column, Form, Report

USUAL_WIDTH = 120
"""Characters in a line where nothing says how wide the terminal is."""

_BETWEEN = "  "
_TOKEN = re.compile(r"\[[^\]]{1,12}\]\S*|\S+(?: (?:%|mm|g|m|MPa|GPa)(?!\w)\S*)?")  # a figure stays with its unit
_LEAST_WORDS = 16  # a column of words is not made narrower than its longest word, up to this
_LEAST_WIDTH = 20  # no terminal is narrower


def as_text(report: Report, width: int = USUAL_WIDTH) -> str:
    """The report in lines of at most `width` characters; parts follow one another with an empty line between."""
    return "\n\n".join("\n".join(block) for block in _blocks(report, max(_LEAST_WIDTH, width), 0) if block)


def _blocks(report: Report, width: int, depth: int) -> Iterator[list[str]]:
    """Heading with table, then the notes, then the parts."""
    if not report.people:
        return
    head = [line for part in report.heading.splitlines() for line in wrapped(part, width)]
    if head and depth == 1 and report.form is Form.RECORD and report.parts:
        head.append("-" * max(map(_wide, head)))
    columns, rows = report.for_people
    body = []
    if columns and rows:
        shown = _record if report.form is Form.RECORD else _table
        if report.at_most and _left_out(report):
            rows = (*rows[: report.at_most], *(rows[-1:] if report.last_is_sum else ()))
        body = shown(columns, rows, width)
    notes = [line for note in report.notes for part in note.split("\n") for line in wrapped(part, width, "  ")]
    inner = [
        block
        for part in report.parts
        for block in _blocks(part, width, depth + (report.form is not Form.GROUP))
        if block
    ]
    if depth and head and inner and not body and not notes:  # a heading stands on what it is the heading of
        inner[0] = [*head, *inner[0]]
        head = []
    yield from ([*head, *body, *_left_out(report)], notes, *inner)


def _left_out(report: Report) -> list[str]:
    more = len(report.rows) - report.last_is_sum - (report.at_most or len(report.rows))
    return [f"and {more} more, which are not shown here"] if more > 0 else []


def wrapped(words: str, width: int, indent: str = "") -> list[str]:
    """The words in lines of at most so many places, those after the first indented; a longer word is broken."""
    lines: list[str] = []
    line, has_word = "", False
    for word in _TOKEN.findall(" ".join(words.split())):
        if has_word and _wide(line) + 1 + _wide(word) > width:
            lines.append(line)
            line, has_word = indent, False
        if has_word:
            line += " "
        for sign in word:
            if _wide(line) + _wide(sign) > width:
                lines.append(line)
                line = indent
            line += sign
        has_word = True
    return [*lines, line]


def _record(columns: Sequence[Column], rows: Sequence[tuple[Cell, ...]], width: int) -> list[str]:
    """A line for each figure: what it is, and its value with the unit."""
    pairs = []
    for column, cell in zip(columns, rows[0], strict=True):
        if cell is not None:
            pairs.append((column.heading or column.shown_unit, show_in_line(cell, column)))
    return _grid(pairs, [False, False], width)


def _table(columns: Sequence[Column], rows: Sequence[tuple[Cell, ...]], width: int) -> list[str]:
    shown = [[show_cell(cell, column.kind) for cell, column in zip(row, columns, strict=True)] for row in rows]
    titles = [column.title for column in columns]
    right = [column.kind.is_number for column in columns]
    if lines := _grid([titles, *shown] if any(titles) else shown, right, width):
        return lines
    # The terminal is too narrow for columns: each row is a block of its own, a line for each cell.
    for row in shown:
        if lines:
            lines.append("")
        for title, cell in zip(titles, row, strict=True):
            if cell:
                lines += wrapped(f"{title}: {cell}" if title else cell, width, "  ")
    return lines


def _grid(lines: Sequence[Sequence[str]], right: Sequence[bool], width: int) -> list[str]:
    """Rows in columns, words wrapped in theirs; empty when even the narrowest columns are too wide together."""
    cells = list(zip(*lines, strict=True))
    widths = [max(map(_wide, column)) for column in cells]
    least = [
        max([_longest_word(column[:1]), *map(_wide, column[1:])]) if flush else min(_LEAST_WORDS, _longest_word(column))
        for column, flush in zip(cells, right, strict=True)
    ]
    over = sum(widths) + len(_BETWEEN) * (len(widths) - 1) - width
    if over > sum(widths) - sum(least):
        return []
    while over > 0:  # the widest column that can give gives first
        at = max((i for i in range(len(widths)) if widths[i] > least[i]), key=lambda i: widths[i])
        widths[at] -= 1
        over -= 1
    found = []
    for row in lines:
        wraps = [wrapped(cell, wide) for cell, wide in zip(row, widths, strict=True)]
        for number in range(max(map(len, wraps))):
            padded = []
            for words, wide, flush in zip(wraps, widths, right, strict=True):
                part = words[number] if number < len(words) else ""
                gap = " " * (wide - _wide(part))
                padded.append(gap + part if flush else part + gap)
            found.append(_BETWEEN.join(padded).rstrip())
    return found


def _longest_word(column: Sequence[str]) -> int:
    return max((_wide(word) for cell in column for word in _TOKEN.findall(cell)), default=0)


def _wide(text: str) -> int:
    """The places that a terminal gives to a text: two for a wide character, none for one that combines."""
    if text.isascii():
        return len(text)
    return sum(0 if combining(sign) else 2 if east_asian_width(sign) in "WF" else 1 for sign in text)
