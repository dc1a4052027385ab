"""A cell in words: the one place where a value of a report becomes text."""

from __future__ import annotations

import re

from jigs.reports.report import BESIDE, Band, Cell, CellKind, Column, Counted, OfKind
from layouts.lengths import are_inches, bare_to_cut
from layouts.showing import inches_of

_NEGATIVE = re.compile(r"(?<![\w.)])-(?=[0-9])")


def show_cell(cell: Cell, kind: CellKind) -> str:
    """The value as a person reads it, without its unit; empty for None."""
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, int | float):
        return show_figure(cell, kind)
    if isinstance(cell, OfKind):
        return show_figure(cell.value, cell.kind)
    if isinstance(cell, Band):
        high = cell.open_end if cell.high is None else _end(cell.high, cell.kind)
        return f"{_end(cell.low, cell.kind)} to {high}"
    if isinstance(cell, Counted):
        return show_counted(cell)
    return cell if isinstance(cell, str) else ""


def show_in_line(cell: Cell, column: Column) -> str:
    """The value with its unit, where no head of a column says that: the second unit stands with its figure."""
    words, unit = show_cell(cell, column.kind), column.shown_unit if column.heading else ""
    if unit != BESIDE:
        return f"{words} {unit}".rstrip()
    return words if isinstance(cell, str) else words.replace(" [", " in [").replace("]", " mm]")


def _end(value: float, kind: CellKind) -> str:
    """An end of a band: it stands beside its value, which says the other unit."""
    return show_figure(value, kind).partition(" [")[0]


def show_figure(value: float, kind: CellKind) -> str:
    """A number to the places of its kind; what rounds to nothing has no minus before it."""
    if kind.unit == "mm" and are_inches():
        return _in_inches(value, kind)
    sign = "+" if kind.signed else ""
    if kind.places is None:
        # "g" would write a million as 1e+06, and what rounds to one
        return format(value + 0, f"{sign}g" if abs(value) < 999_999.5 else f"{sign}.15g")
    # + 0 turns -0.0 into 0.0
    return format(round(value, kind.places) + 0, f"{sign}.{kind.places}f")


def _in_inches(mm: float, kind: CellKind) -> str:
    """'+0.0051 [+0.130]'; a length of wire to the sixteenth: '14 11/16 [373.1]'."""
    if kind.places == 0:
        return f"{bare_to_cut(mm)} [{mm:.1f}]"
    sign = "+" if kind.signed else ""
    places = 3 if kind.places is None else kind.places
    inches = inches_of(mm, places + 1) + 0
    return f"{inches:{sign}.{places + 1}f} [{round(mm, places) + 0:{sign}.{places}f}]"


def show_counted(counted: Counted, joint: str = " + ") -> str:
    """'4 x 373 + 1 x 238'."""
    return joint.join(f"{count} x {_piece(length)}" for length, count in counted.pairs)


def _piece(mm: float) -> str:
    return f"{bare_to_cut(mm)} [{mm:.1f}]" if are_inches() else f"{mm}"


def in_print(formula: str) -> str:
    """Words as they are set: × − π for x - pi, and the minus of a figure."""
    signs = formula.replace(" x ", " × ").replace(" - ", " − ").replace(" / pi", " / π")
    return _NEGATIVE.sub("−", signs)
