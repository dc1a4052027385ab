"""A cutting problem in whole numbers: pieces, lengths with what they cost, choices of pieces, and whole solutions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import gcd
from operator import mul
from typing import NamedTuple

_MOST_BITS = 200_000


class Length(NamedTuple):
    """One length to cut from: mm, what one costs, and how many there are; None for as many as are wanted."""

    mm: int
    cost: int
    limit: int | None = None


class Choice(NamedTuple):
    """What is cut from one length: its place among the lengths, and how many of each piece."""

    at: int
    counts: tuple[int, ...]


Solution = list[tuple[Choice, int]]


@dataclass(frozen=True, slots=True)
class Problem:
    """Pieces, the longest first, and how many of each; lengths: those at hand (cost 0, a limit), then those sold."""

    sizes: tuple[int, ...]
    needs: tuple[int, ...]
    lengths: tuple[Length, ...]

    @property
    def sold(self) -> list[int]:
        """The places of the lengths that are sold."""
        return [at for at, length in enumerate(self.lengths) if length.limit is None]

    @property
    def owned(self) -> list[tuple[int, int]]:
        """The places of the lengths at hand, and how many there are of each."""
        return [(at, length.limit) for at, length in enumerate(self.lengths) if length.limit is not None]

    def cost(self, solution: Solution) -> int:
        """What a solution costs."""
        return sum(self.lengths[choice.at].cost * times for choice, times in solution)

    def held(self, counts: Sequence[int]) -> int:
        """The length of so many pieces, end to end."""
        return sum(map(mul, self.sizes, counts))

    def after(self, fixed: Solution) -> Problem:
        """What is left to cut when part of a solution is fixed."""
        needs, lengths = self.needs, list(self.lengths)
        for choice, times in fixed:
            needs = less(needs, choice.counts, times)
            mm, cost, limit = lengths[choice.at]
            lengths[choice.at] = Length(mm, cost, None if limit is None else limit - times)
        return Problem(self.sizes, needs, tuple(lengths))


@dataclass(slots=True)
class Best:
    """The best solution so far, what it costs, and what no solution costs less than."""

    solution: Solution
    cost: int
    bound: int

    def take(self, problem: Problem, solution: Solution) -> None:
        """Keeps a solution that costs less."""
        cost = problem.cost(solution)
        if cost < self.cost:
            self.solution, self.cost = solution, cost

    @property
    def is_proved(self) -> bool:
        """Whether no solution costs less."""
        return self.cost <= self.bound


def less(needs: Sequence[int], counts: Sequence[int], times: int) -> tuple[int, ...]:
    """What is still needed after so many choices alike."""
    return tuple(need - count * times for need, count in zip(needs, counts, strict=True))


class Sums:
    """Which totals can be paid at all: the sums of so many costs. Beyond a limit all whole steps are taken for sums."""

    def __init__(self, costs: Iterable[int], top: int) -> None:
        some = sorted({cost for cost in costs if cost})
        self.step = gcd(*some) or 1
        self.top = top // self.step + 1
        self.bits = min(self.top, _MOST_BITS) if some else -1
        self.reached, mask = 1, (1 << self.bits + 1) - 1
        for cost in some:
            shift = cost // self.step
            while shift <= self.bits:
                grown = (self.reached | self.reached << shift) & mask
                if grown == self.reached:
                    break
                self.reached, shift = grown, shift * 2

    def at_least(self, least: int) -> int:
        """The smallest sum not under `least`, where it is known; else the next whole number of steps."""
        target = -(-least // self.step)
        above = self.reached >> target if 0 <= target <= self.bits else 0
        return (target + (above & -above).bit_length() - 1) * self.step if above else target * self.step


class PaidSums(Sums):
    """Sums of costs that are a price, times `big`, and a material less than `big`: the price is a sum of prices."""

    def __init__(self, prices: Iterable[int], big: int, top: int) -> None:
        super().__init__((), top)
        self.big, self.prices = big, Sums(prices, top // big)

    def at_least(self, least: int) -> int:
        """The smallest such cost not under `least`, as far as the price tells."""
        price = self.prices.at_least(least // self.big)
        return max(least, price * self.big)
