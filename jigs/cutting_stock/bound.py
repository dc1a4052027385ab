"""What no plan can go below, and the patterns that come near: column generation and the bounds it proves.

Column generation after Gilmore & Gomory (1961, from memory), stopped when the work is spent. A bound is proved by a
value for each piece: if a length L can hold pieces worth V(L) at most, and all pieces together are worth W, then V(L)
summed over the lengths used is at least W. Values are whole numbers, so that no rounding enters, and any values give
a true bound, good or poor (Farley 1990, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from jigs.cutting_stock.effort import Work
from jigs.cutting_stock.knapsack import Worth, fullest_mm
from jigs.cutting_stock.problem import Choice, Problem, Sums
from jigs.cutting_stock.simplex import Master

FINE = 1_000_000  # values of pieces are whole parts of a cost unit
_MOST_COVER = 5_000
STEADY = 0.6
_RELATIVE = 10**7  # a pattern worth so little more than it costs is not looked for


@dataclass(slots=True)
class Relaxed:
    """The problem with parts of lengths allowed: patterns and their amounts, values, what each length holds at most."""

    amounts: list[tuple[Choice, float]]
    values: tuple[int, ...]
    holds: tuple[int, ...]
    bound: int
    columns: list[Choice] = field(default_factory=list)


def bound_by(problem: Problem, values: Sequence[int], holds: Sequence[int], sums: Sums) -> int:
    """The least cost by these values of the pieces, where each length holds so much at most."""
    worth, sold = _worth(problem, values, holds)
    if worth <= 0 or any(not cost for cost, _ in sold):
        return 0
    return sums.at_least(min(-(-worth * cost // most) for cost, most in sold if most))


def covered(problem: Problem, values: Sequence[int], holds: Sequence[int], sums: Sums) -> int:
    """As `bound_by`, for whole lengths: the least sum of costs that hold so much; 0 where that is long work."""
    worth, sold = _worth(problem, values, holds)
    if worth <= 0 or any(not cost for cost, _ in sold):
        return 0
    ways = sorted(((cost, most) for cost, most in sold if most), key=lambda way: way[0] / way[1])
    best, turns = sums.top * sums.step + sums.step, _MOST_COVER

    def walk(place: int, worth: int, paid: int) -> None:
        nonlocal best, turns
        cost, most = ways[place]
        for count in range(-(-worth // most), -1, -1):
            turns -= 1
            lacks, here = worth - count * most, paid + count * cost
            if lacks <= 0:
                best = min(best, here)
                continue
            if place + 1 == len(ways) or turns < 0:
                return
            cheapest = -(-lacks * ways[place + 1][0] // ways[place + 1][1])
            if sums.at_least(here + cheapest) >= best:
                return  # fewer of this one leave more to the next, which holds less for its cost
            walk(place + 1, lacks, here)

    walk(0, worth, 0)
    return best if turns >= 0 else 0


def _worth(problem: Problem, values: Sequence[int], holds: Sequence[int]) -> tuple[int, list[tuple[int, int]]]:
    """What must come from lengths sold, and of each what it costs and holds; nothing where none holds anything."""
    sold = [(problem.lengths[at].cost, holds[at]) for at in problem.sold]
    if not any(most for _, most in sold):
        return 0, sold
    worth = sum(value * need for value, need in zip(values, problem.needs, strict=True))
    return worth - sum(limit * holds[at] for at, limit in problem.owned), sold


def is_short(problem: Problem, values: Sequence[int], holds: Sequence[int]) -> bool:
    """Whether there are only so many of each length, and they cannot hold what all pieces are worth."""
    worth = sum(value * need for value, need in zip(values, problem.needs, strict=True))
    return not problem.sold and worth > sum(limit * holds[at] for at, limit in problem.owned)


def by_length(problem: Problem, sums: Sums) -> int:
    """The bound when a piece is worth its length."""
    holds = tuple(fullest_mm(problem.sizes, problem.needs, length.mm) for length in problem.lengths)
    return max(bound_by(problem, problem.sizes, holds, sums), covered(problem, problem.sizes, holds, sums))


class _Programme:
    """The relaxed problem as a linear programme: a row for each piece, and one for each length at hand."""

    def __init__(self, problem: Problem, known: int) -> None:
        """Each piece from the length that costs least for it alone; one that only fits what is at hand is a lack."""
        self.problem = problem
        self.rows = {at: len(problem.sizes) + place for place, (at, _) in enumerate(problem.owned)}
        self.master: Master[Choice] = Master([*problem.needs, *(-limit for _, limit in problem.owned)])
        for row, (size, need) in enumerate(zip(problem.sizes, problem.needs, strict=True)):
            ways = [
                (problem.lengths[at].cost / min(problem.lengths[at].mm // size, max(1, need)), at)
                for at in problem.sold
                if problem.lengths[at].mm >= size
            ]
            if not ways:
                self.master.start_with(row, None, 1, float(known + 1))
                continue
            _, at = min(ways)
            many = min(problem.lengths[at].mm // size, max(1, need))
            counts = tuple(many if i == row else 0 for i in range(len(problem.sizes)))
            self.master.start_with(row, Choice(at, counts), many, float(problem.lengths[at].cost))

    def priced(self, values: Sequence[int], work: Work, part: float) -> tuple[tuple[int, ...], list[Choice]]:
        """What each length holds at most by these values, and the choices that are worth more than they cost."""
        worth = Worth(self.problem.sizes, self.problem.needs, values)
        holds, found = [], []
        for at, length in enumerate(self.problem.lengths):
            asked = length.cost + (self.master.prices[self.rows[at]] if at in self.rows else 0.0)
            floor = int(asked * FINE) + length.cost * FINE // _RELATIVE + 1
            most, counts = worth.most(length.mm, int(floor * part), work)
            holds.append(most)
            if counts is not None:
                found.append((asked * FINE - most, Choice(at, counts)))
        return tuple(holds), [choice for _, choice in sorted(found)]

    def take(self, choice: Choice) -> bool:
        """Gives a choice to the programme; whether that lowers the cost."""
        entries = [(row, count) for row, count in enumerate(choice.counts) if count]
        if choice.at in self.rows:
            entries.append((self.rows[choice.at], -1))
        return self.master.improve(choice, entries, float(self.problem.lengths[choice.at].cost))


def relax(
    problem: Problem, sums: Sums, known: int, columns: Sequence[Choice], work: Work, steady: float = 0.0
) -> Relaxed:
    """The relaxed problem as far as the work goes; `known` is what some plan costs.

    The prices of many kinds swing wildly before they settle. `steady` draws them that far towards the best values so
    far, at first those by length: half the rounds do (smoothing, Wentges 1997, from memory).
    """
    programme = _Programme(problem, known)
    master = programme.master
    best = Relaxed([], (), (), 0, list(columns))
    for choice in columns:
        programme.take(choice)
    size, spent = len(master.prices), 0
    # at first a piece is worth its length, at what a mm costs where it costs least
    each = min((problem.lengths[at].cost / problem.lengths[at].mm for at in problem.sold), default=0.0)
    centre, drawn = [size_mm * each for size_mm in problem.sizes], steady
    while not work.is_spent and (best.bound < known or not problem.sold):
        prices = master.prices[: len(problem.sizes)]
        mixed = [drawn * mid + (1 - drawn) * price for mid, price in zip(centre, prices, strict=True)]
        values = tuple(max(0, int(price * FINE)) for price in mixed)
        holds, found = programme.priced(values, work, 0.9 if drawn else 1.0)
        bound = bound_by(problem, values, holds, sums)
        if bound >= best.bound:
            best.values, best.holds, best.bound = values, holds, bound
            centre = mixed
        if is_short(problem, values, holds):
            return best
        # every choice is offered, though the first may leave nothing to gain by the next
        improved = any([programme.take(choice) for choice in found])
        best.columns += found
        work.spend((master.pivots - spent) * size * (size // 2 + 8) + 10 * size)
        spent = master.pivots
        if not improved and not drawn:
            best.values, best.holds = values, holds
            break
        drawn = drawn and steady if improved else max(0.0, drawn - 0.2)
    best.amounts = master.solution()
    if best.values:
        best.bound = max(best.bound, covered(problem, best.values, best.holds, sums))
    return best
