"""The command `bench units`: millimetres or inches, for everything that is made at this bench."""

from __future__ import annotations

import click

from jigs.bench.place import bench_path
from jigs.cli.bench.add import named_folder
from jigs.cli.bench_folder import bench_option


@click.command("units")
@click.argument("units", metavar="mm|inch", type=click.Choice(("mm", "inch")))
@bench_option
def command(units: str, bench_dir: str | None) -> None:
    """How lengths are said from now on, where neither the command nor the order says it.

    In inches, sheets and lists have the millimetres in brackets beside, and wire is cut to the next sixteenth.

    \b
      coilwright bench units inch
      coilwright bench units mm
    """
    from jigs.actions.bench import choose_units

    choose_units(bench_path(named_folder(bench_dir)), units)
    click.echo(f"Lengths are said in {'inches' if units == 'inch' else 'millimetres'}.")
