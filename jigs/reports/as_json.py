"""A report for scripts, as JSON: numbers as they are, units in the keys, null where a figure does not apply."""

from __future__ import annotations

import json
from typing import Any

from jigs.reports.report import Band, Cell, Counted, Form, OfKind, Report


def as_json(report: Report) -> str:
    """The report as JSON text."""
    return json.dumps(plain(report), indent=2, ensure_ascii=False, allow_nan=False)  # allow_nan: NaN would not be JSON


def plain(report: Report) -> Any:
    """The report as lists and dictionaries: a table is a list, a record a dictionary or None, a group a list."""
    if report.form is Form.GROUP:
        return [plain(part) for part in report.parts if part.scripts]
    columns, rows = report.for_scripts
    keys = [column.key for column in columns]
    rows = rows[:-1] if report.last_is_sum else rows  # a script adds up by itself, and would count the sum twice
    found = [dict(zip(keys, map(_plain_cell, row), strict=True)) for row in rows]
    if report.form is Form.TABLE:
        return found
    if not found:
        return None
    return {**found[0], **{part.key: plain(part) for part in report.parts if part.scripts}}


def _plain_cell(cell: Cell) -> Any:
    if isinstance(cell, OfKind):
        return cell.value
    if isinstance(cell, Band):
        return [cell.low, cell.high]
    if isinstance(cell, Counted):
        return [{cell.key: length, "count": count} for length, count in cell.pairs]
    if isinstance(cell, Report):
        return plain(cell)
    return [_plain_cell(part) for part in cell] if isinstance(cell, tuple) else cell
