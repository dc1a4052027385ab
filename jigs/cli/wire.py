"""The command `wire`: one wire in every system."""

from __future__ import annotations

import click

from jigs.cli.answers import json_option, say
from jigs.cli.bench_folder import bench_option
from jigs.cli.quantities import WIRE
from jigs.cli.units import in_units, units_option
from jigs.stock.wire import Wire


@click.command("wire")
@click.argument("wire", metavar="WIRE", type=WIRE)
@json_option
@units_option
@bench_option
def command(wire: Wire, as_json: bool, units: str | None, bench_dir: str | None) -> None:
    """One wire in millimetres, inches, AWG and SWG, with its neighbours.

    WIRE is a gauge with its system, or a diameter with its unit.

    \b
      coilwright wire "16 AWG"
      coilwright wire "1.2 mm"
      coilwright wire "3/64 in" --json
    """
    from jigs.actions.numbers import wire_numbers

    with in_units(units, bench_dir):
        say(wire_numbers(wire), as_json=as_json)
