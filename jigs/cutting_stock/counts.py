"""How many of each length: sets of lengths tried in order of cost, until one holds all pieces.

Values of pieces rule sets out, many at a time: if a length L can hold pieces worth V(L) at most, a set whose V(L) sum
up to less than all pieces are worth is too small, whatever the values are. Where the values known so far do not rule
a set out, the relaxed problem of that set gives new ones that do, or says which patterns an exact search needs.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from jigs.cutting_stock.bound import FINE, Relaxed, relax
from jigs.cutting_stock.effort import Work
from jigs.cutting_stock.knapsack import fullest_mm
from jigs.cutting_stock.problem import Best, Problem, Sums
from jigs.cutting_stock.search import Values, seek

_MOST_SETS = 50_000
_STEP = 20

_Set = tuple[int, tuple[int, ...]]  # what a set of lengths costs, and how many of each


class _Rules:
    """What is known of sets of lengths: values by which some are too small, those that last ruled one out first."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.rules: list[tuple[list[int], int]] = []

    def add(self, values: Sequence[int], holds: Sequence[int]) -> None:
        """What the sold lengths hold, and what they must hold beside what is at hand."""
        worth = sum(value * need for value, need in zip(values, self.problem.needs, strict=True))
        worth -= sum(limit * holds[at] for at, limit in self.problem.owned)
        self.rules.insert(0, ([holds[at] for at in self.problem.sold], worth))

    def exclude(self, counts: Sequence[int]) -> bool:
        """Whether a set is too small."""
        for place, (holds, worth) in enumerate(self.rules):
            if sum(map(int.__mul__, holds, counts)) < worth:
                self.rules.insert(0, self.rules.pop(place))
                return True
        return False

    def likely(self, best: Best, work: Work) -> tuple[list[_Set], int]:
        """The sets of lengths from the bound to below a cost that are not too small, the cheapest first; that cost.

        It is the cost of the best plan, or less where that would be too many sets.
        """
        costs, below = [self.problem.lengths[at].cost for at in self.problem.sold], best.cost
        while below > best.bound and not work.is_spent:
            turns = Work(_MOST_SETS)
            sets = [pair for pair in _sets(costs, best.bound, below, turns) if not self.exclude(pair[1])]
            work.spend(_STEP * (_MOST_SETS - turns.left))
            if not turns.is_spent:
                return sorted(sets), below
            below = best.bound + (below - best.bound) // 8
        return [], best.bound


def climb(problem: Problem, best: Best, sums: Sums, relaxed: Relaxed, work: Work) -> None:
    """Sets of lengths from the bound upward until one holds all; the bound rises as far as sets are refuted."""
    costs = [problem.lengths[at].cost for at in problem.sold]
    if not all(costs):
        return
    rules = _Rules(problem)
    rules.add(problem.sizes, [fullest_mm(problem.sizes, problem.needs, length.mm) for length in problem.lengths])
    rules.add(relaxed.values, relaxed.holds)
    sets, left_open = rules.likely(best, work)
    for cost, counts in sets:
        if cost >= best.cost:
            break
        work.spend(_STEP * len(rules.rules))
        if rules.exclude(counts):
            continue
        if work.is_spent:
            left_open = min(left_open, cost)
            break
        limits = dict(zip(problem.sold, counts, strict=True))
        limited = replace(
            problem,
            lengths=tuple(
                length._replace(limit=limits.get(at, length.limit)) for at, length in enumerate(problem.lengths)
            ),
        )
        with work.lend(0.1) as lent:
            tried = relax(limited, sums, 4 * max(costs), relaxed.columns, lent)
        rules.add(tried.values, tried.holds)
        if rules.exclude(counts):
            continue
        with work.lend(0.3) as lent:
            outcome = seek(limited, 0, Values(tried.values, tried.holds, FINE), lent)
        if outcome.solution is not None:
            best.take(limited, outcome.solution)
        elif not outcome.is_proved:
            left_open = min(left_open, cost)
    best.bound = max(best.bound, min(left_open, best.cost))


def _sets(costs: Sequence[int], least: int, below: int, turns: Work) -> Iterator[_Set]:
    """Every (cost, how many of each length) whose cost is not under `least` and under `below`, while turns last."""
    cost, *others = costs
    if not others:
        last = range(max(0, -(-least // cost)), (below - 1) // cost + 1)
        turns.spend(1 + len(last))
        if not turns.is_spent:
            yield from ((count * cost, (count,)) for count in last)
        return
    for count in range((below - 1) // cost + 1):
        if turns.is_spent:
            return
        turns.spend(1)
        here = count * cost
        for more, counts in _sets(others, least - here, below - here, turns):
            yield here + more, (count, *counts)
