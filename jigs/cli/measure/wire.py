"""The command `measure wire`."""

from __future__ import annotations

from typing import Any

import click

from jigs.bench.place import bench_path
from jigs.cli.completing import complete_mandrel_names, complete_spools, complete_tempers
from jigs.cli.measure.asking import asked_wire
from jigs.cli.measure.options import (
    common_of,
    common_options,
    metal_options,
    readings,
    replace_option,
    say_found,
    say_kept,
)
from jigs.cli.quantities import COUNT, LENGTH, MASS
from jigs.cli.units import in_units


@click.command("wire")
@readings("--strip", "strip", "What the printed strip for wire reads in the row of your turns; again for each.")
@readings("--turns-length", "turns_length", "Or: close turns end to end, by rule or loupe; again for each.")
@click.option("--turns", type=COUNT, metavar="NUMBER", help="How many wires you count along one line: 40, 20 or 10.")
@click.option(
    "--rod",
    default="",
    metavar="LENGTH or NAME",
    shell_complete=complete_mandrel_names,
    help="What they are wound on, for the helix.",
)
@readings("--weighed", "weighed_g", "A piece of it weighed; again for each.", MASS, "MASS")
@click.option("--piece", "piece_mm", type=LENGTH, help="How long that piece is.")
@click.option("--scale-step", "scale_step_g", type=MASS, metavar="MASS", help="The step of the scale, such as 0.1 g.")
@metal_options
@readings("--across", "across", "Read across with a caliper or a micrometer; again for each.")
@click.option(
    "--keep", default="", metavar="SPOOL", shell_complete=complete_spools, help="Keep it as the wire of that spool."
)
@click.option("--length", default="", metavar="LENGTH", help="How much wire is on it, where that spool is a new one.")
@click.option(
    "--temper", default="", metavar="TEMPER", shell_complete=complete_tempers, help="And its temper; soft if left out."
)
@replace_option
@common_options
def command(
    keep: str,
    length: str,
    temper: str,
    replace: bool,
    as_json: bool,
    units: str | None,
    bench_dir: str | None,
    **given: Any,
) -> None:
    """The diameter of a wire from what you read, and which gauge it is, with its likelihood.

    Wind it close on a rod and count wires along one line: 40 wires, end to end, are 39 pitches and one wire.

    \b
      coilwright measure wire --strip "1.02 mm" --turns 40 --rod "8 mm"
      coilwright measure wire --turns-length "41.3 mm" --turns 40 --length-with loupe
      coilwright measure wire --strip "1.02 mm" --turns 40 --keep "red reel" --metal copper --length "4.3 m"
    """
    from jigs.actions.keep_measured import keep_wire
    from jigs.actions.measure import WireReadings, measure_wire

    bench = bench_path(bench_dir)
    new = {"metal": given["metal"].name if given["metal"] else "", "temper": temper, "length": length}
    given, keep, new = asked_wire(given, keep, new)
    common = common_of(given)
    with in_units(units, bench_dir):
        found = measure_wire(bench, WireReadings(**given), common)
        say_found(found, as_json=as_json)
        if keep:
            say_kept(keep_wire(bench, keep, found, new=new, replace=replace), as_json=as_json)
