"""The command `measure ring`."""

from __future__ import annotations

from typing import Any

import click

from jigs.bench.place import bench_path
from jigs.cli.measure.asking import asked_ring
from jigs.cli.measure.options import (
    common_of,
    common_options,
    metal_options,
    readings,
    say_found,
    wire_of,
    wire_options,
)
from jigs.cli.quantities import COUNT, MASS
from jigs.cli.units import in_units


@click.command("ring")
@readings("--chain", "chain", "Closed rings in a chain, pulled just straight: outside to outside; again for each.")
@click.option("--rings", type=COUNT, metavar="NUMBER", help="How many rings are in it; 20 or more are best.")
@readings("--inside", "inside", "One ring's inside, by caliper or card; again for each.")
@readings("--outside", "outside", "One ring's outside, by caliper or wedge; again for each.")
@click.option("--weighed", "weighed_g", type=MASS, metavar="MASS", help="One ring's weight: refused, with the reason.")
@wire_options
@metal_options
@common_options
def command(as_json: bool, units: str | None, bench_dir: str | None, **given: Any) -> None:
    """The inside of closed rings from what you read: to match a ring in the hand, or to know what came out.

    A chain of N rings, each through the next and pulled just straight, is N x ID + 2 wires long. Without --wire, a
    chain and the outside of one of its rings tell the wire too.

    \b
      coilwright measure ring --chain "102.5 mm" --rings 20 --wire "1.2 mm"
      coilwright measure ring --outside "7.4 mm" --with wedge --wire "16 AWG"
      coilwright measure ring --chain "102.5 mm" --rings 20 --outside "7.4 mm" --with wedge
    """
    from jigs.actions.measure import RingReadings, measure_ring

    bench = bench_path(bench_dir)
    given, wire = asked_ring(given, wire_of(given))
    common = common_of(given)
    with in_units(units, bench_dir):
        say_found(measure_ring(bench, RingReadings(**given), common, wire), as_json=as_json)
