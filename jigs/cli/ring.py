"""The command `ring`: the numbers of a ring, from mandrel to closed ring or back."""

from __future__ import annotations

import json
from collections.abc import Iterator
from textwrap import wrap
from typing import Any

import click

from jigs.cli.columns import columns
from jigs.cli.quantities import BLADE, DENSITY, LENGTH, METAL, MODULUS, STRESS, WIRE
from jigs.making.batch import Batch
from jigs.making.cutting import CUTS, choose_cut
from jigs.making.material import choose_material
from jigs.making.winding import USUAL_REJECTS, USUAL_TAILS_MM
from jigs.stock.figure import Figure
from jigs.stock.wire import Wire
from layouts.showing import inch_fraction, show_length

_WORDS_WIDTH = 52


@click.command("ring")
@click.option("--wire", type=WIRE, required=True, help="A gauge with its system, or a diameter.")
@click.option("--metal", type=METAL, help="A metal of the table; left out, springback is not counted.")
@click.option("--temper", metavar="TEMPER", help="soft, half-hard, hard or spring; soft when left out.")
@click.option("--mandrel", "mandrel_mm", type=LENGTH, help="What the wire is wound on, by its name.")
@click.option("--measured", "measured_mm", type=LENGTH, help="The mandrel by caliper; it counts, not the name.")
@click.option("--inside", "inside_mm", type=LENGTH, help="Or: the closed ring's inside diameter.")
@click.option("--ratio", type=float, metavar="NUMBER", help="Or: the closed ring's inside / wire.")
@click.option("--cut", type=click.Choice(CUTS), help="How the coil is cut; none when nothing says.")
@click.option("--blade", type=BLADE, help="The saw blade's size, such as 2 or 2/0.")
@click.option("--kerf", "kerf_mm", type=LENGTH, help="The saw's kerf, measured.")
@click.option("--trim", "trim_mm", type=LENGTH, help="Wire trimmed per ring by cutters; one diameter when left out.")
@click.option("--gap", "gap_mm", type=LENGTH, default=0.0, help="Gap between turns; close-wound when left out.")
@click.option("--rings", type=int, metavar="NUMBER", help="Good rings wanted.")
@click.option("--wire-length", "wire_length_mm", type=LENGTH, help="Or: the wire at hand.")
@click.option("--rejects", type=int, default=USUAL_REJECTS, show_default=True, help="Rings lost per coil.")
@click.option(
    "--tails",
    "tails_mm",
    type=LENGTH,
    default=USUAL_TAILS_MM,
    help=f"Tails per coil; {USUAL_TAILS_MM:g} mm when left out.",
)
@click.option("--coil-limit", "longest_coil_mm", type=LENGTH, help="Longest coil; for the saw 20 mm when left out.")
@click.option(
    "--coil-measured",
    "trial_inside_mm",
    type=LENGTH,
    help="Inside of a trial coil let go; replaces the metal's springback.",
)
@click.option(
    "--coil-mandrel",
    "trial_mandrel_mm",
    type=LENGTH,
    help="What the trial coil was wound on, if not this mandrel.",
)
@click.option("--density", type=DENSITY, help="Of your metal; replaces the table's.")
@click.option("--modulus", type=MODULUS, help="Of your metal; replaces the table's.")
@click.option("--strength", type=STRESS, help="Of your wire, by its certificate; replaces the table's.")
@click.option("--json", "as_json", is_flag=True, help="The same for scripts, keys with units.")
def command(as_json: bool, **given: Any) -> None:
    """The numbers of a ring: springback, cut, closed size, wire.

    Give the mandrel and see the ring, or give the ring and see the mandrel.
    Every figure says what it rests on.

    \b
      coilwright ring --wire "16 AWG" --metal copper --mandrel "5 mm" --cut saw --blade 2 --rings 100
      coilwright ring --wire "18 AWG" --metal sterling --inside "4.5 mm" --cut cutters
      coilwright ring --wire "1.2 mm" --mandrel "5/16 in" --measured "7.6 mm" --json
    """
    batch = _batch(**given)
    click.echo(json.dumps(batch.figures(), indent=2) if as_json else for_people(batch))
    for caution in batch.cautions:
        click.echo(f"CAUTION: {caution}", err=as_json)


def _batch(*, wire: Wire, **given: Any) -> Batch:
    """The batch that the options describe."""
    material = choose_material(
        given.pop("metal"),
        given.pop("temper"),
        density_g_cm3=given.pop("density"),
        modulus_gpa=given.pop("modulus"),
        strength_mpa=given.pop("strength"),
    )
    cut = choose_cut(
        given.pop("cut"),
        wire_mm=wire.diameter_mm,
        blade=given.pop("blade"),
        kerf_mm=given.pop("kerf_mm"),
        trim_mm=given.pop("trim_mm"),
    )
    return Batch(wire=wire, material=material, cut=cut, **given)


def for_people(batch: Batch) -> str:
    """The numbers of a batch as a tidy table, with what each rests on."""
    parts = [_title(batch), _ledger(batch), "\n".join(_workings(batch)), _rods(batch)]
    return "\n\n".join(part for part in parts if part) + "\n"


def _title(batch: Batch) -> str:
    wire = f"wire   {batch.wire.given}: {show_length(batch.wire.diameter_mm)}"
    return f"{wire}\nmetal  {batch.material.name}" if batch.material.name else wire


def _ledger(batch: Batch) -> str:
    rows = [row for line in batch.ledger for row in _rows(line)]
    return columns(("", "mm", "inch", "nearest 1/64", "band, mm", "rests on"), rows)


def _rows(line: Figure) -> Iterator[tuple[str, ...]]:
    """The line's row, and rows for the words that run on."""
    first, *more = wrap(line.words, _WORDS_WIDTH)
    yield (line.name, *_sizes(line), _band(line), first)
    for words in more:
        yield ("", "", "", "", "", words)


def _sizes(line: Figure) -> tuple[str, str, str]:
    """Millimetres, inches, nearest 1/64: a change has its sign and no fraction, a ratio neither."""
    if line.inches is None:
        return f"{line.value:.3f}", "", ""
    if line.is_change:
        return f"{line.value:+.3f}", f"{line.inches:+.4f}", ""
    fraction, residue = inch_fraction(line.value)
    sign = "-" if residue < 0 else "+"
    return f"{line.value:.3f}", f"{line.inches:.4f}", f"{fraction} {sign} {abs(residue):.3f} mm"


def _band(line: Figure) -> str:
    if line.low is None:
        return ""
    high = "straight" if line.high is None else f"{line.high:.3f}"
    return f"{line.low:.3f} to {high}"


def _workings(batch: Batch) -> Iterator[str]:
    """The coil, one ring, and what to wind."""
    coil, ring = batch.coil, batch.ring
    angle = f"helix angle {coil.helix_angle_deg:.2f} deg"
    yield f"coil   pitch {coil.pitch_mm:.3f} mm, {angle}, one turn {coil.turn_length_mm:.3f} mm of wire"
    yield f"ring   circumference {ring.circumference_mm:.3f} mm; wire {batch.wire_per_ring_mm:.3f} mm with waste"
    yield f"mass   {_mass(batch)}"
    if batch.plan:
        yield from _winding(batch)
    if batch.material.bad_cut and batch.material.polish:
        yield f"cut    a bad one: {batch.material.bad_cut.words}"
        yield f"finish {batch.material.polish.words}"


def _mass(batch: Batch) -> str:
    if batch.ring_mass_g is None:
        return "not known: no metal and no density given"
    return f"{batch.ring_mass_g:.4f} g a ring, at {batch.material.density_basis}"


def _winding(batch: Batch) -> Iterator[str]:
    for part in batch.plan:
        coils = "1 coil" if part.coils == 1 else f"{part.coils} coils, each"
        rings = "1 good ring" if part.rings == 1 else f"{part.rings} good rings"
        let_go = f"{part.free_turns:.1f} turns and {part.length_mm:.1f} mm long let go"
        yield f"wind   {coils} of {part.turns} turns on the mandrel, {let_go}, {rings}"
    lost = f"{batch.rejects} rejects and {batch.tails_mm:g} mm of tails per coil"
    left = "" if batch.wire_left_mm is None else f", {batch.wire_left_mm:.0f} mm left over"
    yield f"total  {batch.wire_total_mm:.0f} mm of wire for {batch.ring_count} rings{left}; {lost}"


def _rods(batch: Batch) -> str:
    if not batch.rods:
        return ""
    rows = [
        (
            choice.rod.name,
            choice.rod.kind.value,
            f"{choice.rod.diameter_mm:.3f}",
            f"{choice.ring.inside_mm:.3f}",
            f"{choice.off_mm:+.3f}",
            f"{choice.ring.outside_mm:.3f}",
            f"{choice.ring.aspect_ratio:.3f}",
        )
        for choice in batch.rods
    ]
    return columns(("nearest rods", "", "mm", "closed ID", "off", "OD", "AR"), rows)
