"""How pieces are cut from lengths, what that buys and what it leaves. Lengths in mm, as they were given."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

_PLACES = 4  # of a millimetre: a sixteenth of an inch has four; whole numbers stay whole


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """One way to cut a length, and how many lengths are cut so. pieces: (length mm, how many), longest first."""

    stock_mm: float
    owned: bool
    pieces: tuple[tuple[float, int], ...]
    times: int

    @property
    def used_mm(self) -> float:
        """The pieces of one length, end to end."""
        return round(sum(length * count for length, count in self.pieces), _PLACES)

    @property
    def left_mm(self) -> float:
        """What is left of one length."""
        return round(self.stock_mm - self.used_mm, _PLACES)


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """Every length to cut and how; paid is the price of what is bought, in the unit in which prices were given.

    Every plan pays bound_paid or more, and one that pays just that buys bound_mm or more. Where every mm
    costs alike, no plan at all buys less.
    """

    patterns: tuple[Pattern, ...]
    paid: float
    bound_paid: float
    bound_mm: float

    @property
    def bought_mm(self) -> float:
        """All lengths bought, end to end."""
        return round(sum(p.stock_mm * p.times for p in self.patterns if not p.owned), _PLACES)

    @property
    def cut_mm(self) -> float:
        """All pieces, end to end."""
        return round(sum(p.used_mm * p.times for p in self.patterns), _PLACES)

    @property
    def owned_used_mm(self) -> float:
        """The pieces that come from what is at hand, end to end."""
        return round(sum(p.used_mm * p.times for p in self.patterns if p.owned), _PLACES)

    @property
    def left_mm(self) -> float:
        """What is left of the lengths bought."""
        return round(sum(p.left_mm * p.times for p in self.patterns if not p.owned), _PLACES)

    @property
    def lengths(self) -> tuple[tuple[float, int], ...]:
        """What to buy: (length mm, how many), longest first."""
        return _counted((p.stock_mm, p.times) for p in self.patterns if not p.owned)

    @property
    def offcuts(self) -> tuple[tuple[float, int], ...]:
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


def _counted(pairs: Iterable[tuple[float, int]]) -> tuple[tuple[float, int], ...]:
    counts: dict[float, int] = {}
    for length, times in pairs:
        counts[length] = counts.get(length, 0) + times
    return tuple(sorted(counts.items(), reverse=True))
