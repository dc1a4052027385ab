"""What to wind: windings alike, a row for each lot; each is released, snipped into its sections and sawn."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from jigs.making.winding import CoilPlan
from jigs.reports.report import BOXES, COUNT, LENGTH_LONG, LENGTH_WHOLE, TURNS, Column, Report

if TYPE_CHECKING:
    from jigs.planning.shares import Lot


def winding(lots: Sequence[Lot | CoilPlan]) -> Report:
    """Windings, turns, what they measure once released, and good rings; the wire for each where it is known."""
    is_cut = not any(isinstance(lot, CoilPlan) for lot in lots)
    return Report(
        key="windings",
        heading="Wind",
        columns=(
            Column("count", "windings", BOXES),
            Column("cut_mm", "wire for each", LENGTH_WHOLE, people=is_cut, scripts=is_cut),
            Column("turns", "turns to wind", COUNT),
            Column("free_turns", "turns released", TURNS),
            Column("length_mm", "length released", LENGTH_LONG),
            Column("sections", "sections", COUNT),
            Column("rings", "good rings", COUNT),
        ),
        rows=tuple(
            (
                lot.coils,
                None if isinstance(lot, CoilPlan) else lot.cut_mm,
                lot.turns,
                lot.free_turns,
                lot.length_mm,
                lot.sections,
                lot.rings,
            )
            for lot in lots
        ),
    )
