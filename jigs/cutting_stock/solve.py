"""One-dimensional cutting stock: pieces from whole lengths, least paid, then least bought. Lengths in whole mm.

How it is solved, on the standard library alone:

1. *Fullest first*: fill a length as full as the pieces allow (exact subset sums), repeat that pattern, go on.
2. Where that leaves a gap to the bound: column generation gives a better bound, and its answer is rounded.
3. Where a gap is left still: sets of lengths, the cheapest first, each searched for a plan until one is found
   (`counts.py`, `search.py`). Those without a plan, searched to the end, raise the bound.

How good it is stands in the answer: a bound that no plan can go below (`bound.py`). Where a plan reaches it, the plan
is as good as any. All of it is bounded by counted work, never by a clock, so that an input has one answer.

Pieces are snipped: a cut between them takes nothing.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from jigs.cutting_stock.bound import STEADY, Relaxed, by_length, relax
from jigs.cutting_stock.counts import climb
from jigs.cutting_stock.effort import Work
from jigs.cutting_stock.filling import fitting, greedy, rounded, shuffled
from jigs.cutting_stock.knapsack import fullest, fullest_mm
from jigs.cutting_stock.plan import CuttingPlan, Pattern
from jigs.cutting_stock.problem import Best, Choice, Length, PaidSums, Problem, Solution, Sums, less
from layouts.errors import OutOfRange

USUAL_EFFORT = 10_000_000  # inner steps: under two seconds
LONGEST_MM = 10_000_000
MOST_PIECES = 4_000_000
_SEARCHED_PIECES = 150
_SHUFFLES = 40
_CUT_ANEW = (40, 70, 100, 140, 60, 90, 120)  # pieces of the most wasteful lengths that are cut anew


def cut_stock(
    pieces: Mapping[int, int],
    sold_mm: Iterable[int] | Mapping[int, int],
    owned_mm: Iterable[int] = (),
    work: Work | None = None,
) -> CuttingPlan:
    """The pieces {length mm: how many} cut from lengths sold and at hand, all whole mm: least paid, then least bought.

    A mapping gives the price of each length sold, in any whole unit; without one, every mm costs alike. What is at
    hand costs nothing. `work` bounds the search and is used up by it; several problems may share one. Refuses
    (`OutOfRange`) what cannot be cut.

    >>> cut_stock({300: 4, 200: 5}, [1000]).lengths
    ((1000, 3),)
    >>> cut_stock({300: 4, 200: 5}, {1000: 50, 500: 20}).lengths
    ((500, 5),)
    """
    work = Work(USUAL_EFFORT) if work is None else work
    sizes, owned = _sizes(pieces), sorted(owned_mm, reverse=True)
    prices = _prices(sold_mm)
    if sizes[0] > max(*prices, *owned, 0):
        raise OutOfRange(
            f"a piece of {sizes[0]} mm is longer than the longest length sold, {max(prices)} mm",
            "cut it into shorter pieces, or buy longer lengths",
        )
    at_hand = tuple(Length(mm, 0, owned.count(mm)) for mm in dict.fromkeys(owned) if mm >= sizes[-1])
    unpriced = Problem(sizes, tuple(pieces[size] for size in sizes), at_hand)
    tariff = _Tariff.of(unpriced, prices, work)
    problem = replace(unpriced, lengths=at_hand + tariff.lengths)
    solution = greedy(problem, work)
    best = Best(solution, problem.cost(solution), 0)
    # a length that costs more than a whole plan does is idle
    kept = [at for at, length in enumerate(problem.lengths) if length.cost <= best.cost or length.limit is not None]
    problem = replace(problem, lengths=tuple(problem.lengths[at] for at in kept))
    best.solution = [(Choice(kept.index(choice.at), choice.counts), times) for choice, times in solution]
    _improve(problem, best, tariff.sums(best.cost), work)
    return CuttingPlan(
        patterns=tuple(_patterns(problem, best.solution)),
        paid=sum(prices[problem.lengths[c.at].mm] * n for c, n in best.solution if c.at >= len(at_hand)),
        bound_paid=tariff.paid(best.bound),
        bound_mm=tariff.bought_mm(best.bound),
    )


def _prices(sold_mm: Iterable[int] | Mapping[int, int]) -> dict[int, int]:
    """The price of each length sold, the longest first."""
    prices = dict(sold_mm) if isinstance(sold_mm, Mapping) else {mm: mm for mm in sold_mm}
    if not prices or min(prices) < 1 or max(prices) > LONGEST_MM:
        raise OutOfRange("no length to cut from is given", f"give lengths from 1 to {LONGEST_MM} mm")
    if min(prices.values()) < 0:
        raise OutOfRange(f"a price of {min(prices.values())} for a length", "give zero or more")
    return dict(sorted(prices.items(), reverse=True))


def cut_from_one(pieces: Mapping[int, int], owned_mm: Iterable[int] = ()) -> CuttingPlan:
    """The pieces cut from what is at hand first, and from one bought length, just long enough, for the rest.

    >>> cut_from_one({300: 4}, [700]).lengths
    ((600, 1),)
    """
    sizes, owned = _sizes(pieces), sorted(owned_mm, reverse=True)
    needs = tuple(pieces[size] for size in sizes)
    patterns, rest = [], needs
    for mm in owned:
        counts = fullest(sizes, rest, mm)
        if any(counts):
            patterns.append(_pattern(sizes, mm, counts, 1, owned=True))
            rest = less(rest, counts, 1)
    all_mm, rest_mm = (sum(size * need for size, need in zip(sizes, some, strict=True)) for some in (needs, rest))
    if rest_mm:
        patterns.append(_pattern(sizes, rest_mm, rest, 1, owned=False))
    bound = max(0, all_mm - sum(fullest_mm(sizes, needs, mm) for mm in owned))
    return CuttingPlan(patterns=tuple(patterns), paid=rest_mm, bound_paid=bound, bound_mm=bound)


def _sizes(pieces: Mapping[int, int]) -> tuple[int, ...]:
    if not pieces or any(size < 1 or count < 1 for size, count in pieces.items()):
        raise OutOfRange("a piece without a length, or zero of a piece, cannot be cut", "give whole numbers above zero")
    if sum(pieces.values()) > MOST_PIECES:
        raise OutOfRange(f"{sum(pieces.values())} pieces are too many", f"give at most {MOST_PIECES}")
    return tuple(sorted(pieces, reverse=True))


# -- least paid, then least bought, as one number


@dataclass(frozen=True, slots=True)
class _Tariff:
    """The lengths sold, each at one cost that puts price before length: price x big + length.

    Where every mm costs alike (`big` is 0), the length alone says both.
    """

    prices: Mapping[int, int]
    big: int

    @classmethod
    def of(cls, unpriced: Problem, prices: Mapping[int, int], work: Work) -> _Tariff:
        """With `big` over the material of any plan of these pieces that pays the least."""
        mm, price = next(iter(prices.items()))
        if all(price * other == here * mm for other, here in prices.items()):
            return cls(prices, 0)
        if min(prices.values()) == 0:
            return cls(prices, sum(unpriced.needs) * mm + 1)
        priced = replace(unpriced, lengths=unpriced.lengths + tuple(Length(*pair) for pair in prices.items()))
        paid = priced.cost(greedy(priced, work))
        # no plan that pays no more has more material than this
        return cls(prices, max(paid * other // here for other, here in prices.items()) + 1)

    @property
    def lengths(self) -> tuple[Length, ...]:
        return tuple(Length(mm, price * self.big + mm) for mm, price in self.prices.items())

    def sums(self, top: int) -> Sums:
        return PaidSums(self.prices.values(), self.big, top) if self.big else Sums(self.prices, top)

    def paid(self, cost: int) -> int:
        """The price in a cost; where every mm costs alike, of so many mm, rounded up."""
        if self.big:
            return cost // self.big
        mm, price = next(iter(self.prices.items()))
        return -(-cost * price // mm)

    def bought_mm(self, cost: int) -> int:
        return cost % self.big if self.big else cost


# -- from the first plan to the best


def _improve(problem: Problem, best: Best, sums: Sums, work: Work) -> None:
    """A better plan and a better bound, as long as there is a gap and work to spend."""
    best.bound = max(best.bound, by_length(problem, sums))
    if best.is_proved or work.is_spent or not problem.sold:
        return
    is_small = sum(problem.needs) <= _SEARCHED_PIECES
    if not is_small and best.cost - best.bound <= max(problem.lengths[at].cost for at in problem.sold):
        # where little is wasted, the values of the relaxed problem have little to add
        with work.lend(0.4) as lent:
            _cut_wasteful_anew(problem, best, sums, lent)
        if best.is_proved:
            return
    relaxed, first = Relaxed([], (), (), 0), [choice for choice, _ in best.solution]
    # many kinds take long to relax from nothing; few are soon done, and both ways round to different plans
    for steady in (0.0, STEADY) if is_small else (STEADY,):
        with work.lend(0.6) as lent:
            again = relax(problem, sums, best.cost, first if steady else [], lent, steady)
        best.bound = max(best.bound, again.bound)
        relaxed = relaxed if relaxed.values else again
        if best.is_proved:
            return
        with work.lend(0.3) as lent:
            best.take(problem, rounded(problem, again, best.cost, lent))
        if best.is_proved:
            return
    if is_small:
        with work.lend(0.15) as lent:
            for seed in range(_SHUFFLES):
                if best.is_proved or lent.is_spent:
                    break
                best.take(problem, shuffled(problem, seed, lent))
        climb(problem, best, sums, relaxed, work)
    else:
        _search_rest(problem, best, sums, relaxed, work)
        _cut_wasteful_anew(problem, best, sums, work)


def _cut_wasteful_anew(problem: Problem, best: Best, sums: Sums, work: Work) -> None:
    """The lengths with the most waste, and some full ones beside them, as a problem of their own, time after time."""
    for most in _CUT_ANEW:
        if best.is_proved or work.is_spent:
            return
        ranked = sorted(
            ((choice, 1) for choice, times in best.solution for _ in range(times)),
            key=lambda pair: (problem.held(pair[0].counts) / problem.lengths[pair[0].at].mm, pair[0]),
        )
        pieces = list(accumulate(sum(choice.counts) for choice, _ in ranked))
        freed = bisect_left(pieces, most)
        fixed, rest = ranked[freed:], problem.after(ranked[freed:])
        kinds = [kind for kind, need in enumerate(rest.needs) if need]
        small = replace(rest, sizes=tuple(rest.sizes[k] for k in kinds), needs=tuple(rest.needs[k] for k in kinds))
        solution = greedy(small, work)
        found = Best(solution, small.cost(solution), best.bound - problem.cost(fixed))
        with work.lend(0.5) as lent:
            _improve(small, found, sums, lent)
        whole = []
        for choice, times in found.solution:
            counts = dict(zip(kinds, choice.counts, strict=True))
            whole.append((Choice(choice.at, tuple(counts.get(k, 0) for k in range(len(problem.sizes)))), times))
        best.take(problem, fixed + whole)


def _search_rest(problem: Problem, best: Best, sums: Sums, relaxed: Relaxed, work: Work) -> None:
    """Most of a large plan as the relaxed one has it, and the rest as a problem of its own."""
    for spare in (0, 1):
        whole = [(choice, int(amount + 1e-6) - spare) for choice, amount in relaxed.amounts]
        fixed = fitting(problem, [(choice, times) for choice, times in whole if times > 0])
        rest = problem.after(fixed)
        if best.is_proved or work.is_spent or not fixed or not any(rest.needs):
            return
        solution = greedy(rest, work)
        found = Best(solution, rest.cost(solution), best.bound - problem.cost(fixed))
        with work.lend(0.6) as lent:
            _improve(rest, found, sums, lent)
        best.take(problem, fixed + found.solution)


def _patterns(problem: Problem, solution: Solution) -> Iterator[Pattern]:
    """The patterns, those at hand first, then the fullest first; a pattern that was chosen twice is one."""
    times: Counter[Choice] = Counter()
    for choice, count in solution:
        times[choice] += count

    def rank(choice: Choice) -> tuple[bool, int, tuple[int, ...], int]:
        length = problem.lengths[choice.at]
        return length.limit is None, length.mm - problem.held(choice.counts), choice.counts, choice.at

    for choice in sorted(times, key=rank):
        length = problem.lengths[choice.at]
        yield _pattern(problem.sizes, length.mm, choice.counts, times[choice], owned=length.limit is not None)


def _pattern(sizes: Sequence[int], mm: int, counts: Sequence[int], times: int, owned: bool) -> Pattern:
    pieces = tuple((size, count) for size, count in zip(sizes, counts, strict=True) if count)
    return Pattern(stock_mm=mm, owned=owned, pieces=pieces, times=times)
