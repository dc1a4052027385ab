"""Exact search: is there a plan that costs at most so much? All patterns that could be part of one, put together.

The values of the relaxed problem say by how much each pattern costs more than its pieces are worth. Over a whole plan
these excesses add up to its cost less the bound, which is little: few patterns are left, and a plan is sought among
them piece by piece, the longest first. A state that failed with so much left to spend is not tried again with less.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from jigs.cutting_stock.effort import Work
from jigs.cutting_stock.knapsack import lots_of
from jigs.cutting_stock.problem import Choice, Problem, Solution

_BITS = 13  # for each piece's count in a packed number, with a guard bit above it
_MOST_NEED = (1 << _BITS - 1) - 1
_MOST_PATTERNS = 30_000
_MOST_STATES = 250_000
_STEP = 12
_DEEPEST = 400
_ENDLESS = 1 << 60


class Candidate(NamedTuple):
    """Excess and waste, the choice, and its counts packed."""

    excess: int
    waste: int
    packed: int
    choice: Choice


@dataclass(slots=True)
class Outcome:
    """A plan if one was found; without one, `is_proved` says that none exists."""

    solution: Solution | None
    is_proved: bool


class Values(NamedTuple):
    """Whole values of pieces, and what each length holds at most, in `fine` parts of a cost unit."""

    pieces: Sequence[int]
    holds: Sequence[int]
    fine: int


def seek(problem: Problem, most_cost: int, values: Values, work: Work) -> Outcome:
    """A plan of at most this cost, or the proof that none exists, or neither where the work runs out."""
    search = _Search(problem, most_cost, values, work)
    if search.excess_left < 0 or search.waste_left < 0:
        return Outcome(None, True)
    if sum(problem.needs) > _DEEPEST or max(problem.needs) > _MOST_NEED:
        return Outcome(None, False)
    complete = search.list_patterns()
    found = search.fill(search.start, search.excess_left, search.waste_left)
    if found is not None:
        return Outcome(found, False)
    return Outcome(None, complete and not search.gave_up)


class _Search:
    def __init__(self, problem: Problem, most_cost: int, values: Values, work: Work) -> None:
        self.problem, self.work = problem, work
        pieces, holds, fine = values
        self.values = pieces
        self.full = [  # what a use of each length takes from the budget before its pieces give back
            max(length.cost * fine, holds[at]) if length.limit is None else holds[at]
            for at, length in enumerate(problem.lengths)
        ]
        slack = 0
        if all(problem.lengths[at].cost for at in problem.sold):
            slack = max((holds[at] - problem.lengths[at].cost * fine for at in problem.sold), default=0)
        count = sum(problem.needs)
        self.excess_left = (
            most_cost * fine
            + max(0, slack) * count
            + sum(limit * holds[at] for at, limit in problem.owned)
            - sum(v * n for v, n in zip(pieces, problem.needs, strict=True))
        )
        self.waste_left = self._most_waste(most_cost)
        kinds = len(problem.sizes)
        self.shift = [_BITS * (kinds - 1 - kind) for kind in range(kinds)]
        self.owned_shift = {at: _BITS * (kinds + place) for place, (at, _) in enumerate(problem.owned)}
        self.mask = (1 << _BITS * kinds) - 1
        self.start = sum(need << shift for need, shift in zip(problem.needs, self.shift, strict=True))
        self.start += sum(min(limit, _MOST_NEED) << self.owned_shift[at] for at, limit in problem.owned)
        self.guard = sum(1 << shift + _BITS - 1 for shift in (*self.shift, *self.owned_shift.values()))
        self.groups: list[list[Candidate]] = [[] for _ in range(kinds)]
        self.failed: dict[int, int] = {}
        self.gave_up = False

    def _most_waste(self, most_cost: int) -> int:
        """What may be left of all lengths, those at hand included; without end where cost does not go by length."""
        lengths = self.problem.lengths
        sold = [lengths[at] for at in self.problem.sold]
        owned = sum(lengths[at].mm * limit for at, limit in self.problem.owned) - self.problem.held(self.problem.needs)
        if not sold:
            return owned
        if any(length.cost * sold[0].mm != sold[0].cost * length.mm for length in sold) or not sold[0].cost:
            return _ENDLESS  # then a failed state would not tell what is left to waste
        return owned + most_cost * sold[0].mm // sold[0].cost

    # -- patterns

    def list_patterns(self) -> bool:
        """Fills the groups, each pattern under its longest piece; whether that is all of them."""
        kinds = len(self.problem.sizes)
        self.density = [0.0] * (kinds + 1)
        for kind in range(kinds - 1, -1, -1):
            here = self.values[kind] / self.problem.sizes[kind] if self.problem.needs[kind] else 0.0
            self.density[kind] = max(here, self.density[kind + 1])
        self.listed = 0
        complete = True
        for at, length in enumerate(self.problem.lengths):
            if length.limit == 0:
                continue
            reach = self._reach(length.mm)
            for kind in range(kinds):
                if self.problem.needs[kind] and self.problem.sizes[kind] <= length.mm:
                    complete = self._list(at, kind, reach) and complete
        for group in self.groups:
            group.sort(key=lambda pattern: (pattern.excess, pattern.waste, pattern.choice))
        return complete

    def _reach(self, mm: int) -> list[int]:
        """For each kind, which fills of a length the pieces from it on can make, as bits."""
        mask, reach = (1 << mm + 1) - 1, [1]
        for size, need in zip(reversed(self.problem.sizes), reversed(self.problem.needs), strict=True):
            here = reach[-1]
            for _, _, lot_mm in lots_of([size], [need], mm):
                here |= here << lot_mm & mask
            reach.append(here)
        self.work.spend(mm // 16 * len(reach))
        return reach[::-1]

    def _list(self, at: int, first: int, reach: list[int]) -> bool:
        """The patterns of one length whose longest piece is `first`; whether all of them."""
        sizes, needs, values, density = self.problem.sizes, self.problem.needs, self.values, self.density
        kinds, counts = len(sizes), [0] * len(sizes)
        full, waste_left, excess_left = self.full[at], self.waste_left, self.excess_left
        packed_length = 1 << self.owned_shift[at] if at in self.owned_shift else 0
        group, budget = self.groups[first], min(self.work.left // _STEP, 400_000)
        within = (1 << min(waste_left, self.problem.lengths[at].mm) + 1) - 1
        allowed = budget

        def walk(kind: int, room: int, owed: int) -> bool:
            nonlocal budget
            budget -= 1
            if budget < 0 or self.listed >= _MOST_PATTERNS:
                return False
            if owed - room * density[kind] > excess_left + 1:
                return True
            if room > waste_left and not reach[kind] >> (room - waste_left) & within:
                return True
            while kind < kinds and (sizes[kind] > room or not needs[kind]):
                kind += 1
            if kind == kinds:
                if owed <= excess_left and room <= waste_left:
                    self.listed += 1
                    packed = packed_length + sum(c << s for c, s in zip(counts, self.shift, strict=True) if c)
                    group.append(Candidate(owed, room, packed, Choice(at, tuple(counts))))
                return True
            complete = True
            for count in range(min(needs[kind], room // sizes[kind]), -1 if kind != first else 0, -1):
                counts[kind] = count
                complete = walk(kind + 1, room - count * sizes[kind], owed - count * values[kind]) and complete
                if not complete:
                    break
            counts[kind] = 0
            return complete

        complete = walk(first, self.problem.lengths[at].mm, full)
        self.work.spend((allowed - max(budget, 0)) * _STEP)
        return complete

    # -- putting them together

    def fill(self, state: int, excess_left: int, waste_left: int) -> Solution | None:
        """What is still needed, put together from patterns; None when that fails."""
        needed = state & self.mask
        if not needed:
            return []
        if self.failed.get(state, -1) >= excess_left:
            return None
        if self.work.is_spent or len(self.failed) > _MOST_STATES:
            self.gave_up = True
            return None
        guard, guarded = self.guard, state | self.guard
        group = self.groups[self._kind_at(needed.bit_length() - 1)]
        tried = 0
        for excess, waste, packed, choice in group:
            tried += 1
            if excess > excess_left:
                break
            after = guarded - packed
            if waste > waste_left or after & guard != guard:
                continue
            after ^= guard
            left = after & self.mask
            if left and self.problem.sizes[self._kind_at((left & -left).bit_length() - 1)] <= waste:
                continue  # with that piece in it the pattern is another one, and no worse
            found = self.fill(after, excess_left - excess, waste_left - waste)
            if found is not None:
                return [(choice, 1), *found]
        if not self.gave_up:
            self.failed[state] = excess_left
        self.work.spend(tried * 4 + 20)
        return None

    def _kind_at(self, bit: int) -> int:
        """The piece whose count has this bit of a packed number."""
        return len(self.problem.sizes) - 1 - bit // _BITS
