"""The command `tables`: what the project knows of metals, blades and more, with sources."""

from __future__ import annotations

import click

from jigs.cli.answers import json_option, say
from jigs.cli.bench_folder import bench_option
from jigs.cli.units import in_units, units_option
from jigs.reports.tables import TABLES


@click.command("tables")
@click.argument("table", type=click.Choice(list(TABLES)))
@json_option
@units_option
@bench_option
def command(table: str, as_json: bool, units: str | None, bench_dir: str | None) -> None:
    """Gauges, metals, blades, drills, weaves, instruments: a source in each row.

    Strengths of metals are yield (Y) and tensile (U), in MPa. Ranges of weaves are in AR (inside / wire); your
    own go in weaves.toml in your bench folder.

    \b
      coilwright tables gauges
      coilwright tables metals
      coilwright tables drills --json
    """
    from jigs.actions.numbers import show_table

    with in_units(units, bench_dir):
        say(show_table(table), as_json=as_json)
