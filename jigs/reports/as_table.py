"""A report as a table on a sheet, in mm: the same rows, with the signs that print has and a keyboard lacks."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.reports.cells import in_print, show_cell
from jigs.reports.report import BOXES, FORMULA, Cell, CellKind, Counted, Report
from layouts.drawing.table import Boxes, Table, TableCell, TableColumn
from layouts.errors import OutOfRange


def as_table(
    report: Report, width_mm: float, shares: Sequence[float], *, bold: Sequence[str] = (), pad_mm: float = 0.9
) -> Table:
    """The columns that people see, each with its share of the width; those whose key is in `bold` stand out."""
    columns, rows = report.for_people
    if len(shares) != len(columns):
        raise OutOfRange(f"{len(shares)} shares of the width for {len(columns)} columns", "give one for each")
    return Table(
        heading=report.heading,
        columns=tuple(
            TableColumn(
                column.title.replace("- ", "− "),
                share,
                right=column.kind.is_number and column.kind is not BOXES,
                bold=column.key in bold,
            )
            for column, share in zip(columns, shares, strict=True)
        ),
        rows=tuple(tuple(_cell(cell, column.kind) for cell, column in zip(row, columns, strict=True)) for row in rows),
        width_mm=width_mm,
        pad_mm=pad_mm,
        last_is_sum=report.last_is_sum,
    )


def _cell(cell: Cell, kind: CellKind) -> TableCell:
    if kind is BOXES and isinstance(cell, int):
        return Boxes(cell)
    words = show_cell(cell, kind)
    if kind is FORMULA or isinstance(cell, Counted):
        return in_print(words)
    return words if isinstance(cell, str) else words.replace("-", "−")
