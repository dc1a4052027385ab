"""The command `printer default`."""

from __future__ import annotations

import click

from jigs.bench.place import bench_path
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import complete_printers


@click.command("default")
@click.argument("name", metavar="[NAME]", shell_complete=complete_printers, default="")
@click.option("--tray", default="", metavar="TEXT", help="Which of its papers, when there are several.")
@bench_option
def command(name: str, tray: str, bench_dir: str) -> None:
    """The printer that sheets are made for when none is named; NAME chooses it, `none` takes the choice back.

    \b
      coilwright printer default
      coilwright printer default office --tray "plain 80 g"
      coilwright printer default none
    """
    from jigs.actions.printer import choose_no_printer, choose_printer, usual_printer
    from layouts.printing.printer import NONE

    bench = bench_path(bench_dir)
    if name.casefold() == NONE:
        choose_no_printer(bench)
    elif name:
        choose_printer(bench, name, tray)
    chosen = usual_printer(bench)
    click.echo(f"Sheets are made for {chosen}." if chosen else "Sheets are uncorrected unless --printer names one.")
