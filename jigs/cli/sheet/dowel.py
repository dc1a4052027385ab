"""The command `sheet dowel`: wrap strips and drilling views for dowels."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from jigs.cli.output import SheetOptions, deliver, sheet_options

_OPTIONS = (
    ("--diameter", "LENGTH", "Measured diameter of the dowel; once for each dowel."),
    ("--second-diameter", "LENGTH", "Measured again at right angles; the mean is used."),
    ("--wire", "WIRE", 'The wire whose tail the hole takes, such as "16 AWG".'),
    ("--from-end", "LENGTH", "From the dowel's end to the middle of the hole. [default: 10 mm]"),
    ("--turns", "COUNT", "Turns of the coil. [default: 10]"),
    ("--pitch", "LENGTH", "From turn to turn. [default: one wire, close-wound]"),
    ("--stock-thickness", "LENGTH", "Thickness of the paper. [default: 0.10 mm, 80 g/m2]"),
    ("--drills", "metric|number|inch", "The set that the drill is chosen from. [default: metric]"),
    ("--second", "hole|slot", "A second hole, or a slot along the dowel, for the other tail."),
    ("--second-from-end", "LENGTH", "Where its middle is. [default: where the last turn ends]"),
    ("--slot-length", "LENGTH", "Length of the slot, end to end. [default: three holes]"),
)


def _dowel_options(function: Callable[..., Any]) -> Callable[..., Any]:
    for name, metavar, words in reversed(_OPTIONS):
        function = click.option(name, metavar=metavar, multiple=True, help=words)(function)
    return function


@click.command("dowel")
@_dowel_options
@click.option("--list", "listed", metavar="FILE", default="", help="A TOML list of dowels instead of the options.")
@sheet_options
def command(listed: str, sheet: SheetOptions, **columns: tuple[str, ...]) -> None:
    """Strips to wrap round dowels: where to drill for the wire's tail, and with what.

    Measure each dowel. For several give --diameter again for each; every other option once for all, or as often.

    \b
      coilwright sheet dowel --diameter "7.9 mm" --second-diameter "8.0 mm" --wire "16 AWG"
      coilwright sheet dowel --diameter "6 mm" --diameter "8 mm" --wire "1 mm" --drills number
      coilwright sheet dowel --list dowels.toml --paper letter

    \b
    A list has a table for each dowel, with the names of the options as keys:
      [[dowel]]
      diameter = "7.9 mm"
      second_diameter = "8.0 mm"
      wire = "16 AWG"
      turns = 12
    """
    from jigs.guides.dowel import dowel_sheet
    from jigs.orders.dowel_list import dowels_from_columns, read_dowels

    given = [key.replace("_", "-") for key, column in columns.items() if column]
    if listed and given:
        raise click.UsageError(f"--list brings its own numbers; leave out --{' --'.join(given)}")
    anchors = read_dowels(Path(listed)) if listed else dowels_from_columns(columns)
    for number, anchor in enumerate(anchors, 1):
        for warning in anchor.warnings:
            click.echo(f"warning: dowel {number}: {warning}", err=True)
    deliver(dowel_sheet(anchors), "dowel", sheet)
