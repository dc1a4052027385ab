"""The numbers of a ring: figures for scripts, and for people the ledger, the workings, what to wind and on what."""

from __future__ import annotations

from dataclasses import replace

from jigs.making.batch import Batch, RodChoice
from jigs.orders.price import Price, amount
from jigs.orders.weave import Verdict
from jigs.reports.ledger import ledger
from jigs.reports.report import (
    ANGLE,
    CHANGE,
    COUNT,
    LENGTH,
    LENGTH_WHOLE,
    MASS_FINE,
    MONEY,
    RATIO_FINE,
    WORDS,
    CellKind,
    Column,
    Report,
    record,
    table_of,
)
from jigs.reports.winding import winding
from jigs.reports.words import plural, verdict_words, waste_words
from jigs.stock.gauges import neighbours
from layouts.lengths import length_in_full, sized, sized_short

_KINDS: dict[str, tuple[str, CellKind]] = {  # keys as of Batch.figures
    "wire_mm": ("wire", LENGTH),
    "mandrel_mm": ("mandrel", LENGTH),
    "springback_ratio": ("springback, free / wound", RATIO_FINE),
    "coil_inside_mm": ("coil ID", LENGTH),
    "coil_inside_low_mm": ("coil ID, low", LENGTH),
    "coil_inside_high_mm": ("coil ID, high", LENGTH),
    "pitch_mm": ("pitch", LENGTH),
    "helix_angle_deg": ("helix angle", ANGLE),
    "turn_length_mm": ("wire in one turn", LENGTH),
    "cut": ("cut", WORDS),
    "cut_loss_mm": ("lost in a cut", LENGTH),
    "ring_inside_mm": ("closed ID", LENGTH),
    "ring_outside_mm": ("OD", LENGTH),
    "aspect_ratio": ("AR", RATIO_FINE),
    "wire_per_ring_mm": ("wire per ring, with waste", LENGTH),
    "ring_mass_g": ("mass of one ring", MASS_FINE),
    "rings": ("good rings", COUNT),
    "wire_total_mm": ("wire in all", LENGTH_WHOLE),
}
_NEAR_A_GAUGE = 0.01  # so far a drawn wire may be off its gauge (common practice, no source)
_WORKINGS = ("pitch_mm", "helix_angle_deg", "turn_length_mm", "ring_mass_g")


def ring_report(
    batch: Batch,
    *,
    owned: tuple[RodChoice, ...] = (),
    verdict: Verdict | None = None,
    notes: tuple[str, ...] = (),
) -> Report:
    """All there is to say of a batch; for scripts the keys of `Batch.figures`, and ledger, coils and rods.

    owned: the mandrels of the bench that come nearest; notes: what was taken where nothing was given.
    """
    figures = batch.figures()
    everything = record(
        "ring",
        tuple(Column(key, *_KINDS[key], people=False) for key in figures),
        tuple(figures.values()),
    )
    keys = (*_WORKINGS, "wire_per_ring_mm") if batch.plan else _WORKINGS
    workings = replace(everything.pick(*keys), key="workings", heading="One turn, one ring", scripts=False)
    metal = batch.material
    wire = f"{batch.wire.given}: {length_in_full(batch.wire.diameter_mm)}"
    near = min(neighbours(batch.wire.diameter_mm), key=lambda system: abs(system.residue_mm))
    if batch.wire.gauge is None and 0 < abs(near.residue_mm) < _NEAR_A_GAUGE * batch.wire.diameter_mm:
        wire += f"; near {near.nearest}, {sized_short(near.nearest.diameter_mm, 3, 3)}"
    columns = Column("wire", "wire"), Column("metal", "metal"), Column("wanted", "wanted"), Column("weave", "weave")
    aim = batch.wanted
    wanted = f"ID {sized(aim.inside_mm, 3)}, OD {sized(aim.outside_mm, 3)}, AR {aim.aspect_ratio:.3f}" if aim else None
    weave = f"{verdict.weave.name}, {verdict_words(verdict)} ({verdict.weave.source})" if verdict else None
    given = record("given", columns, (wire, metal.name or None, wanted, weave), notes=notes, scripts=False)
    weighed = f"Weighed at {metal.density_basis}."
    if batch.ring_mass_g is None:
        weighed = "The mass is not known: neither metal nor density is given."
    parts = [given, ledger(batch.ledger), replace(workings, notes=(weighed,))]
    if (count := batch.ring_count) and (total := batch.wire_total_mm):
        left = "" if batch.wire_left_mm is None else f", {sized_short(batch.wire_left_mm, 0)} left over"
        rings = f"{sized_short(total, 0)} of wire for {plural(count, 'ring')}{left}"
        waste = waste_words(batch.rejects, batch.tails_mm)
        parts.append(replace(winding(batch.plan), notes=(f"In all {rings}; {waste}.",)))
    if metal.bad_cut or metal.polish:
        care = tuple(remark.words if remark else None for remark in (metal.bad_cut, metal.polish))
        columns_of_care = Column("bad_cut", "a bad cut"), Column("finish", "finish")
        parts.append(record("care", columns_of_care, care, scripts=False))
    if sold := batch.rods:
        parts.append(_rods((*owned, *sold), "Your nearest mandrels, then rods as sold" if owned else ""))
    return replace(everything, parts=tuple(parts))


def cost_report(price: Price, cents: int) -> Report:
    """What the wire of a batch costs at a price, waste included."""
    columns = Column("price", "price"), Column("cost", "cost of the wire", MONEY, unit=price.currency)
    return record("cost", columns, (price.given, amount(cents)), heading="What the wire costs")


def _rods(choices: tuple[RodChoice, ...], which: str) -> Report:
    return table_of(
        "rods",
        choices,
        {
            Column("name", "rod"): lambda choice: choice.name,
            Column("kind", ""): lambda choice: choice.kind,
            Column("owned", "yours", people=bool(which)): lambda choice: choice.owned,
            Column("diameter_mm", "diameter", LENGTH): lambda choice: choice.diameter_mm,
            Column("ring_inside_mm", "closed ID", LENGTH): lambda choice: choice.ring.inside_mm,
            Column("off_mm", "off", CHANGE): lambda choice: choice.off_mm,
            Column("ring_outside_mm", "OD", LENGTH): lambda choice: choice.ring.outside_mm,
            Column("ring_ratio", "AR", RATIO_FINE): lambda choice: choice.ring.aspect_ratio,
        },
        heading=f"{which or 'The nearest rods'}, and the ring off each",
    )
