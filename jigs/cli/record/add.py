"""The command `record add`: a batch, written down."""

from __future__ import annotations

from typing import Any

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import json_option, say
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import complete_printers
from jigs.cli.record.fields import asked, field_options, values_of


@click.command("add")
@click.option("--name", default="", metavar="TEXT", help="What to call it; numbered when left out.")
@field_options
@click.option(
    "--printer",
    default="",
    metavar="NAME",
    shell_complete=complete_printers,
    help="The printer that a printed strip was made true for; none: it was not. [default: the usual one]",
)
@json_option
@bench_option
def command(name: str, printer: str, as_json: bool, bench_dir: str, **given: Any) -> None:
    """Writes down what came out of a batch, and says what to wind the next on.

    In a terminal without any size it asks, box by box as they stand on the job card.

    \b
      coilwright record add
      coilwright record add --spool "blue reel" --mandrel "rod 5" --blade 2/0 --coil-inside "5.31 mm"
      coilwright record add --spool "blue reel" --mandrel "rod 5" --chain "87.1 mm" --chain-rings 16 --with rule
    """
    from jigs.actions.record import record_batch
    from jigs.reports.record import recorded_report

    bench = bench_path(bench_dir)
    found = record_batch(bench, asked(bench, values_of(given)) | {"printer": printer}, name=name)
    say(recorded_report(found), as_json=as_json)
    if not as_json:
        click.echo(f"\nRecord {found.told.record.name} is in {found.file}")
