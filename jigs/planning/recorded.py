"""Springback by what was recorded, for a mandrel or for a ring that is wanted; None where nothing was recorded."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from jigs.bench.bench import Bench
from jigs.making.cutting import Cut
from jigs.making.material import LawBand, Material
from jigs.stock.wire import Wire

if TYPE_CHECKING:
    from jigs.bench.knowledge import Knowledge
    from jigs.making.trial import TrialCoil


def law_on(
    bench: Bench, wire: Wire, material: Material, cut: Cut, mandrel: str, mandrel_mm: float, spool: str = ""
) -> LawBand | None:
    """How the wire springs off a mandrel: one of the bench by its name, else a rod of this size [mm]."""
    if not bench.records and not spool:
        return None
    known = _known(bench)
    return known.laws(wire, material, cut, known.rod(mandrel, mandrel_mm), spool, always=bool(spool))


def law_for(
    bench: Bench, wire: Wire, material: Material, cut: Cut, inside_mm: float, spool: str = ""
) -> LawBand | None:
    """How the wire springs off the rod that gives a closed ring of this inside [mm], as near as it need be known."""
    if not bench.records and not spool:
        return None
    from jigs.making.trial import Rod

    known = _known(bench)
    rod_mm = inside_mm
    for _ in range(4):  # the coil opens by a few parts in a hundred, and less of that each time
        rod = Rod(name="", diameter_mm=max(0.2, rod_mm), exact=True)
        ring = known.expected(wire, material, cut, rod, spool)[1].mm
        rod_mm = max(0.3 * inside_mm, rod_mm - (ring - inside_mm))
    rod = Rod(name="", diameter_mm=rod_mm, exact=True)
    return known.laws(wire, material, cut, rod, spool, always=bool(spool))


def with_coil(bench: Bench, wire: Wire, material: Material, coil: TrialCoil | None, spool: str = "") -> Bench:
    """The bench with a trial coil as one record more: beside those of its metal; without any it stands alone.

    Refuses (`UnknownName`) an instrument that does not read coils.
    """
    if coil is None:
        return bench
    from jigs.bench.knowledge import rod_by_size
    from jigs.bench.record import NO_METAL, Record

    metal, temper = (material.metal.name if material.metal else NO_METAL), "soft"
    temper = material.temper.name if material.temper else temper
    alone = not any((record.metal, record.temper) == (metal, temper) for record in bench.records)
    owned = coil.mandrel or next((one.name for one in bench.mandrels if one.measured_mm == coil.mandrel_mm), "")
    outside = coil.inside_mm + 2 * wire.diameter_mm
    record = Record(
        name="trial coil",
        wire=wire,
        metal=metal,
        temper=temper,
        spool=_known(bench).spool_for(wire, f"{metal}, {temper}", spool),
        mandrel=owned or rod_by_size(coil.mandrel_mm),
        measured_mm=coil.mandrel_mm,
        is_measured=coil.is_measured,
        coil_inside=() if coil.of_outside else (coil.inside_mm,),
        coil_outside=(outside,) if coil.of_outside else (),
        instrument=bench.instrument(coil.instrument or "caliper", "outside" if coil.of_outside else "inside").name,
        confirmed=True,
        trial=coil if alone else None,
    )
    return replace(bench, records=(*bench.records, record))


def cut_with(bench: Bench, cut: Cut, wire: Wire) -> Cut:
    """The cut with the kerf or the trim that was recorded, where nothing was measured."""
    if not bench.records:
        return cut
    from jigs.bench.knowledge import knowledge_of

    return knowledge_of(bench).cut(cut, wire.diameter_mm)


def _known(bench: Bench) -> Knowledge:
    """What the records say, or a trial coil that stands alone; what learns is loaded where there are any."""
    from jigs.bench.knowledge import knowledge_of

    if (last := bench.records[-1:]) and last[0].trial:
        from jigs.bench.trial_coil import knowledge_of_coil

        return knowledge_of_coil(last[0], replace(bench, records=()))
    return knowledge_of(bench)
