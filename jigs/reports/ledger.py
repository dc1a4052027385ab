"""The ledger: from the mandrel to the closed ring, line by line, each with what it is based on."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.reports.report import (
    CHANGE,
    FORMULA,
    FRACTION,
    INCHES,
    INCHES_CHANGE,
    LENGTH,
    RATIO_FINE,
    Band,
    Cell,
    Column,
    OfKind,
    Report,
)
from jigs.stock.figure import Figure
from layouts.lengths import are_inches, sized
from layouts.showing import inch_fraction

SHORT = ("line", "value_mm", "band", "basis")
"""The columns where inches have no room."""


def in_a_line(figures: Sequence[Figure]) -> tuple[tuple[str, str], ...]:
    """The ledger in brief: what each line is called, and its value with its unit."""
    found = []
    for figure in figures:
        words = sized(abs(figure.value), 2) if figure.unit else f"{figure.value:.2f}"
        sign = ("−" if figure.value < 0 else "+") if figure.is_change else ""
        found.append((figure.name, f"{sign}{words}"))
    return tuple(found)


def ledger(figures: Sequence[Figure]) -> Report:
    """A row for each figure: value in mm and inches, band, basis. The line AR is a plain number."""
    rows: list[tuple[Cell, ...]] = []
    for figure in figures:
        kind = CHANGE if figure.is_change else LENGTH if figure.unit else RATIO_FINE
        inches, nearest, band = None, None, None
        if figure.inches is not None:
            inches = OfKind(figure.inches, INCHES_CHANGE if figure.is_change else INCHES)
            if not figure.is_change:  # nobody looks for a springback on an inch rule
                fraction, residue = inch_fraction(figure.value)
                nearest = f"{fraction} {'-' if residue < 0 else '+'} {sized(abs(residue), 3)}"
        if figure.low is not None:
            # the sign of a change stands before its value; its band needs none
            band = Band(figure.low, figure.high, LENGTH if kind is CHANGE else kind, "straight")
        value = OfKind(figure.value, kind)
        rows.append((figure.name, value, inches, nearest, figure.low, figure.high, band, figure.words))
    return Report(
        key="ledger",
        heading="From the mandrel to the closed ring",
        columns=(
            Column("line", ""),
            Column("value_mm", "", LENGTH),
            Column("value_in", "", INCHES, people=not are_inches(), scripts=False),
            Column("nearest_64th", "nearest 1/64", FRACTION, scripts=False),
            Column("low_mm", "low", LENGTH, people=False),
            Column("high_mm", "high", LENGTH, people=False),
            Column("band", "band", LENGTH, scripts=False, unit=""),
            Column("basis", "basis", FORMULA),
        ),
        rows=tuple(rows),
    )
