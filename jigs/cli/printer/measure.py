"""The command `printer measure`: readings in, a record out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

import click

from jigs.actions.printer import Readings, measure_printer
from jigs.bench.place import bench_path
from jigs.cli.answers import details_option, say
from jigs.cli.asking import ask, in_a_terminal, read_by
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import complete_papers, complete_printers
from jigs.cli.refusals import option
from layouts.dates import parse_date
from layouts.errors import OutOfRange, listed
from layouts.printing.budget import find_hand_tool, hand_tools, reads_percent
from layouts.printing.printer import parse_reading
from layouts.units import parse_length

if TYPE_CHECKING:
    from jigs.actions.printer import Kept

_INK = ("0.5 mm", "1 mm", "2 mm")  # the bars and gaps of the check sheet
_SKETCH = """
    D --------------- C      across  A to B: {across:.2f} mm     diagonal  A to C: {diagonal:.2f} mm
    |                 |      along   A to D: {along:.2f} mm     diagonal  B to D: {diagonal:.2f} mm
    |                 |
    A --------------- B      cross to cross, at the middle of the lines; never from the paper's edge
"""
_CARD_SKETCH = """
    Push a bank card into the lower left corner of its outline, half over the line.
    The ticks at its right edge read the size across, those at its upper edge the size along: 100 % is the outline.
"""


@click.command("measure")
@click.argument("name", metavar="NAME", shell_complete=complete_printers)
@click.option("--tray", default="", metavar="TEXT", help='The paper or card in its tray, such as "plain 80 g".')
@click.option("--across", default="", metavar="LENGTH", help="Read from A to B; or on another line: 99.7 mm of 100 mm.")
@click.option("--along", default="", metavar="LENGTH", help="Read from A to D; or on another line, likewise.")
@click.option("--diagonal-ac", default="", metavar="LENGTH", help="Read from A to C: with B to D it gives the skew.")
@click.option("--diagonal-bd", default="", metavar="LENGTH", help="Read from B to D.")
@click.option("--black", multiple=True, metavar="LENGTH", help="Width of a black bar; again for each bar.")
@click.option("--white", multiple=True, metavar="LENGTH", help="Width of the white gap that goes with it.")
@click.option(
    "--with",
    "instrument",
    default="",
    metavar="WHAT",
    help=f"{listed(hand_tools())}; a card reads per cent, such as 99.5 %. [default: rule]",
)
@click.option(
    "--paper",
    shell_complete=complete_papers,
    default="a4",
    metavar="NAME",
    show_default=True,
    help="Of the sheet that you measure.",
)
@click.option("--landscape", is_flag=True, help="The sheet that you measure has its long side across.")
@click.option("--date", default="", metavar="DATE", help="The day you measured, such as 2026-11-25.")
@click.option("--corrected", is_flag=True, help="The sheet that you measure was made true for NAME, as its head says.")
@click.option("--save-anyway", is_flag=True, help="Save it even if the readings look wrong.")
@details_option
@bench_option
def command(bench_dir: str, save_anyway: bool, details: bool, **given: Any) -> None:
    """Records a printer from the lengths read off its printer-check sheet, printed uncorrected.

    Print it at actual size or 100 %, on the paper that lies in the tray; not fit, shrink, fill or scale to paper. With
    CUPS: lp -o media=A4 -o print-scaling=none printer-check.pdf, since some programs ignore what the file asks for.

    In a terminal without lengths it asks, step by step. Lengths are measured from cross to cross.

    \b
      coilwright printer measure office --tray "plain 80 g"
      coilwright printer measure office --tray "plain 80 g" --across "149.6 mm" --along "200.3 mm" --with loupe
      coilwright printer measure office --tray card --with card --across "99.5 %" --along "99.7 %"
    """
    readings = Readings(**given)
    if readings.missing:
        readings = _asked(readings)
    say_kept(measure_printer(readings, bench_path(bench_dir), save_anyway=save_anyway), details=details)


def say_kept(kept: Kept, *, details: bool) -> None:
    """The record that was kept, what is doubtful of it, and where it is."""
    from jigs.reports.printer import printer_report

    say(printer_report(kept.printer, details=details))
    for doubt in kept.doubts:
        click.echo(f"Note: {doubt}.", err=True)
    click.echo(f"\n{'Replaced' if kept.replaced else 'Saved'} {kept.printer} in {kept.folder}")
    click.echo(f'Make sheets true for it with --printer "{kept.printer.name}".')


# --- asking, in a terminal


def _asked(readings: Readings) -> Readings:
    """The readings with what is missing asked for; where nobody can answer, it is refused."""
    if not in_a_terminal():
        options = ", ".join(map(option, readings.missing))
        raise OutOfRange(f"printer measure lacks {options}", "give it; or run it in a terminal, where it asks")
    tray = readings.tray or ask("What lies in the tray? (such as plain 80 g)", str)
    tool = readings.instrument or ask(
        f"Measured with: {listed(hand_tools())}?", lambda words: find_hand_tool(words.strip()).name, "rule"
    )
    readings = replace(readings, tray=tray, instrument=tool)
    across, along = readings.true_mm
    unit = "%" if reads_percent(tool) else "mm"
    click.echo(
        _CARD_SKETCH
        if reads_percent(tool)
        else _SKETCH.format(across=across, along=along, diagonal=readings.diagonal_mm)
    )

    def ask_for_length(way: str, true_mm: float) -> str:
        return ask(f"{way}, {unit}", read_by(lambda words: parse_reading(words, true_mm, tool), unit))

    readings = replace(
        readings,
        across=readings.across or ask_for_length("Across", across),
        along=readings.along or ask_for_length("Along", along),
    )
    if not reads_percent(tool):
        readings = _asked_for_more(readings)
    day = readings.date or ask("Measured on (year-month-day)", read_by(parse_date), date.today().isoformat())
    return replace(readings, date=day)


def _asked_for_more(readings: Readings) -> Readings:
    """Diagonals and ink; Enter leaves them out."""
    click.echo("Diagonals give the skew, bars and gaps the ink; Enter leaves them out.")
    length = read_by(parse_length, "mm")
    if not readings.diagonal_ac:
        first = ask("Diagonal A to C, mm", length, "")
        second = ask("Diagonal B to D, mm", length) if first else ""
        readings = replace(readings, diagonal_ac=first, diagonal_bd=second)
    if not readings.black:
        for size in _INK:
            if black := ask(f"Black bar of {size}, mm", length, ""):
                white = ask(f"White gap of {size}, mm", length)
                readings = replace(readings, black=(*readings.black, black), white=(*readings.white, white))
    return readings
