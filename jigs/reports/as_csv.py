"""A report for a spreadsheet: its keys, then its rows, with a decimal point or a decimal comma."""

from __future__ import annotations

import csv
import io

from jigs.reports.cells import show_cell
from jigs.reports.report import Cell, CellKind, Report
from layouts.errors import UnknownName

DECIMALS = ("point", "comma")
_COMMA = "the numbers here have a decimal comma, and semicolons stand between the fields"


def as_csv(report: Report, decimal: str = "point") -> str:
    """The table as CSV. With "comma" fields are split by semicolons, and the last line says so."""
    if decimal not in DECIMALS:
        raise UnknownName("decimal", decimal, DECIMALS)
    columns, rows = report.for_scripts
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n", delimiter=";" if decimal == "comma" else ",")
    writer.writerow([column.key for column in columns])
    for row in rows:
        writer.writerow([_field(cell, column.kind, decimal) for cell, column in zip(row, columns, strict=True)])
    if decimal == "comma":
        writer.writerow([_COMMA])
    return text.getvalue()


def _field(cell: Cell, kind: CellKind, decimal: str) -> str:
    if isinstance(cell, float) and kind.places is None:
        words = repr(cell)  # as many places as it has: a spreadsheet goes on calculating with it
    elif isinstance(cell, str):
        return f"'{cell}" if cell[:1] in ("=", "+", "-", "@", "\t", "\r") else cell  # or it would be a formula
    else:
        words = show_cell(cell, kind)
    return words.replace(".", ",") if decimal == "comma" and isinstance(cell, float) else words
