"""The next batch after one that was recorded: the mandrel that gives the ring that was wanted."""

from __future__ import annotations

from dataclasses import dataclass

from jigs.bench.bench import Bench
from jigs.bench.knowledge import knowledge_of, material_of, recorded_cut_of
from jigs.bench.record import Record
from jigs.making.batch import RODS_SHOWN, Batch, RodChoice
from jigs.planning.recorded import law_for, law_on
from layouts.errors import Refusal


@dataclass(frozen=True, slots=True, kw_only=True)
class NextBatch:
    """What to wind on for a closed ring of the wanted inside [mm]: the exact mandrel and the nearest, yours first."""

    wanted_mm: float
    mandrel_mm: float
    choices: tuple[RodChoice, ...]


def next_batch(record: Record, expected_mm: float, bench: Bench) -> NextBatch | None:
    """For the ring that was wanted, or else that was expected; None where no mandrel gives it."""
    wanted = record.wanted_mm or round(expected_mm, 2)
    material, known = material_of(record), knowledge_of(bench)
    cut = known.cut(recorded_cut_of(record, bench), record.wire.diameter_mm)
    try:
        laws = law_for(bench, record.wire, material, cut, wanted, record.spool_key)
        batch = Batch(wire=record.wire, material=material, cut=cut, inside_mm=wanted, recorded=laws)
    except Refusal:
        return None
    near = sorted(bench.mandrels, key=lambda thing: (abs(thing.measured_mm - batch.acting_mandrel_mm), thing.name))
    choices = [
        batch.off_rod(
            thing.name,
            thing.kind,
            thing.measured_mm,
            owned=True,
            recorded=law_on(bench, record.wire, material, cut, thing.name, thing.measured_mm, record.spool_key),
        )
        for thing in near[:RODS_SHOWN]
    ]
    found = tuple(choice for choice in (*choices, *batch.rods) if choice is not None)
    return NextBatch(wanted_mm=wanted, mandrel_mm=batch.acting_mandrel_mm, choices=found)
