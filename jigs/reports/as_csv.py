"""A report for a spreadsheet: its keys, then its rows, with a decimal point or a decimal comma."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

from jigs.reports.cells import show_cell
from jigs.reports.report import NUMBER, Cell, Column, Report
from layouts.errors import UnknownName
from layouts.lengths import are_inches
from layouts.showing import inches_of

DECIMALS = ("point", "comma")
_COMMA = "the numbers here have a decimal comma, and semicolons stand between the fields"
_STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def _in_unit(
    columns: tuple[Column, ...], rows: tuple[tuple[Cell, ...], ...]
) -> tuple[tuple[Column, ...], tuple[tuple[Cell, ...], ...]]:
    """The table as it is; in inches its lengths are so, and their keys end in _in: one unit for one column."""
    if not are_inches():
        return columns, rows
    lengths = [column.key.endswith("_mm") for column in columns]
    keyed = (
        replace(column, key=f"{column.key.removesuffix('_mm')}_in", kind=NUMBER) if is_length else column
        for column, is_length in zip(columns, lengths, strict=True)
    )
    inches = (
        tuple(
            inches_of(cell, 5) if is_length and isinstance(cell, int | float) else cell
            for cell, is_length in zip(row, lengths, strict=True)
        )
        for row in rows
    )
    return tuple(keyed), tuple(inches)


def as_csv(report: Report, decimal: str = "point") -> str:
    """The table as CSV. With "comma" fields are split by semicolons, and the last line says so."""
    if decimal not in DECIMALS:
        raise UnknownName("decimal", decimal, DECIMALS)
    columns, rows = _in_unit(*report.for_scripts)
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n", delimiter=";" if decimal == "comma" else ",")
    writer.writerow([column.key for column in columns])
    for row in rows:
        fields = []
        for cell, column in zip(row, columns, strict=True):
            words = show_cell(cell, column.kind)
            if isinstance(cell, float):
                if column.kind.places is None:
                    words = repr(cell)  # as many places as it has: a spreadsheet goes on calculating with it
                words = words.replace(".", ",") if decimal == "comma" else words
            elif isinstance(cell, str) and cell[:1] in _STARTS_A_FORMULA:
                words = f"'{cell}"  # a name such as "=1+1" is shown, not calculated
            fields.append(words)
        writer.writerow(fields)
    if decimal == "comma":
        writer.writerow([_COMMA])
    return text.getvalue()
