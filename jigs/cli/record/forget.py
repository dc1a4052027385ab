"""The command `record forget`."""

from __future__ import annotations

import click

from jigs.bench.place import bench_path
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import complete_records


@click.command("forget")
@click.argument("name", metavar="NAME", shell_complete=complete_records)
@bench_option
def command(name: str, bench_dir: str) -> None:
    """Takes a record out of the bench folder; the others stay as they are, comments too.

    \b
      coilwright record forget 1
      coilwright record forget "first try"
      coilwright record forget 1 --bench ./class
    """
    from jigs.actions.record import forget_record

    forget_record(bench_path(bench_dir), name)
    click.echo(f"forgot record {name.strip()}")
