"""Plans made quickly: lengths filled one after another, and a relaxed plan made whole."""

from __future__ import annotations

import random
from collections.abc import Sequence
from operator import le

from jigs.cutting_stock.bound import Relaxed, relax
from jigs.cutting_stock.effort import Work
from jigs.cutting_stock.knapsack import fullest
from jigs.cutting_stock.problem import Choice, Problem, Solution, Sums, less

_WHOLE = 1e-6
_GREEDY_STEPS = 20


def greedy(problem: Problem, work: Work) -> Solution:
    """What is at hand filled as full as can be; then fullest first from all lengths or from one, or longest first."""
    used, rest = _from_owned(problem)
    longest = max((size for size, need in zip(rest.sizes, rest.needs, strict=True) if need), default=0)
    ways = [problem.sold, *([at] for at in problem.sold if len(problem.sold) > 1)]
    solutions = [used + _fill(rest, way, work) for way in ways if longest <= max(problem.lengths[at].mm for at in way)]
    if longest <= max(problem.lengths[at].mm for at in problem.sold):
        solutions.append(used + _longest_first(rest, work))
    return min(solutions, key=problem.cost)


def _longest_first(problem: Problem, work: Work) -> Solution:
    """The longest piece that is left in the length that it and others fill with the least waste, again and again.

    What is hard to place is placed while there is much to fill up with.
    """
    solution: Solution = []
    needs = problem.needs
    while any(needs):
        total = problem.held(needs)
        enough = [at for at in problem.sold if problem.lengths[at].mm >= total]
        if enough:
            return [*solution, (Choice(min(enough, key=lambda at: problem.lengths[at].cost), needs), 1)]
        longest = next(i for i, need in enumerate(needs) if need)
        others = tuple(need - (i == longest) for i, need in enumerate(needs))
        choices = []
        for at in problem.sold:
            if problem.lengths[at].mm >= problem.sizes[longest]:
                counts = fullest(problem.sizes, others, problem.lengths[at].mm - problem.sizes[longest])
                choices.append(Choice(at, tuple(count + (i == longest) for i, count in enumerate(counts))))
                work.spend(_GREEDY_STEPS * len(needs))
        choice = min(choices, key=lambda one: problem.lengths[one.at].cost / problem.held(one.counts))
        times = min(need // count for need, count in zip(needs, choice.counts, strict=True) if count)
        solution.append((choice, times))
        needs = less(needs, choice.counts, times)
    return solution


def _from_owned(problem: Problem) -> tuple[Solution, Problem]:
    used: Solution = []
    for at, limit in sorted(problem.owned, key=lambda pair: -problem.lengths[pair[0]].mm):
        for _ in range(limit):
            counts = fullest(problem.sizes, problem.needs, problem.lengths[at].mm)
            if not any(counts):
                break
            used.append((Choice(at, counts), 1))
            problem = problem.after(used[-1:])
    return used, problem


def _fill(problem: Problem, ways: Sequence[int], work: Work) -> Solution:
    """From the length that gives the most for its cost, again and again; the end from the cheapest that takes it."""
    solution: Solution = []
    needs = problem.needs
    while any(needs):
        total = problem.held(needs)
        enough = [at for at in ways if problem.lengths[at].mm >= total]
        if enough:
            cheapest = min(enough, key=lambda at: (problem.lengths[at].cost, problem.lengths[at].mm))
            return [*solution, (Choice(cheapest, needs), 1)]
        longest = next(size for size, need in zip(problem.sizes, needs, strict=True) if need)
        long_enough = [at for at in ways if problem.lengths[at].mm >= longest]
        choices = [Choice(at, fullest(problem.sizes, needs, problem.lengths[at].mm)) for at in long_enough or ways]
        choice = max(choices, key=lambda one: problem.held(one.counts) / max(problem.lengths[one.at].cost, 1e-9))
        work.spend(_GREEDY_STEPS * len(needs) * len(ways))
        times = min(need // count for need, count in zip(needs, choice.counts, strict=True) if count)
        solution.append((choice, times))
        needs = less(needs, choice.counts, times)
    return solution


def rounded(problem: Problem, relaxed: Relaxed, known: int, work: Work) -> Solution:
    """A whole plan: the whole parts of the relaxed one kept, or its largest part, and the rest relaxed again."""
    fixed: Solution = []
    best = greedy(problem, work)
    amounts, columns = relaxed.amounts, relaxed.columns
    left = problem
    sums = Sums((problem.lengths[at].cost for at in problem.sold), 0)
    while any(left.needs):
        ranked = sorted(amounts, key=lambda pair: (-pair[1], pair[0]))
        kept = fitting(left, [(choice, int(amount + _WHOLE)) for choice, amount in ranked])
        # without whole parts, one of the pattern that is nearest to a whole one
        nearest = sorted(ranked, key=lambda pair: -(pair[1] % 1))
        kept = kept or next(filter(None, (fitting(left, [(choice, 1)]) for choice, _ in nearest)), [])
        if not kept:
            break
        fixed += kept
        left = left.after(kept)
        best = min(best, fixed + (greedy(left, work) if any(left.needs) else []), key=problem.cost)
        if work.is_spent or not any(left.needs):
            break
        columns = [one for one in columns if all(map(le, one.counts, left.needs))]
        again = relax(left, sums, known, columns, work)
        amounts, columns = again.amounts, again.columns
    return best


def fitting(problem: Problem, choices: Solution) -> Solution:
    """The choices one after another, each as often as the needs still allow."""
    kept: Solution = []
    for choice, times in choices:
        most = [need // count for need, count in zip(problem.needs, choice.counts, strict=True) if count]
        limit = problem.lengths[choice.at].limit
        times = min(times, *most, *(() if limit is None else (limit,)))
        if times > 0:
            kept.append((choice, times))
            problem = problem.after(kept[-1:])
    return kept


def shuffled(problem: Problem, seed: int, work: Work) -> Solution:
    """A plan by filling, drawn from a seed: each length with the fullest of a random part of the pieces."""
    rng = random.Random(seed)
    solution, left = _from_owned(problem) if seed % 2 else ([], problem)
    needs = left.needs
    while any(needs):
        some = tuple(rng.randint((need + 1) // 2, need) if need else 0 for need in needs)
        first = next(i for i, need in enumerate(needs) if need)
        ways = [at for at in problem.sold if problem.lengths[at].mm >= problem.sizes[first]]
        ways = ways or problem.sold
        choices = []
        for at in ways:
            others = tuple(count - (i == first) for i, count in enumerate(some))
            counts = fullest(problem.sizes, others, problem.lengths[at].mm - problem.sizes[first])
            choices.append(Choice(at, tuple(count + (i == first) for i, count in enumerate(counts))))
            work.spend(len(needs) * 8 + problem.lengths[at].mm // 32)
        choice = max(
            choices,
            key=lambda one: (problem.held(one.counts) / max(problem.lengths[one.at].cost, 1e-9)) * rng.uniform(0.97, 1),
        )
        enough = [at for at in ways if problem.lengths[at].mm >= problem.held(needs)]
        if enough:
            choice = Choice(min(enough, key=lambda at: problem.lengths[at].cost), needs)
        solution = [*solution, (choice, 1)]
        needs = less(needs, choice.counts, 1)
    return solution
