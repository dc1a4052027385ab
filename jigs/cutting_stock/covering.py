"""Runs cut from lengths sold, where runs may be as long as is best: the way that is exact for one kind of yield.

A run of n units takes `fixed + n x each` mm of a length and yields some of them, never fewer for more units. First
the most that each length yields in so many runs, with the least cut; then the lengths whose yields together cover what
is needed: least paid, then least cut, then fewest runs, spread evenly. Lengths in mm, prices in any whole unit.
"""

from __future__ import annotations

import operator
from bisect import bisect_left
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor
from typing import NamedTuple

from layouts.errors import OutOfRange
from layouts.units import finite, positive

MOST_NEEDED = 1_000_000
_MOST_TURNS = 1_000_000
_SLACK = 1e-6
_FEW = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Runs:
    """What a run takes and yields. yields(n): what n units give, a whole number that never falls as n grows."""

    fixed_mm: float
    each_mm: float
    most_units: int
    yields: Callable[[int], int]

    def __post_init__(self) -> None:
        positive(self.each_mm, "a unit of a run")
        if finite(self.fixed_mm, "the fixed part of a run") < 0:
            raise OutOfRange(f"a fixed part of {self.fixed_mm:g} mm is negative", "give zero or more")
        if self.most_units < 1 or self.yields(self.most_units) < 1:
            raise OutOfRange(f"a run of {self.most_units} units yields nothing", "allow longer runs")

    def cut_mm(self, units: int) -> int:
        """The length to cut for one run, in whole mm, rounded up."""
        return ceil(self.fixed_mm + units * self.each_mm - _SLACK)

    def units_for(self, wanted: int) -> int:
        """The fewest units of a run that yields so much."""
        return bisect_left(range(1, self.most_units + 1), wanted, key=self.yields) + 1

    def units_in(self, mm: int) -> int:
        """The most units of one run from so many mm; 0 where one does not fit."""
        return max(0, min(self.most_units, floor((mm + _SLACK - self.fixed_mm) / self.each_mm)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Covered:
    """So many lengths cut alike. runs: (units, yield, how many), the longest first; cut_mm of one length."""

    stock_mm: int
    times: int
    runs: tuple[tuple[int, int, int], ...]
    cut_mm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """Lengths and runs that yield what is needed, least paid. is_proved: nor can less be cut for as little."""

    lengths: tuple[Covered, ...]
    paid: int
    is_proved: bool

    @property
    def cut_mm(self) -> int:
        """What all runs take."""
        return sum(each.times * each.cut_mm for each in self.lengths)

    @property
    def bought_mm(self) -> int:
        """All lengths, end to end."""
        return sum(each.times * each.stock_mm for each in self.lengths)

    @property
    def yielded(self) -> int:
        """What all runs yield."""
        return sum(each.times * got * many for each in self.lengths for _, got, many in each.runs)

    @property
    def runs(self) -> int:
        """How many runs there are."""
        return sum(each.times * many for each in self.lengths for *_, many in each.runs)


def cover(needed: int, prices: Mapping[int, int], runs: Runs) -> Cover:
    """The lengths {mm: price} and runs that yield at least so much: least paid, least cut, fewest runs, evenly long.

    Refuses (`OutOfRange`) a number that is not whole or not over zero, and lengths from which no run yields anything.

    >>> cover(12, {305: 3, 1524: 12}, Runs(fixed_mm=65, each_mm=25, most_units=40, yields=lambda n: n - 2)).paid
    6
    """
    if not 1 <= needed <= MOST_NEEDED:
        raise OutOfRange(f"{needed} is not a number to cover", f"give 1 to {MOST_NEEDED}")
    if not prices or min(prices) < 1 or min(prices.values()) < 0:
        raise OutOfRange("no length to cut from is given", "give lengths of 1 mm or more, at prices of zero or more")
    cheapest = _cheapest(needed, max(prices), runs)
    most = {mm: max(n for n, part in enumerate(cheapest) if part.cut_mm <= mm) for mm in sorted(prices)}
    most = {mm: n for mm, n in most.items() if n}
    if not most:
        least = runs.cut_mm(runs.units_for(1))
        raise OutOfRange(
            f"a run that yields anything takes {least} mm, and the longest length is {max(prices)} mm",
            "take longer lengths, or a shorter fixed part",
        )
    paid, whole = _least_paid(needed, most, prices)
    # of very many, most are the length used most, cut for all it yields; what is left is shared out
    bulk_mm, often = Counter(whole).most_common(1)[0]
    bulk = max(0, min(often, -(-(needed - _MOST_TURNS // sum(most.values())) // most[bulk_mm])))
    parts = _shared(needed - bulk * most[bulk_mm], most, prices, cheapest) + [(bulk_mm, most[bulk_mm])] * bulk
    if sum(prices[mm] for mm, _ in parts) > paid:
        parts = [(mm, most[mm]) for mm in whole]
    lengths = (
        Covered(stock_mm=mm, times=times, runs=_runs(n, cheapest, runs), cut_mm=cheapest[n].cut_mm)
        for (mm, n), times in sorted(Counter(parts).items(), reverse=True)
    )
    return Cover(lengths=tuple(lengths), paid=paid, is_proved=not bulk and not _is_long(max(most), runs))


class _Part(NamedTuple):
    """The least cut for a yield, in how many runs, and the yield of one of them; the rest is the part before it."""

    cut_mm: int
    many: int
    got: int


def _runs(n: int, cheapest: Sequence[_Part], runs: Runs) -> tuple[tuple[int, int, int], ...]:
    """The runs of a yield by units, evenly long where that takes no more."""
    wanted, units, left = n, [], n
    while left:
        units.append(runs.units_for(cheapest[left].got))
        left -= cheapest[left].got
    each, more = divmod(sum(units), len(units))
    even = [each + 1] * more + [each] * (len(units) - more)
    enough = sum(map(runs.yields, even)) >= wanted and max(even) <= runs.most_units
    if enough and sum(map(runs.cut_mm, even)) <= cheapest[n].cut_mm:
        units = even
    return tuple((n, runs.yields(n), many) for n, many in sorted(Counter(units).items(), reverse=True))


def _cheapest(needed: int, longest: int, runs: Runs) -> list[_Part]:
    """For each yield from 0 on, the least that runs take for it from one length, as far as one length goes."""
    longest_run = runs.yields(runs.units_in(longest)) if runs.units_in(longest) else 0
    singles = [(got, runs.cut_mm(runs.units_for(got))) for got in range(1, min(longest_run, needed) + 1)]
    tried = singles
    if _is_long(longest, runs):
        tried = [single for single in singles if single[0] == 1 or single[0] > longest_run - _FEW]
    parts = [_Part(0, 0, 0)]
    for n in range(1, needed + 1):
        # a yield that no run gives exactly is covered by the next that one gives: cuts never fall with the yield; and
        # what one run can yield is always tried in one
        some = [*tried, *singles[n - 1 : n]]
        ways = [(parts[n - got].cut_mm + cut, parts[n - got].many + 1, got) for got, cut in some if got <= n]
        if not ways or min(ways)[0] > longest:
            break
        cut_mm, many, got = min(ways)
        parts.append(_Part(cut_mm, many, got))
    return parts


def _is_long(longest: int, runs: Runs) -> bool:
    """Whether a length holds so many runs that only the longest ones are tried in it."""
    return longest // runs.each_mm * min(runs.most_units, longest // runs.each_mm) > _MOST_TURNS


def _least_paid(needed: int, most: Mapping[int, int], prices: Mapping[int, int]) -> tuple[int, list[int]]:
    """The least that must be paid, and lengths that do for it, each cut for all that it yields."""
    paid, last = [0], [0]
    ways = [(mm, got, prices[mm]) for mm, got in most.items()]
    for n in range(1, needed + 1):
        cost, mm = min((paid[max(0, n - got)] + price, mm) for mm, got, price in ways)
        paid.append(cost)
        last.append(mm)
    chosen, n = [], needed
    while n > 0:
        chosen.append(last[n])
        n -= most[last[n]]
    return paid[needed], chosen


def _shared(
    needed: int, most: Mapping[int, int], prices: Mapping[int, int], cheapest: Sequence[_Part]
) -> list[tuple[int, int]]:
    """Lengths and what each is cut for, at least so much in all: least paid, least cut, fewest runs."""
    # Paid before cut before runs, as one number: no sum of cuts or of runs reaches the figure above its own.
    run = needed + 1
    cut = run * (needed * max(part.cut_mm for part in cheapest) + 1)
    weights = {  # of each length cut for its most, and so on down to one
        mm: [prices[mm] * cut + cheapest[got].cut_mm * run + cheapest[got].many for got in range(top, 0, -1)]
        for mm, top in most.items()
    }
    best, last = [0], [(0, 0)]
    for n in range(1, needed + 1):
        ways = []
        for mm, each in weights.items():
            top = min(len(each), n)
            sums = list(map(operator.add, best[n - top :], each[-top:]))
            least = min(sums)
            ways.append((least, sums.index(least) - top, mm))  # of equal ones that which is cut for most
        least, got, mm = min(ways)
        best.append(least)
        last.append((mm, -got))
    parts, n = [], needed
    while n > 0:
        parts.append(last[n])
        n -= last[n][1]
    return parts
