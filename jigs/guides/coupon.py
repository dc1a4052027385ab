"""The coupon among the aids of the bench: cut or printed once, it measures the machine."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigs.guides.catalogue import Sheet
from jigs.guides.jobs import CutFrom, CutJob, SolidJob
from layouts.cutting.laying import Blank
from layouts.lengths import sized
from layouts.machines import coupon

if TYPE_CHECKING:
    from layouts.machines.machine import Machine


def _cut(material: CutFrom) -> CutJob:
    discs = (Blank(drawing=coupon.coupon_disc(size)) for size in coupon.DISCS_MM)
    row = Blank(drawing=coupon.coupon_block(), count=coupon.BLOCKS, may_turn=False)
    return CutJob(
        title="Coupon",
        blanks=(Blank(drawing=coupon.coupon_plate(), may_turn=False), row, *discs),
        facts=(("holes", ", ".join(f"{size:.3f}" for size in coupon.HOLES_MM) + " mm"),),
        notes=(
            "Cut it as it is, in the material and thickness that you will use, with the power and speed that just cut"
            " through. Leave it as it lies on the machine until you have marked which way is across.",
            "Holes: find the thickest drill shank that goes in without force, and the next that does not. Shanks in"
            " steps of 0.1 mm will do: each hole lies on another place of a step.",
            f"Window: lay the ten blocks in it, as they were cut, push them together, and try the gap with shanks or a"
            f" caliper, or lay a rule on it. It is eleven kerfs: {sized(1.65, 2)} is a kerf of {sized(0.15, 2)}.",
            f"Crosses: read {sized(coupon.ACROSS_MM)} across and {sized(coupon.ALONG_MM)} along, cross to cross."
            " Discs: read both with a caliper, if you have one.",
        ),
        as_drawn=True,
    )


def _solid(machine: Machine | None) -> SolidJob:
    from jigs.guides.pieces.printed_coupon import coupon_job  # for what is cut it is not needed

    return coupon_job(machine)


SHEET = Sheet(
    name="coupon",
    summary="What to print once, to measure a 3D printer.",
    cut_summary="What to cut once, to measure a laser or a knife; tried with drill shanks, without a caliper.",
    about=(
        "A plate with holes and slots to try with drill shanks, pins and tabs to read with a caliper, and crosses to"
        " measure between: printed once for each printer and plastic, as drawn.",
        "What it reads goes into the machine's record; what is made for that machine is then corrected, and says how"
        " far it can be trusted.",
    ),
    fields=(),
    cut=_cut,
    solid=_solid,
    solid_examples=({"format": "3mf,pdf"}, {"format": "stl"}),
    cut_examples=({"material": "birch plywood", "material_thickness": "3 mm"}, {"tool": "knife", "sheet": "a4"}),
    place=12,
    use="cut or print it first, try it, record the machine",
)
