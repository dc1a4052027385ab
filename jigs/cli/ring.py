"""The command `ring`: the numbers of a ring, from mandrel to closed ring or back."""

from __future__ import annotations

from typing import Any

import click

from jigs.bench.place import bench_path
from jigs.cli.answers import json_option, say
from jigs.cli.bench_folder import bench_option
from jigs.cli.completing import (
    complete_blades,
    complete_instruments,
    complete_mandrel_names,
    complete_mandrels,
    complete_metals,
    complete_spools,
    complete_tempers,
)
from jigs.cli.quantities import COUNT, DENSITY, LENGTH, METAL, MODULUS, NUMBER, STRESS, WIRE
from jigs.cli.units import in_units, units_option
from jigs.making.cutting import CUTS
from jigs.making.winding import USUAL_REJECTS, USUAL_TAILS_MM


@click.command("ring")
@click.option("--wire", type=WIRE, help="A gauge with its system, or a diameter.")
@click.option(
    "--spool",
    metavar="NAME",
    default="",
    shell_complete=complete_spools,
    help="Or: a spool of your bench, for its wire, metal, temper and records.",
)
@click.option(
    "--metal",
    type=METAL,
    shell_complete=complete_metals,
    help="A metal of the table; left out, springback is not counted.",
)
@click.option(
    "--temper",
    metavar="TEMPER",
    shell_complete=complete_tempers,
    help="soft, half-hard, hard or spring; soft when left out.",
)
@click.option(
    "--mandrel",
    "mandrel",
    metavar="LENGTH or NAME",
    shell_complete=complete_mandrel_names,
    help="What the wire is wound on: its size, or its name at your bench.",
)
@click.option(
    "--measured",
    "measured_mm",
    type=LENGTH,
    shell_complete=complete_mandrels,
    help="The mandrel by caliper; it counts, not the name.",
)
@click.option("--inside", "inside_mm", type=LENGTH, help="Or: the closed ring's inside, wanted or measured.")
@click.option("--outside", "outside_mm", type=LENGTH, help="Or: the closed ring's outside, wanted or measured.")
@click.option("--ratio", type=NUMBER, metavar="NUMBER", help="Or: the closed ring's inside / wire.")
@click.option("--weave", metavar="NAME", help="Or: a weave alone, for its good AR; with a size, whether it suits.")
@click.option("--cut", type=click.Choice(CUTS), help="How the coil is cut. Left out, --blade, --kerf or --trim decide.")
@click.option(
    "--blade", metavar="BLADE", shell_complete=complete_blades, help="The saw blade's size, such as 2 or 2/0."
)
@click.option("--kerf", "kerf_mm", type=LENGTH, help="The saw's kerf, measured.")
@click.option("--trim", "trim_mm", type=LENGTH, help="Wire trimmed per ring by cutters; one diameter when left out.")
@click.option("--gap", "gap_mm", type=LENGTH, default=0.0, help="Gap between turns; close-wound when left out.")
@click.option("--rings", type=COUNT, metavar="NUMBER", help="Good rings wanted.")
@click.option("--wire-length", "wire_length_mm", type=LENGTH, help="Or: the wire at hand.")
@click.option("--rejects", type=COUNT, default=USUAL_REJECTS, show_default=True, help="Rings lost per winding.")
@click.option(
    "--tails",
    "tails_mm",
    type=LENGTH,
    default=USUAL_TAILS_MM,
    help=f"Tails per winding; {USUAL_TAILS_MM:g} mm when left out.",
)
@click.option("--coil-limit", "longest_coil_mm", type=LENGTH, help="Longest coil wound; 120 mm when left out.")
@click.option(
    "--section-limit",
    "longest_section_mm",
    type=LENGTH,
    help="Longest section sawn in one piece; 70 mm for the saw when left out.",
)
@click.option(
    "--coil-inside",
    "--coil-measured",
    "trial_inside_mm",
    type=LENGTH,
    help="Inside of a trial coil, once released; replaces the metal's springback.",
)
@click.option("--coil-outside", "trial_outside_mm", type=LENGTH, help="Or: its outside.")
@click.option(
    "--coil-mandrel",
    "trial_mandrel",
    metavar="LENGTH or NAME",
    shell_complete=complete_mandrel_names,
    help="What the trial coil was wound on, if not this mandrel.",
)
@click.option(
    "--coil-with",
    "trial_with",
    metavar="NAME",
    default="",
    shell_complete=complete_instruments,
    help="The instrument that read the trial coil; left out, a caliper is assumed.",
)
@click.option("--density", "density_g_cm3", type=DENSITY, help="Of your metal; replaces the table's.")
@click.option("--modulus", "modulus_gpa", type=MODULUS, help="Of your metal; replaces the table's.")
@click.option("--strength", "strength_mpa", type=STRESS, help="Of your wire, by its certificate; replaces the table's.")
@click.option("--without-records", is_flag=True, help="As it would be if no batch had been recorded.")
@json_option
@units_option
@bench_option
def command(as_json: bool, units: str | None, bench_dir: str | None, **given: Any) -> None:
    """The numbers of a ring: springback, cut, closed size, wire.

    Give the mandrel and see the ring, or give the ring and see the mandrel. A ring in the hand: measure wire and
    outside, and see what it is wound on. Every figure says what it is based on.

    \b
      coilwright ring --wire "16 AWG" --metal copper --mandrel "5 mm" --cut saw --blade 2 --rings 100
      coilwright ring --wire "1.02 mm" --metal sterling --outside "6.5 mm" --cut cutters
      coilwright ring --wire "1.2 mm" --mandrel "5/16 in" --measured "7.6 mm" --json
    """
    from jigs.actions.ring import ring_numbers
    from jigs.reports.ring import ring_report

    with in_units(units, bench_dir):
        found = ring_numbers(bench=bench_path(bench_dir), **given)
        report = ring_report(found.batch, owned=found.owned, verdict=found.verdict, notes=found.notes)
        say(report, found.batch.cautions, as_json=as_json)
