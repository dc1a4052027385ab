"""The command `printer show`, and how a record is shown."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import click

from jigs.cli.bench_folder import bench_option, printers
from jigs.cli.columns import columns
from layouts.printing.printer import Budget, Printer, Reading, find_instrument

_SIZES = (("5 mm disc", 5.0, 2), ("10 mm disc", 10.0, 2), ("100 mm, line to line", 100.0, 0))


@click.command("show")
@click.argument("name", metavar="NAME")
@click.option("--stock", default="", metavar="TEXT", help="Which of its stocks, when there are several.")
@bench_option
def command(name: str, stock: str, bench_dir: str) -> None:
    """One printer: what was read, its factors, and the terms of its uncertainty.

    \b
      coilwright printer show office
      coilwright printer show office --stock "card 160 g"
      coilwright printer show office --bench ./class
    """
    printer = printers(bench_dir).find(name, stock)
    click.echo("\n".join(described(printer)))
    for warning in printer.warnings(date.today(), stock):
        click.echo(f"Note: {warning}.", err=True)


def described(printer: Printer) -> Iterator[str]:
    """A record in lines for a terminal."""
    yield f"{printer}, measured {printer.date or 'on a day not given'} with {find_instrument(printer.instrument).words}"
    yield f"source: {find_instrument(printer.instrument).source}"
    if printer.sheet:
        yield f"from the sheet {printer.sheet} {printer.paper}{' landscape' if printer.landscape else ''}".rstrip()
    yield ""
    yield from _factor("across", printer.across, printer.scale_budget(printer.across))
    yield from _factor("along", printer.along, printer.scale_budget(printer.along))
    yield from _skew_and_ink(printer)
    yield ""
    yield "What a corrected sheet is good for (k = 2), and the terms (each k = 1):"
    for words, size, edges in _SIZES:
        budget = printer.budget(size, edges)
        yield ""
        yield f"{words}: ±{budget.expanded:.3f} mm"
        yield _terms(budget, 1.0, "mm")


def _factor(way: str, reading: Reading, budget: Budget) -> Iterator[str]:
    read = f"read {reading.read_mm:g} mm of {reading.length_mm:g} mm"
    yield f"{way}: {reading.ratio:.4f} ±{budget.expanded:.4f} (k = 2), {read}"
    yield _terms(budget, 100.0, "%")


def _terms(budget: Budget, times: float, unit: str) -> str:
    rows = [(f"  {term.words}", f"{term.standard * times:.3f}", unit) for term in budget.terms]
    return columns(("", "", ""), rows).lstrip("\n")


def _skew_and_ink(printer: Printer) -> Iterator[str]:
    if printer.diagonals:
        yield f"skew: {printer.skew_deg:+.3f} degrees ±{printer.skew_expanded_deg:.3f} (k = 2)"
    else:
        yield "skew: not measured (read both diagonals)"
    if printer.ink:
        yield f"ink: every edge grows by {printer.spread_mm:+.3f} mm ±{printer.spread_expanded_mm:.3f} (k = 2)"
    else:
        yield "ink: not measured (read black bars and white gaps)"
