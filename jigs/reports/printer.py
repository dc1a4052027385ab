"""A printer as measured, and the printers of a bench, as reports: readings, factors, and what a sheet is good for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from jigs.reports.report import LENGTH, NUMBER, Cell, CellKind, Column, Report, record
from layouts.lengths import sized
from layouts.printing.budget import find_instrument
from layouts.printing.printer import Printer

_FACTOR = CellKind(name="ratio", places=4)
_READ = CellKind(name="length", unit="mm")
_SPREAD = CellKind(name="length", unit="mm", places=3, signed=True)
_LEAN = CellKind(name="angle", unit="degrees", places=3, signed=True)
_ANGLE = CellKind(name="angle", unit="degrees", places=3)
_SHARE = CellKind(name="percent", unit="%", places=3)
_SKEW = Column("skew_deg", "skew", _LEAN), Column("skew_uncertainty_k2_deg", "± (k = 2)", _ANGLE)
_INK = Column("spread_mm", "ink, an edge", _SPREAD), Column("spread_uncertainty_k2_mm", "± (k = 2)", LENGTH)

GOOD_FOR = (("5 mm disc", 5.0, 2), ("10 mm disc", 10.0, 2), ("100 mm, line to line", 100.0, 0))
"""Sizes that a sheet's trust is shown for: what, mm, and the edges of ink that count in it."""


def printer_report(printer: Printer, *, details: bool = True) -> Report:
    """Everything that a record says: readings, factors with their budgets, skew, ink, and what a sheet is good for.

    Without `details` people see no budgets, and what a sheet is good for in one sentence. Scripts get all of it.
    """
    tool = find_instrument(printer.instrument)
    way = "landscape" if printer.landscape else ""
    factors, factor_terms = _factors(printer)
    skew = (printer.skew_deg, printer.skew_expanded_deg) if printer.diagonals else None
    ink = (printer.spread_mm, printer.spread_expanded_mm) if printer.ink else None
    parts = (
        factors,
        _or_not_measured("skew", _SKEW, skew, "Skew: not measured (read both diagonals)."),
        _or_not_measured("ink", _INK, ink, "Ink: not measured (read black bars and white gaps)."),
        factor_terms,
        *_good_for(printer),
    )
    figures: dict[Column, Cell] = {
        Column("printer", "", people=False): printer.name,
        Column("tray", "", people=False): printer.tray,
        Column("date", "", people=False): printer.date or None,
        Column("measured", "measured", scripts=False): printer.date or "on an unknown date",
        Column("instrument", "", people=False): printer.instrument,
        Column("with", "with"): tool.words,
        Column("with_source", "its error"): tool.source,
        Column("from_sheet", "from the sheet"): " ".join(filter(None, (printer.sheet, printer.paper, way))) or None,
    }
    return record(
        "printer",
        tuple(figures),
        tuple(figures.values()),
        heading=str(printer),
        parts=parts if details else tuple(map(_in_brief, parts)),
        notes=() if details else (_good_for_words(printer),),
    )


def _in_brief(part: Report) -> Report:
    """A table as somebody reads it who asks for no budget: no uncertainties, and no table of them alone."""
    columns = tuple(replace(column, people=column.people and "_k2" not in column.key) for column in part.columns)
    return replace(part, columns=columns, people=part.key in ("factors", "skew", "ink"))


def _good_for_words(printer: Printer) -> str:
    sizes = (f"±{sized(printer.budget(size, edges).expanded, 2)} on a {words}" for words, size, edges in GOOD_FOR[:2])
    line, length, edges = GOOD_FOR[2]
    over = f"±{sized(printer.budget(length, edges).expanded, 2)} over {line}"
    return f"A corrected sheet is good to {', '.join(sizes)} and {over}."


def printers_report(printers: Sequence[Printer], default: Printer | None) -> Report:
    """Every record in a row, and which of them sheets are made for when none is named."""
    return Report(
        key="printers",
        columns=(
            Column("printer", "printer"),
            Column("tray", "in its tray"),
            Column("across", "across", _FACTOR),
            Column("along", "along", _FACTOR),
            Column("instrument", "with"),
            Column("date", "", people=False),
            Column("measured", "measured", scripts=False),
            Column("is_default", "", scripts=True, people=False),
            Column("default", "", scripts=False),
        ),
        rows=tuple(
            (
                printer.name,
                printer.tray,
                printer.across_factor,
                printer.along_factor,
                printer.instrument,
                printer.date or None,
                printer.date or "no date",
                printer == default,
                "usual" if printer == default else "",
            )
            for printer in printers
        ),
    )


def _factors(printer: Printer) -> tuple[Report, Report]:
    """The factors across and along, and the terms of their uncertainty."""
    columns = (
        Column("way", "way"),
        Column("true_mm", "true", _READ),
        Column("read_mm", "read", _READ),
        Column("factor", "factor", _FACTOR),
        Column("factor_uncertainty_k2", "± (k = 2)", _FACTOR),
    )
    rows: list[tuple[Cell, ...]] = []
    terms: list[tuple[Cell, ...]] = []
    for way, reading in (("across", printer.across), ("along", printer.along)):
        budget = printer.scale_budget(reading)
        rows.append((way, reading.length_mm, reading.read_mm, reading.ratio, budget.expanded))
        terms += [(way, term.words, term.standard * 100) for term in budget.terms]  # in per cent: a factor has no unit
    return (
        Report(key="factors", heading="Printed over true", columns=columns, rows=tuple(rows)),
        Report(
            key="factor_terms",
            heading="The terms of the factors (k = 1)",
            columns=(Column("way", "way"), Column("term", "term"), Column("share_percent", "", _SHARE)),
            rows=tuple(terms),
        ),
    )


def _or_not_measured(key: str, columns: tuple[Column, ...], figures: tuple[Cell, ...] | None, otherwise: str) -> Report:
    return record(key, columns, figures, notes=() if figures else (otherwise,))


def _good_for(printer: Printer) -> tuple[Report, Report]:
    """How far sizes on a corrected sheet can be trusted, and the terms of each uncertainty."""
    budgets = [(words, size, printer.budget(size, edges)) for words, size, edges in GOOD_FOR]
    return (
        Report(
            key="good_for",
            heading="What a corrected sheet is good for (k = 2)",
            columns=(
                Column("what", "what"),
                Column("size_mm", "size", NUMBER, people=False),
                Column("uncertainty_k2_mm", "±", LENGTH),
            ),
            rows=tuple((words, size, budget.expanded) for words, size, budget in budgets),
        ),
        Report(
            key="good_for_terms",
            heading="The terms of each (k = 1)",
            columns=(Column("what", "what"), Column("term", "term"), Column("standard_mm", "", LENGTH)),
            rows=tuple((words, term.words, term.standard) for words, _, budget in budgets for term in budget.terms),
        ),
    )
