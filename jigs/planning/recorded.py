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


def with_coil(
    bench: Bench, wire: Wire, material: Material, inside_mm: float | None, mandrel_mm: float | None, spool: str = ""
) -> Bench:
    """The bench with a trial coil as one record more, where the metal has records; where it has none, as it was.

    Without any record of its metal a trial coil alone says how the wire springs, and needs no model.
    """
    if inside_mm is None or mandrel_mm is None or not bench.records:
        return bench
    from jigs.bench.record import NO_METAL, Record

    metal, temper = (material.metal.name if material.metal else NO_METAL), "soft"
    temper = material.temper.name if material.temper else temper
    if not any((record.metal, record.temper) == (metal, temper) for record in bench.records):
        return bench
    owned = next((one.name for one in bench.mandrels if one.measured_mm == mandrel_mm), "")
    coil = Record(
        name="trial coil",
        wire=wire,
        metal=metal,
        temper=temper,
        spool=_known(bench).spool_for(wire, f"{metal}, {temper}", spool),
        mandrel=owned or f"{mandrel_mm:g} mm",
        measured_mm=mandrel_mm,
        coil_inside=(inside_mm,),
        confirmed=True,
    )
    return replace(bench, records=(*bench.records, coil))


def cut_with(bench: Bench, cut: Cut, wire: Wire) -> Cut:
    """The cut with the kerf or the trim that was recorded, where nothing was measured."""
    return _known(bench).cut(cut, wire.diameter_mm) if bench.records else cut


def _known(bench: Bench) -> Knowledge:
    """What the records say; what learns from them is loaded where there are any."""
    from jigs.bench.knowledge import knowledge_of

    return knowledge_of(bench)
