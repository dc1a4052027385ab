"""The command `measure rod`."""

from __future__ import annotations

from typing import Any

import click

from jigs.bench.place import bench_path
from jigs.cli.completing import complete_mandrel_names
from jigs.cli.measure.asking import asked_rod
from jigs.cli.measure.options import (
    common_of,
    common_options,
    readings,
    replace_option,
    say_found,
    say_kept,
    wire_of,
    wire_options,
)
from jigs.cli.quantities import LENGTH, NUMBER
from jigs.cli.units import in_units


@click.command("rod")
@readings("--strip", "strip", "What the printed wrap strip reads; again for each reading, best three.")
@readings("--strip-other-end", "strip_other_end", "The same at the rod's other end.")
@click.option(
    "--paper", "paper_mm", type=LENGTH, help="The strip's paper, measured: a hundred sheets by rule, a hundredth of it."
)
@click.option(
    "--sheet-paper",
    "sheet_paper_mm",
    type=LENGTH,
    help="What the sheet says it counts on; that of the printer's paper, or 0.10 mm.",
)
@readings("--across", "across", "Read across with a caliper, a micrometer or a wedge; again for each reading.")
@readings("--right-angles", "right_angles", "The same at right angles: an oval rod is seen.")
@readings("--other-end", "other_end", "The same at the rod's other end: a taper is seen.")
@readings("--pricks", "pricks", "A plain strip wrapped once and pricked through both layers: hole to hole.")
@click.option("--prick-at", "prick_at_mm", type=LENGTH, help="From its start to the first hole; 3 mm when left out.")
@readings("--unwound", "unwound", "Wire that lay on the rod in so many turns, straightened: its length.")
@click.option("--turns", type=NUMBER, metavar="NUMBER", help="How many turns that were.")
@click.option("--pitch", "pitch_mm", type=LENGTH, help="From turn to turn; touching when left out.")
@wire_options
@click.option("--keep", default="", metavar="NAME", shell_complete=complete_mandrel_names, help="Keep it as a mandrel.")
@click.option("--kind", default="", metavar="KIND", help="Of that mandrel: steel, wood, plastic or household.")
@replace_option
@common_options
def command(
    keep: str, kind: str, replace: bool, as_json: bool, units: str | None, bench_dir: str | None, **given: Any
) -> None:
    """The diameter of a rod from what you read, and how far it can be trusted.

    The strip and the wire go round it and read the right mean of an oval rod; a caliper reads one way only.

    \b
      coilwright measure rod --strip "7.95 mm" --strip "7.90 mm" --strip "7.95 mm" --keep "blue pen" --kind household
      coilwright measure rod --across "8.02 mm" --right-angles "7.91 mm" --other-end "7.98 mm"
      coilwright measure rod --unwound "565.2 mm" --turns 20 --wire "1.02 mm" --wire-good-for "0.01 mm"
    """
    from jigs.actions.keep_measured import keep_mandrel
    from jigs.actions.measure import RodReadings, measure_rod

    bench = bench_path(bench_dir)
    given, wire, keep = asked_rod(given, wire_of(given), keep)
    common = common_of(given)
    readings = RodReadings(**{key: value for key, value in given.items() if value is not None})
    with in_units(units, bench_dir):
        found = measure_rod(bench, readings, common, wire)
        say_found(found, as_json=as_json)
        if keep:
            say_kept(keep_mandrel(bench, keep, found, kind=kind, replace=replace), as_json=as_json)
