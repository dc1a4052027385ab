"""Windings, seats' shares and lengths bought, chosen together for one wire. Lengths in mm, of whole steps.

Least paid first, wire drawn from spools at its price; then least wire cut; then fewest windings, evenly long. What is
left over counts nothing. One kind of ring for one maker is covered exactly (`covering`); otherwise windings are pieces
to cut, and other ways to wind them are tried as long as they save. A seat may make a spare less where the order still
has its share of spares. Bounded by counted work, never by a clock.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from jigs.cutting_stock.covering import Runs, cover
from jigs.cutting_stock.effort import Work
from jigs.cutting_stock.plan import CuttingPlan, Pattern
from jigs.cutting_stock.problem import Sums
from jigs.making.batch import Batch
from jigs.making.winding import Winding
from jigs.planning.shares import (
    Lot,
    Share,
    least_wire_mm,
    lot_of,
    lots_of,
    rings_from,
    share_of,
    ways_to_wind,
    with_spares,
)
from jigs.planning.steps import Steps
from layouts.errors import OutOfRange
from layouts.lengths import down_to_step

_TRIALS = 240  # ways to wind that are tried in a plan, all wires together; of many kinds each takes longer, so fewer
_SEATS_TRIED = 24  # seats of a class in which some may wind otherwise than others
_COVERED_AT_ONCE = 5_000  # rings; of more, so many are covered and repeated
_STEPS_PER_STEP = 8  # inner steps of the search that one of covering takes


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What one kind of ring needs: (seats, rings wanted by each), how it is wound, and the part of spares."""

    batch: Batch
    winding: Winding
    wanted: tuple[tuple[int, int], ...]
    spares: float

    @property
    def due(self) -> int:
        """Good rings of all seats that the order asks for, its share of spares included."""
        return with_spares(sum(seats * wanted for seats, wanted in self.wanted), self.spares)


class Entry(NamedTuple):
    """So many seats that wind alike: what one wants, and its windings."""

    seats: int
    wanted: int
    lots: tuple[Lot, ...]

    @property
    def made(self) -> int:
        """Good rings of one seat."""
        return sum(lot.coils * lot.rings for lot in self.lots)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wound:
    """The shares of each kind of ring, how their wire is cut, and what no plan at all buys less than."""

    shares: tuple[tuple[Share, ...], ...]
    cutting: CuttingPlan
    bound_mm: float


def wind(needs: Sequence[Need], sold: Sequence[float], owned: Sequence[float], work: Work, part: float = 1.0) -> Wound:
    """The windings of all that is made from one wire, and how it is cut; `part` of a plan's trials are its own.

    sold are lengths sold, none where wire is bought in one piece; owned those at hand, which are used first.
    """
    steps = _steps_of(*needs)
    owned = [down_to_step(mm, steps.step_mm) for mm in owned]
    if sold and not owned and [seats for need in needs for seats, _ in need.wanted] == [1]:
        covered = _covered(needs[0], sold, work)
        if covered:
            return covered
    state = tuple(
        tuple(
            Entry(seats, wanted, lots_of(need.winding, with_spares(wanted, need.spares)))
            for seats, wanted in need.wanted
        )
        for need in needs
    )
    if sold or owned:
        kinds = sum(len(entries) for entries in state)
        state = _improved(needs, state, sold, owned, int(_TRIALS * part * 16 / (15 + kinds**2)))
    cutting = _cut(steps, state, sold, owned, work)
    return Wound(
        shares=tuple(
            tuple(share_of(need.batch, entry.lots, seats=entry.seats, wanted=entry.wanted) for entry in entries)
            for need, entries in zip(needs, state, strict=True)
        ),
        cutting=cutting,
        bound_mm=min(cutting.bought_mm, least_bought_mm(needs, sold, owned)),
    )


def _steps_of(need: Need, *_: Need) -> Steps:
    """The steps that all windings of an order are cut in."""
    return Steps(step_mm=need.winding.cut_step_mm)


def least_bought_mm(needs: Sequence[Need], sold: Sequence[float], owned: Sequence[float]) -> float:
    """What no way to wind and cut buys less than: the least wire of all seats, in whole lengths."""
    least: float = 0
    for need in needs:
        for seats, wanted in need.wanted:
            made = with_spares(wanted, need.spares)
            fewer = min(made - wanted, 1)  # a seat may make a spare less
            least += seats * least_wire_mm(need.winding, made - fewer)
    rest = max(0, least - sum(owned))
    if not sold or not rest:
        return rest
    steps = _steps_of(*needs)
    whole, needed = [steps.of(mm) for mm in sold], steps.of(rest)
    return steps.mm(Sums(whole, needed + max(whole)).at_least(needed))


# -- one kind of ring for one maker


def _covered(need: Need, sold: Sequence[float], work: Work) -> Wound | None:
    """The exact way; None where too little work is left for it."""
    winding, [(_, wanted)] = need.winding, need.wanted
    made, steps = with_spares(wanted, need.spares), _steps_of(need)
    at_once = min(made, _COVERED_AT_ONCE)
    per_length = [rings_from(winding, mm) for mm in sold]
    in_one = min(at_once, max(per_length)) * winding.most_rings_per_coil
    effort = _STEPS_PER_STEP * (min(at_once * sum(per_length), 1_000_000) + at_once * len(sold) + in_one)
    if effort > work.left:
        return None
    work.spend(effort)
    runs = Runs(
        fixed_mm=winding.tails_mm / steps.step_mm,
        each_mm=winding.wound_turn_mm / steps.step_mm,
        most_units=winding.most_turns_per_coil,
        yields=winding.rings_of,
    )
    prices = {steps.of(mm): steps.of(mm) for mm in sold}
    times, rest = divmod(made, at_once)
    covers = [(cover(at_once, prices, runs), times), *([(cover(rest, prices, runs), 1)] if rest else [])]
    patterns: Counter[Pattern] = Counter()
    lots: Counter[Lot] = Counter()
    for found, many in covers:
        for each in found.lengths:
            pieces: Counter[float] = Counter()
            for turns, rings, coils in each.runs:
                pieces[steps.mm(runs.cut_mm(turns))] += coils
                lots[lot_of(winding, winding.part(1, rings, turns))] += many * each.times * coils
            cut = tuple(sorted(pieces.items(), reverse=True))
            patterns[Pattern(stock_mm=steps.mm(each.stock_mm), owned=False, pieces=cut, times=1)] += many * each.times
    bought = steps.mm(sum(found.bought_mm * many for found, many in covers))
    is_proved = len(covers) == 1 and times == 1 and covers[0][0].is_proved
    bound = bought if is_proved else min(bought, least_bought_mm([need], sold, ()))
    cutting = CuttingPlan(
        patterns=tuple(replace(pattern, times=many) for pattern, many in patterns.items()),
        paid=bought,
        bound_paid=bound,
        bound_mm=bound,
    )
    share = share_of(need.batch, _longest_first(lots), seats=1, wanted=wanted)
    return Wound(shares=((share,),), cutting=cutting, bound_mm=bound)


# -- several kinds of ring, or seats, on one wire

State = tuple[tuple[Entry, ...], ...]


def _cut(steps: Steps, state: State, sold: Sequence[float], owned: Sequence[float], work: Work) -> CuttingPlan:
    pieces: Counter[float] = Counter()
    for entries in state:
        for entry in entries:
            for lot in entry.lots:
                pieces[lot.cut_mm] += entry.seats * lot.coils
    return steps.cut(pieces, sold, owned, work)


def _cost(steps: Steps, state: State, sold: Sequence[float], owned: Sequence[float]) -> tuple[float, ...]:
    """Paid and drawn, groups of seats, spares less, cut, windings: of a plan made at once, without a search.

    Seats that wind alike share their sheets: they are told apart, or make a spare less, only where it saves a length.
    """
    cutting = _cut(steps, state, sold, owned, Work(0))
    groups = [entry for entries in state for entry in entries]
    made = sum(entry.seats * entry.made for entry in groups)
    windings = sum(entry.seats * lot.coils for entry in groups for lot in entry.lots)
    return cutting.bought_mm + cutting.owned_used_mm, len(groups), -made, cutting.cut_mm, windings


def _improved(needs: Sequence[Need], state: State, sold: Sequence[float], owned: Sequence[float], trials: int) -> State:
    """Other ways to wind, seat by seat, as long as one of them costs less and trials are left."""
    steps = _steps_of(*needs)
    cost = _cost(steps, state, sold, owned)
    while trials > 0:
        best = None
        for other in moves(needs, state, (*sold, *owned)):
            if trials <= 0:
                break
            trials -= 1
            try:
                found = _cost(steps, other, sold, owned)
            except OutOfRange:  # a piece that no length holds
                continue
            if found < (best[0] if best else cost):
                best = found, other
        if best is None:
            return state
        cost, state = best
    return state


def moves(needs: Sequence[Need], state: State, lengths: Sequence[float]) -> Iterator[State]:
    """Each way in which some seats may wind one kind of ring otherwise."""
    for at, (need, entries) in enumerate(zip(needs, state, strict=True)):
        over = sum(entry.seats * entry.made for entry in entries) - need.due
        for place, entry in enumerate(entries):
            if not entry.lots:
                continue
            for lots in other_ways(need, entry, lengths, over > 0):
                fewer = entry.made - sum(lot.coils * lot.rings for lot in lots)
                most = entry.seats if fewer <= 0 else min(entry.seats, over)
                few = range(1, most + 1) if entry.seats <= _SEATS_TRIED else ()
                for some in sorted({*few, most} & {*few, entry.seats}, reverse=True):
                    changed = [Entry(some, entry.wanted, lots)]
                    if some < entry.seats:
                        changed.insert(0, entry._replace(seats=entry.seats - some))
                    yield (*state[:at], (*entries[:place], *changed, *entries[place + 1 :]), *state[at + 1 :])


def other_ways(need: Need, entry: Entry, lengths: Sequence[float], may_make_less: bool) -> Iterator[tuple[Lot, ...]]:
    """Ways to wind one seat's rings: evenly, or one winding as long as the end of a length still gives."""
    made_of = [entry.made, *([entry.made - 1] if may_make_less and entry.made > entry.wanted else [])]
    longest = max(lot.cut_mm for lot in entry.lots)
    ends = sorted({mm % longest for mm in lengths} - {0})
    for made in made_of:
        ways = list(ways_to_wind(need.winding, made))
        for end in ends:
            first = min(rings_from(need.winding, end), need.winding.most_rings_per_coil, made)
            counts: Counter[Lot] = Counter()
            for lot in lots_of(need.winding, first) + lots_of(need.winding, made - first):
                counts[replace(lot, coils=1)] += lot.coils
            ways.append(_longest_first(counts))
        yield from (lots for lots in dict.fromkeys(ways) if lots != entry.lots)


def _longest_first(counts: Counter[Lot]) -> tuple[Lot, ...]:
    return tuple(replace(lot, coils=many) for lot, many in sorted(counts.items(), key=lambda pair: -pair[0].turns))
