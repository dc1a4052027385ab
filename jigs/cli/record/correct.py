"""The command `record correct`: some of a record changed, the rest left."""

from __future__ import annotations

from typing import Any

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import json_option, say
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import complete_records
from jigs.cli.record.fields import field_options, values_of


@click.command("correct")
@click.argument("name", metavar="NAME", shell_complete=complete_records)
@field_options
@json_option
@bench_option
def command(name: str, as_json: bool, bench_dir: str, **given: Any) -> None:
    """Changes what you give of a record and leaves the rest; comments in the file stay.

    \b
      coilwright record correct 1 --ring-inside "5.05 mm"
      coilwright record correct 1 --with rule --remarks "read by lamp light"
      coilwright record correct 4 --confirmed
    """
    from jigs.actions.record import correct_record
    from jigs.reports.record import recorded_report

    say(recorded_report(correct_record(bench_path(bench_dir), name, values_of(given))), as_json=as_json)
