"""Asking for numbers: of a wire, of a table."""

from __future__ import annotations

from jigs.reports.report import Report
from jigs.reports.tables import TABLES
from jigs.reports.wire import wire_report
from jigs.stock.gauges import neighbours
from jigs.stock.wire import Wire
from layouts.errors import UnknownName


def wire_numbers(wire: Wire) -> Report:
    """One wire in every system, with its neighbours."""
    return wire_report(wire, neighbours(wire.diameter_mm))


def show_table(name: str) -> Report:
    """The table of that name, of `TABLES`; every row with its source."""
    if name not in TABLES:
        raise UnknownName("table", name, TABLES)
    return TABLES[name]()
