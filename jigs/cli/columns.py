"""Figures in aligned columns, for a terminal."""

from __future__ import annotations

import re
from collections.abc import Sequence

_FIGURE = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?")


def columns(header: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A table as text: columns two spaces apart, figures flush right, words flush left.

    A column counts as figures when every filled cell in it is a number.
    """
    cells = list(zip(header, *rows, strict=True))
    widths = [max(len(cell) for cell in column) for column in cells]
    right = [_are_figures(column[1:]) for column in cells]
    lines = (_line(row, widths, right) for row in (header, *rows))
    return "\n".join(lines)


def _are_figures(column: Sequence[str]) -> bool:
    return all(_FIGURE.fullmatch(cell) for cell in column if cell)


def _line(row: Sequence[str], widths: Sequence[int], right: Sequence[bool]) -> str:
    padded = (
        cell.rjust(width) if flush else cell.ljust(width) for cell, width, flush in zip(row, widths, right, strict=True)
    )
    return "  ".join(padded).rstrip()
