"""The command `record show`."""

from __future__ import annotations

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import json_option, say
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import complete_records


@click.command("show")
@click.argument("name", metavar="NAME", shell_complete=complete_records)
@json_option
@bench_option
def command(name: str, as_json: bool, bench_dir: str) -> None:
    """One record: what was read, what was expected, and what to wind the next batch on.

    \b
      coilwright record show 1
      coilwright record show "first try" --json
      COILWRIGHT_BENCH=./class coilwright record show 1
    """
    from jigs.actions.record import show_record
    from jigs.reports.record import recorded_report

    say(recorded_report(show_record(bench_path(bench_dir), name)), as_json=as_json)
