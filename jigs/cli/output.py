"""What every sheet command shares: the options of a sheet, and what is said of its files."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from jigs.cli.completing import complete_papers, complete_printers
from jigs.cli.overwriting import overwriting
from jigs.cli.units import units_parameter
from layouts.errors import listed
from layouts.pages.paper import papers
from layouts.render import FORMATS

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from layouts.printing.printer import Printer

_PATHS_SAID = 12  # half a screen


def output_options() -> list[click.Parameter]:
    """The options that all sheets share, by the names of the fields of an `Output`."""
    return [
        click.Option(
            ["--paper"],
            shell_complete=complete_papers,
            default="a4",
            metavar="NAME",
            show_default=True,
            help=f"{listed(papers())}.",
        ),
        click.Option(["--landscape"], is_flag=True, help="The long side across."),
        click.Option(["--tile"], is_flag=True, help="Split what is larger than a page into parts to join."),
        click.Option(
            ["--format", "formats"],
            default="pdf",
            metavar="LIST",
            show_default=True,
            help=f"{', '.join(FORMATS)}; or several: {','.join(FORMATS[:2])}.",
        ),
        out_option(),
        click.Option(["--title"], default="", metavar="TEXT", help="A line of your own in the head of the sheet."),
        click.Option(["--date"], default="", metavar="TEXT", help="A date to print. Nothing else prints one."),
        click.Option(
            ["--printer"],
            shell_complete=complete_printers,
            default="",
            metavar="NAME",
            help="Makes it true for this printer; none: uncorrected.",
        ),
        click.Option(["--tray"], default="", metavar="TEXT", help="The paper or card in its tray."),
        units_parameter(),
        overwriting(),
    ]


def out_option() -> click.Option:
    """The option that says where files go."""
    return click.Option(["--out"], default="", metavar="FILE-or-DIR", help="Where to write. [default: this folder]")


def say_printer(printer: Printer | None, notes: Sequence[str]) -> None:
    """The printer that a sheet is made true for, and what there is to say of it."""
    if printer is not None:
        click.echo(f"Made true for {printer}.", err=True)
    for note in notes:
        click.echo(f"Note: {note}.", err=True)


def say_written(paths: Sequence[Path]) -> None:
    """Where the files are, of many the first and the last; and how to print them."""
    for path in paths[:_PATHS_SAID]:
        click.echo(f"wrote {path}")
    if len(paths) > _PATHS_SAID:
        click.echo(f"and {len(paths) - _PATHS_SAID} more, the last {paths[-1]}")
    click.echo("Print at 100 %, actual size; then measure both check bars before you trust the sheet.")
