"""A report for a spreadsheet: its keys, then its rows, with a decimal point or a decimal comma."""

from __future__ import annotations

import csv
import io

from jigs.reports.cells import show_cell
from jigs.reports.report import Report
from layouts.errors import UnknownName

DECIMALS = ("point", "comma")
_COMMA = "the numbers here have a decimal comma, and semicolons stand between the fields"
_STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def as_csv(report: Report, decimal: str = "point") -> str:
    """The table as CSV. With "comma" fields are split by semicolons, and the last line says so."""
    if decimal not in DECIMALS:
        raise UnknownName("decimal", decimal, DECIMALS)
    columns, rows = report.for_scripts
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
