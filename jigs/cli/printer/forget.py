"""The command `printer forget`."""

from __future__ import annotations

import click

from jigs.bench.place import bench_path
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import complete_printers


@click.command("forget")
@click.argument("name", metavar="NAME", shell_complete=complete_printers)
@click.option("--tray", default="", metavar="TEXT", help="Which of its papers, when there are several.")
@bench_option
def command(name: str, tray: str, bench_dir: str) -> None:
    """Takes a printer's record out of the bench folder.

    \b
      coilwright printer forget office
      coilwright printer forget office --tray "card 160 g"
      coilwright printer forget office --bench ./class
    """
    from jigs.actions.printer import forget_printer

    click.echo(f"forgot {forget_printer(bench_path(bench_dir), name, tray)}")
