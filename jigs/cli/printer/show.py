"""The command `printer show`."""

from __future__ import annotations

from datetime import date

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import details_option, json_option, say
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import complete_printers


@click.command("show")
@click.argument("name", metavar="NAME", shell_complete=complete_printers)
@click.option("--tray", default="", metavar="TEXT", help="Which of its papers, when there are several.")
@details_option
@json_option
@bench_option
def command(name: str, tray: str, details: bool, as_json: bool, bench_dir: str) -> None:
    """One printer: what was read, its factors, and what a corrected sheet is good for.

    \b
      coilwright printer show office
      coilwright printer show office --tray "card 160 g"
      coilwright printer show office --details
    """
    from jigs.actions.printer import find_printer
    from jigs.reports.printer import printer_report

    printer = find_printer(bench_path(bench_dir), name, tray)
    say(printer_report(printer, details=details), as_json=as_json)
    for warning in printer.warnings(date.today(), tray):
        click.echo(f"Note: {warning}.", err=True)
