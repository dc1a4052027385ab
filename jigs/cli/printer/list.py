"""The command `printer list`."""

from __future__ import annotations

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import json_option, say
from jigs.cli.bench_folder import bench_option


@click.command("list")
@json_option
@bench_option
def command(as_json: bool, bench_dir: str) -> None:
    """Every printer that has been measured, with its factors.

    \b
      coilwright printer list
      coilwright printer list --json
      COILWRIGHT_BENCH=./class coilwright printer list
    """
    from jigs.actions.printer import list_printers
    from jigs.reports.printer import printers_report

    known, default = list_printers(bench_path(bench_dir))
    if known or as_json:
        say(printers_report(known, default), as_json=as_json)
    else:
        click.echo("No printer has been measured yet: coilwright printer measure NAME --tray TEXT")
