"""The command `measure coil`."""

from __future__ import annotations

from typing import Any

import click

from jigs.bench.place import bench_path
from jigs.cli.measure.asking import asked_coil
from jigs.cli.measure.options import common_of, common_options, readings, say_found, wire_of, wire_options
from jigs.cli.quantities import LENGTH, NUMBER
from jigs.cli.units import in_units


@click.command("coil")
@readings("--inside", "inside", "The coil's inside, by caliper or plug; again for each.")
@readings("--outside", "outside", "The coil's outside, by caliper or wedge; again for each.")
@readings("--straightened", "straightened", "Turns of it straightened: their length; again for each.")
@click.option("--turns", type=NUMBER, metavar="NUMBER", help="How many turns that were; 20 or more are best.")
@click.option("--pitch", "pitch_mm", type=LENGTH, help="From turn to turn; touching when left out.")
@wire_options
@common_options
def command(as_json: bool, units: str | None, bench_dir: str | None, **given: Any) -> None:
    """The inside of a released coil from what you read.

    N turns straightened are N x sqrt((pi (ID + wire))^2 + pitch^2) long.

    \b
      coilwright measure coil --outside "7.66 mm" --wire "1.2 mm"
      coilwright measure coil --straightened "402.6 mm" --turns 20 --wire "1.2 mm"
      coilwright measure coil --inside "5.24 mm" --inside "5.26 mm"
    """
    from jigs.actions.measure import RingReadings, measure_coil

    bench = bench_path(bench_dir)
    given, wire = asked_coil(given, wire_of(given))
    common = common_of(given)
    with in_units(units, bench_dir):
        say_found(measure_coil(bench, RingReadings(**given), common, wire), as_json=as_json)
