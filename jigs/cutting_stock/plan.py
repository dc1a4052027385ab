"""How pieces are cut from lengths, what that buys and what it leaves. Lengths in whole mm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """One way to cut a length, and how many lengths are cut so. pieces: (length mm, how many), longest first."""

    stock_mm: int
    owned: bool
    pieces: tuple[tuple[int, int], ...]
    times: int

    @property
    def used_mm(self) -> int:
        """The pieces of one length, end to end."""
        return sum(length * count for length, count in self.pieces)

    @property
    def left_mm(self) -> int:
        """What is left of one length."""
        return self.stock_mm - self.used_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """Every length to cut and how; paid is the price of what is bought, in the unit in which prices were given.

    Every plan pays bound_paid or more, and one that pays just that buys bound_mm or more. Where every mm
    costs alike, no plan at all buys less.
    """

    patterns: tuple[Pattern, ...]
    paid: int
    bound_paid: int
    bound_mm: int

    @property
    def bought_mm(self) -> int:
        """All lengths bought, end to end."""
        return sum(p.stock_mm * p.times for p in self.patterns if not p.owned)

    @property
    def cut_mm(self) -> int:
        """All pieces, end to end."""
        return sum(p.used_mm * p.times for p in self.patterns)

    @property
    def owned_used_mm(self) -> int:
        """The pieces that come from what is at hand, end to end."""
        return sum(p.used_mm * p.times for p in self.patterns if p.owned)

    @property
    def left_mm(self) -> int:
        """What is left of the lengths bought."""
        return sum(p.left_mm * p.times for p in self.patterns if not p.owned)

    @property
    def lengths(self) -> tuple[tuple[int, int], ...]:
        """What to buy: (length mm, how many), longest first."""
        return _counted((p.stock_mm, p.times) for p in self.patterns if not p.owned)

    @property
    def offcuts(self) -> tuple[tuple[int, int], ...]:
        """What is left over, at hand or bought: (length mm, how many), longest first."""
        return _counted((p.left_mm, p.times) for p in self.patterns if p.left_mm)

    @property
    def is_proved(self) -> bool:
        """Whether no plan can pay less, nor buy less for as little."""
        return (self.paid, self.bought_mm) == (self.bound_paid, self.bound_mm)

    @property
    def proof(self) -> str:
        """How good the plan is, in words."""
        if self.is_proved:
            return "proved: no plan buys less"
        if self.paid > self.bound_paid and self.bought_mm <= self.bound_mm:
            return f"no plan can be more than {100 * (1 - self.bound_paid / self.paid):.2g} % cheaper"
        return f"no plan buys less than {self.bound_mm} mm"


def _counted(pairs: Iterable[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    counts: dict[int, int] = {}
    for length, times in pairs:
        counts[length] = counts.get(length, 0) + times
    return tuple(sorted(counts.items(), reverse=True))
