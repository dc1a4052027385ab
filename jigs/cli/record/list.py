"""The command `record list`."""

from __future__ import annotations

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import json_option, say
from jigs.cli.bench_folder import bench_option


@click.command("list")
@json_option
@bench_option
def command(as_json: bool, bench_dir: str) -> None:
    """Every record, with what was expected of its batch by all the others.

    \b
      coilwright record list
      coilwright record list --json
      COILWRIGHT_BENCH=./class coilwright record list
    """
    from jigs.actions.record import list_records
    from jigs.reports.record import records_report

    known = list_records(bench_path(bench_dir))
    if known or as_json:
        say(records_report(known), as_json=as_json)
    else:
        click.echo("Nothing is recorded yet: coilwright record add")
