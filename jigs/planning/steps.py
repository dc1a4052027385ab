"""The whole steps in which wire is cut: a millimetre, or a sixteenth of an inch. The solver counts in them alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from jigs.cutting_stock.effort import Work
from jigs.cutting_stock.plan import CuttingPlan
from jigs.cutting_stock.solve import cut_from_one, cut_stock
from layouts.lengths import down_to_step


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """Between lengths in mm and steps of so many mm."""

    step_mm: float

    def of(self, mm: float) -> int:
        """The steps of a length that is whole ones."""
        return round(mm / self.step_mm)

    def mm(self, steps: int) -> float:
        """The length of so many steps; a whole number of mm where the step is one."""
        return down_to_step(steps * self.step_mm, self.step_mm)

    def cut(
        self, pieces: Mapping[float, int], sold: Sequence[float], owned: Sequence[float], work: Work
    ) -> CuttingPlan:
        """How pieces {mm: how many} are cut, from lengths sold or, without any, from one as long as it takes."""
        wanted = {self.of(mm): many for mm, many in pieces.items()}
        lengths, at_hand = [self.of(mm) for mm in sold], [self.of(mm) for mm in owned]
        cutting = cut_stock(wanted, lengths, at_hand, work) if sold else cut_from_one(wanted, at_hand)
        return cutting if self.step_mm == 1 else self._in_mm(cutting)

    def _in_mm(self, cutting: CuttingPlan) -> CuttingPlan:
        patterns = tuple(
            replace(
                pattern,
                stock_mm=self.mm(round(pattern.stock_mm)),
                pieces=tuple((self.mm(round(length)), many) for length, many in pattern.pieces),
            )
            for pattern in cutting.patterns
        )
        paid, bound_paid, bound_mm = cutting.paid, cutting.bound_paid, cutting.bound_mm
        return CuttingPlan(
            patterns=patterns,
            paid=self.mm(round(paid)),
            bound_paid=self.mm(round(bound_paid)),
            bound_mm=self.mm(round(bound_mm)),
        )
