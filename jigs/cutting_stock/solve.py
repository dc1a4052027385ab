"""One-dimensional cutting stock: pieces of wire from whole lengths, with the least bought. Lengths in whole mm.

How it is solved, on the standard library alone:

1. *Fullest first*: fill a length as full as the pieces allow (exact subset sums), repeat that pattern, go on.
2. Where that leaves a gap to the bound: column generation (Gilmore & Gomory 1961, from memory) with an exact
   knapsack for the patterns, its answer rounded by diving, the rest by 1.
3. Where a gap is left still: every set of lengths whose sum is the bound, then the next sum, filled by 1.

How good it is stands in the answer: `bound_mm` is a length that no plan can go below. It is proved by a value
for each piece: if no length L can hold pieces worth more than V(L), and all pieces together are worth W, then
V(L) summed over the lengths used is at least W. Values tried: the lengths themselves, and the prices of step 2 in
whole numbers, so that no rounding enters. Where `bought_mm` equals `bound_mm`, the plan is as good as any.

Wire is snipped: a cut between pieces takes nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from math import ceil, gcd

from jigs.cutting_stock.knapsack import Work, fullest, most_worth
from jigs.cutting_stock.plan import CuttingPlan, Pattern
from jigs.cutting_stock.simplex import Master
from layouts.errors import OutOfRange

USUAL_EFFORT = 10_000_000  # inner steps; a few seconds at the most
LONGEST_MM = 10_000_000
MOST_PIECES = 4_000_000
_SCALE = 1_000_000  # prices of pieces in whole millionths
_DIVES = 3
_MOST_BARS = 1000
_SET_STEPS = 4


@dataclass(frozen=True, slots=True)
class _Choice:
    """A pattern without its times: the length it is cut from and how many of each piece."""

    stock_mm: int
    counts: tuple[int, ...]


@dataclass(slots=True)
class _Job:
    """The pieces to cut, longest first; the lengths sold and at hand; the work that may be spent; columns found."""

    sizes: tuple[int, ...]
    sold: tuple[int, ...]
    owned: tuple[int, ...]
    work: Work
    columns: list[_Choice] = field(default_factory=list)


Solution = list[tuple[_Choice, int]]


@dataclass(frozen=True, slots=True)
class _Cut:
    """What is cut from the lengths at hand, and from those bought."""

    at_hand: Solution
    bought: Solution

    @property
    def bought_mm(self) -> int:
        return _bought(self.bought)


def cut_stock(
    pieces: Mapping[int, int], sold_mm: Iterable[int], owned_mm: Iterable[int] = (), effort: int = USUAL_EFFORT
) -> CuttingPlan:
    """The pieces {length mm: how many} cut from lengths that are sold, what is at hand first; all whole mm.

    effort bounds the inner steps of the search, so that the same input always gives the same answer.

    >>> cut_stock({300: 4, 200: 5}, [1000]).lengths
    ((1000, 3),)
    """
    owned = tuple(sorted(owned_mm, reverse=True))
    job = _Job(sizes=_sizes(pieces), sold=_useful(_sold(sold_mm), pieces), owned=owned, work=Work(effort))
    needs = tuple(pieces[size] for size in job.sizes)
    at_hand, rest = _from_owned(job, needs)
    _refuse_too_long(job, rest)
    cut = _Cut(at_hand, _greedy(job, rest))
    job.sold = tuple(length for length in job.sold if length <= cut.bought_mm) or job.sold
    bound = _bound(job, needs, job.sizes)
    if cut.bought_mm > bound and job.work.allows(job.sold[0] * len(job.sizes) * 8):
        values = tuple(max(0, int(price * _SCALE)) for price in _relaxed(job, rest).prices)
        bound = max(bound, _bound(job, needs, values))
        cut = _better(job, needs, rest, cut, bound)
    return _plan(job, cut, bound)


def _better(job: _Job, needs: tuple[int, ...], rest: tuple[int, ...], cut: _Cut, bound: int) -> _Cut:
    """A plan that buys less, as long as there is a gap to the bound and work to spend; else the same."""
    for variant in range(_DIVES):
        if cut.bought_mm > bound and not job.work.is_spent:
            cut = min(cut, _Cut(cut.at_hand, _dive(job, rest, variant)), key=lambda each: each.bought_mm)
    for long_first in (False, True):
        cut = _exact_sums(job, needs, cut, bound, long_first)
    return cut


def _plan(job: _Job, cut: _Cut, bound_mm: int) -> CuttingPlan:
    patterns = (*_patterns(job, cut.at_hand, owned=True), *_patterns(job, cut.bought))
    return CuttingPlan(patterns=patterns, bound_mm=bound_mm)


def cut_from_one(pieces: Mapping[int, int], owned_mm: Iterable[int] = ()) -> CuttingPlan:
    """The pieces cut from what is at hand first, and from one bought length, just long enough, for the rest.

    >>> cut_from_one({300: 4}, [700]).lengths
    ((600, 1),)
    """
    job = _Job(sizes=_sizes(pieces), sold=(), owned=tuple(sorted(owned_mm, reverse=True)), work=Work(0))
    needs = tuple(pieces[size] for size in job.sizes)
    at_hand, rest = _from_owned(job, needs)
    total = sum(size * need for size, need in zip(job.sizes, rest, strict=True))
    all_mm = sum(size * need for size, need in zip(job.sizes, needs, strict=True))
    held = sum(_most(job, needs, job.sizes, length) for length in job.owned)
    return _plan(job, _Cut(at_hand, [(_Choice(total, rest), 1)] if total else []), max(0, all_mm - held))


def _sizes(pieces: Mapping[int, int]) -> tuple[int, ...]:
    if any(size < 1 or count < 1 for size, count in pieces.items()):
        raise OutOfRange("a piece of no length, or none of a piece, cannot be cut", "give whole numbers above zero")
    if sum(pieces.values()) > MOST_PIECES:
        raise OutOfRange(f"{sum(pieces.values())} pieces are too many", f"give at most {MOST_PIECES}")
    return tuple(sorted(pieces, reverse=True))


def _sold(sold_mm: Iterable[int]) -> tuple[int, ...]:
    sold = tuple(sorted(set(sold_mm), reverse=True))
    if not sold or sold[-1] < 1 or sold[0] > LONGEST_MM:
        raise OutOfRange("there is no length to cut from", f"give lengths from 1 to {LONGEST_MM} mm")
    return sold


def _useful(sold: tuple[int, ...], pieces: Mapping[int, int]) -> tuple[int, ...]:
    """The lengths without those that are longer than one which already holds everything."""
    total = sum(size * count for size, count in pieces.items())
    enough = [length for length in sold if length >= total]
    return tuple(length for length in sold if length < total or length == min(enough))


def _refuse_too_long(job: _Job, needs: tuple[int, ...]) -> None:
    longest = max((size for size, need in zip(job.sizes, needs, strict=True) if need), default=0)
    if longest > job.sold[0]:
        raise OutOfRange(
            f"a piece of {longest} mm is longer than the longest length sold, {job.sold[0]} mm",
            "wind shorter coils, or buy longer wire",
        )


# -- fullest first


def _from_owned(job: _Job, needs: tuple[int, ...]) -> tuple[Solution, tuple[int, ...]]:
    """What is at hand, each filled as full as can be, and the pieces still needed."""
    used: Solution = []
    for length in job.owned:
        counts = fullest(job.sizes, needs, length)
        if any(counts):
            used.append((_Choice(length, counts), 1))
            needs = _less(needs, counts, 1)
    return used, needs


def _greedy(job: _Job, needs: tuple[int, ...]) -> Solution:
    """Fullest first, from all the lengths sold or from one of them alone, whichever buys least."""
    ways = [job.sold, *((length,) for length in job.sold if len(job.sold) > 1)]
    longest = max((size for size, need in zip(job.sizes, needs, strict=True) if need), default=0)
    return min((_fill(job, needs, way) for way in ways if longest <= max(way)), key=_bought)


def _fill(job: _Job, needs: tuple[int, ...], lengths: tuple[int, ...]) -> Solution:
    solution: Solution = []
    while any(needs):
        choice = _fullest_of(job, needs, lengths)
        times = min(need // count for need, count in zip(needs, choice.counts, strict=True) if count)
        solution.append((choice, times))
        needs = _less(needs, choice.counts, times)
    return solution


def _fullest_of(job: _Job, needs: tuple[int, ...], lengths: tuple[int, ...]) -> _Choice:
    """The shortest length that takes all that is left; else the one that wastes the smallest part."""
    total = sum(size * need for size, need in zip(job.sizes, needs, strict=True))
    enough = [length for length in lengths if length >= total]
    if enough:
        return _Choice(min(enough), needs)
    choices = [_Choice(length, fullest(job.sizes, needs, length)) for length in lengths]
    return max(choices, key=lambda choice: _held(job, choice) / choice.stock_mm)


def _exact_sums(job: _Job, needs: tuple[int, ...], cut: _Cut, least: int, long_first: bool) -> _Cut:
    """A plan from some set of lengths with the least sum that works, each filled in turn; else the same as given."""
    at_hand = tuple((length, True) for length in job.owned)
    total = least
    while (total := _next_sum(job.sold, total)) < cut.bought_mm:
        for lengths in _sets(job.sold, total):
            bars = tuple((length, False) for length in lengths)
            for order in (at_hand + bars, bars + at_hand, at_hand[::-1] + bars[::-1], bars[::-1] + at_hand[::-1]):
                found = _filled(job, needs, order, long_first)
                if found is not None:
                    return found
                if job.work.is_spent:
                    return cut
        total += 1
    return cut


def _filled(job: _Job, needs: tuple[int, ...], bars: tuple[tuple[int, bool], ...], long_first: bool) -> _Cut | None:
    """All pieces from these bars, (length, whether at hand), one after another; None where they do not fit.

    Each takes the fullest choice of what is left, or, long_first, the choice with the largest sum of squares.
    """
    squares = tuple(size * size for size in job.sizes)
    at_hand: Solution = []
    bought: Solution = []
    for length, owned in bars:
        job.work.spend(length * len(job.sizes) // 8)
        if job.work.is_spent:
            return None
        if long_first:
            counts = most_worth(job.sizes, needs, squares, length, job.work)
        else:
            counts = fullest(job.sizes, needs, length)
        if any(counts):
            (at_hand if owned else bought).append((_Choice(length, counts), 1))
        needs = _less(needs, counts, 1)
    return None if any(needs) else _Cut(at_hand, bought)


def _sets(sold: tuple[int, ...], total: int) -> Iterator[tuple[int, ...]]:
    """Every set of lengths, at most 1,000 of them, with exactly this sum; the longest first."""
    longest, *others = sold
    if not others:
        if total % longest == 0 and total // longest <= _MOST_BARS:
            yield (longest,) * (total // longest)
        return
    for count in range(total // longest, -1, -1):
        if count <= _MOST_BARS:
            for rest in _sets(tuple(others), total - count * longest):
                if count + len(rest) <= _MOST_BARS:
                    yield (longest,) * count + rest


# -- the bound


def _bound(job: _Job, needs: tuple[int, ...], values: tuple[int, ...]) -> int:
    """The least length that must be bought, by these values of the pieces: see the head of this file."""
    worth = sum(value * need for value, need in zip(values, needs, strict=True))
    worth -= sum(_most(job, needs, values, length) for length in job.owned)
    if worth <= 0:
        return 0
    holds = [(length, _most(job, needs, values, length)) for length in job.sold]
    least = min(-(-worth * length // most) for length, most in holds if most)
    if len(job.sold) == 1:
        return job.sold[0] * -(-worth // holds[0][1])
    return _least_sum(job, dict(holds), worth, least)


def _least_sum(job: _Job, holds: dict[int, int], worth: int, least: int) -> int:
    """The smallest sum of lengths, from `least` on, that can hold so much worth; smaller ones are proved too small."""
    while not job.work.is_spent:
        least = _next_sum(job.sold, least)
        if least // job.sold[-1] > _MOST_BARS:
            return least
        for bars in _sets(job.sold, least):
            job.work.spend(len(bars) * _SET_STEPS)
            if job.work.is_spent or sum(holds[length] for length in bars) >= worth:
                return least
        least += 1
    return least


def _most(job: _Job, needs: tuple[int, ...], values: tuple[int, ...], length: int) -> int:
    """The most that pieces in one length are worth."""
    counts = (
        fullest(job.sizes, needs, length)
        if values == job.sizes
        else most_worth(job.sizes, needs, values, length, job.work)
    )
    return sum(value * count for value, count in zip(values, counts, strict=True))


def _next_sum(sold: tuple[int, ...], least: int) -> int:
    """The smallest sum of lengths sold that is not under a length; past 100,000 steps only a multiple of their gcd."""
    step = gcd(*sold)
    target = ceil(least / step)
    top = target + sold[-1] // step
    if top > 100_000:
        return target * step
    reached = 1
    for length in sold:
        shift = length // step
        while (grown := (reached | reached << shift) & ((1 << top + 1) - 1)) != reached:
            reached, shift = grown, shift * 2
    above = reached >> target
    return (target + (above & -above).bit_length() - 1) * step


# -- column generation


def _relaxed(job: _Job, needs: tuple[int, ...]) -> Master[_Choice]:
    """The cutting problem with parts of lengths allowed, solved: which patterns, and what a piece is worth."""
    master: Master[_Choice] = Master(needs)
    for i in range(len(needs)):
        choice = _Choice(job.sold[0], tuple(1 if j == i else 0 for j in range(len(needs))))
        master.start_with(i, choice, choice.counts, choice.stock_mm)
    for choice in job.columns:
        if all(count <= need for count, need in zip(choice.counts, needs, strict=True)):
            master.improve(choice, choice.counts, choice.stock_mm)
    while not job.work.is_spent:
        choice = _best_priced(job, needs, master.prices)
        if not master.improve(choice, choice.counts, choice.stock_mm):
            break
        job.columns.append(choice)
    return master


def _best_priced(job: _Job, needs: tuple[int, ...], prices: list[float]) -> _Choice:
    """The pattern whose pieces are worth most against its length."""
    values = tuple(max(0, int(price * _SCALE)) for price in prices)
    choices = [_Choice(length, most_worth(job.sizes, needs, values, length, job.work)) for length in job.sold]

    def gain(choice: _Choice) -> int:
        return sum(v * c for v, c in zip(values, choice.counts, strict=True)) - _SCALE * choice.stock_mm

    return max(choices, key=gain)


def _dive(job: _Job, needs: tuple[int, ...], variant: int) -> Solution:
    """A whole-number plan: keep whole patterns of the relaxed one, then the largest part of one, and solve again."""
    fixed: Solution = []
    best = _greedy(job, needs)
    while any(needs) and not job.work.is_spent:
        kept = _kept(_relaxed(job, needs).solution(), variant, first=not fixed)
        for choice, times in kept:
            times = min(times, *(n // c for n, c in zip(needs, choice.counts, strict=True) if c))
            if times:
                fixed.append((choice, times))
                needs = _less(needs, choice.counts, times)
        best = min(best, fixed + _greedy(job, needs) if any(needs) else list(fixed), key=_bought)
    return best


def _kept(solution: list[tuple[_Choice, float]], variant: int, first: bool) -> Solution:
    """The whole parts; where there are none, one of the pattern that is nearest to a whole one."""
    whole = [(choice, int(amount + 1e-9)) for choice, amount in solution if amount >= 1 - 1e-9]
    if whole:
        return whole
    ranked = sorted(solution, key=lambda pair: (-pair[1], pair[0].counts))
    return [(ranked[min(variant if first else 0, len(ranked) - 1)][0], 1)]


# -- small parts


def _less(needs: tuple[int, ...], counts: tuple[int, ...], times: int) -> tuple[int, ...]:
    return tuple(need - count * times for need, count in zip(needs, counts, strict=True))


def _held(job: _Job, choice: _Choice) -> int:
    return sum(size * count for size, count in zip(job.sizes, choice.counts, strict=True))


def _bought(solution: Solution) -> int:
    return sum(choice.stock_mm * times for choice, times in solution)


def _patterns(job: _Job, solution: Solution, owned: bool = False) -> Iterator[Pattern]:
    """The patterns, the fullest first; a pattern that was chosen twice is one."""
    times: dict[_Choice, int] = {}
    for choice, count in solution:
        times[choice] = times.get(choice, 0) + count
    for choice in sorted(times, key=lambda choice: (choice.stock_mm - _held(job, choice), choice.counts)):
        pieces = tuple((size, count) for size, count in zip(job.sizes, choice.counts, strict=True) if count)
        yield Pattern(stock_mm=choice.stock_mm, owned=owned, pieces=pieces, times=times[choice])
