"""The command `bench forget`: takes back what `bench add` wrote."""

from __future__ import annotations

import click

from jigs.bench.place import bench_path
from jigs.cli.bench.add import named_folder
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import complete_owned


@click.command("forget")
@click.argument("kind", type=click.Choice(("mandrel", "drill", "blade", "spool", "instrument")))
@click.argument("name", shell_complete=complete_owned)
@bench_option
def command(kind: str, name: str, bench_dir: str | None) -> None:
    """Takes a thing out of the bench folder; comments and order of the others stay.

    \b
      coilwright bench forget mandrel "rod 7"
      coilwright bench forget blade 2/0
      coilwright bench forget spool "blue reel" --bench ./class
    """
    from jigs.actions.bench import forget_from_bench

    forget_from_bench(bench_path(named_folder(bench_dir)), kind, name)
    click.echo(f"forgot {kind} {name.strip()}")
