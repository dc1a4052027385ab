"""The command `machine list`."""

from __future__ import annotations

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import json_option, say
from jigs.cli.bench_folder import bench_option


@click.command("list")
@json_option
@bench_option
def command(as_json: bool, bench_dir: str) -> None:
    """Every machine that has been measured, with what its holes and discs gain.

    \b
      coilwright machine list
      coilwright machine list --json
      COILWRIGHT_BENCH=./class coilwright machine list
    """
    from jigs.actions.machine import list_machines
    from jigs.reports.machine import machines_report

    known = list_machines(bench_path(bench_dir))
    if known or as_json:
        say(machines_report(known), as_json=as_json)
    else:
        click.echo("No machine has been measured yet: coilwright machine measure NAME --material TEXT")
