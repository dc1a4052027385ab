"""A trial coil of a metal that has no records: it alone says how the wire springs, with the band of how it was read."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

from jigs.bench.bench import Bench
from jigs.bench.knowledge import Knowledge, RecordedLaw, rod_by_size, trial_of
from jigs.bench.record import Record
from jigs.making.bending import law_of_trial
from jigs.making.learning import Learnt
from jigs.making.trial import INDEX

FREE = 10.0  # standard deviation of ln(Y / E): so wide that the coil alone says where it is


@lru_cache(maxsize=16)
def knowledge_of_coil(record: Record, bench: Bench) -> Knowledge:
    """What a trial coil says that stands alone: its own size off its own rod, and off others as its wire hardens.

    The band is that of the model of records, with nothing known of the springback before: how coil and rod were read,
    one winding against another, the hardening, which tells the more the further the spring index is from the one that
    was tried, and the cut.

    Refuses a coil that is smaller than its mandrel.
    """
    trial, coil = trial_of(record, bench), record.trial
    if coil and coil.is_measured and trial.rod.name == rod_by_size(coil.mandrel_mm):  # the usual way for a rod
        trial = replace(trial, rod=replace(trial.rod, instrument=bench.instrument("caliper")))
    [reading] = trial.readings
    wire_mm, rod_mm, n = trial.wire.diameter_mm, trial.rod.diameter_mm, trial.wire.hardening[0]
    inside = coil.inside_mm if coil else rod_mm

    def flow(opened_to_mm: float) -> float:
        """ln(Y / E) at the index 5."""
        seen = law_of_trial(wire_mm=wire_mm, mandrel_mm=rod_mm, inside_mm=opened_to_mm).yield_strain
        return math.log(seen) + n * math.log((rod_mm / wire_mm + 1) / INDEX) if seen else -math.inf

    law = RecordedLaw(log_yield=flow(inside), hardening=n, wire_mm=wire_mm)
    # One that hardly opened may have opened by what its reading is off; a logarithm of nothing has no slope to say so.
    drawn_at = max(inside, rod_mm + reading.instrument.uncertainty_mm(reading.mm))
    learnt = Learnt(
        [
            replace(
                trial,
                wire=replace(trial.wire, log_yield=(flow(drawn_at), FREE)),
                readings=(replace(reading, mm=reading.mm + drawn_at - inside),),
            )
        ]
    )
    return Knowledge(bench=replace(bench, records=(record,)), learnt=learnt, doubts=(), shown=law)
