"""One seat's share of one kind of ring: rings, windings, wire and metal. Wire in whole steps, masses in whole mg.

Whole numbers, so that every sum agrees to the last digit shown: wire is snipped to the millimetre, or in inches to the
sixteenth, rounded up for each winding; a seat's metal is weighed to the milligram.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from jigs.making.batch import Batch
from jigs.making.winding import LOST_PER_SNIP, MOST_RINGS, SLACK_TURNS, CoilPlan, Winding
from jigs.stock.wire import mg_per_mm
from layouts.errors import OutOfRange
from layouts.lengths import down_to_step, up_to_step
from layouts.units import positive

_MORE_WINDINGS = 2  # than the fewest, that are looked at


@dataclass(frozen=True, slots=True, kw_only=True)
class Masses:
    """Where the metal of cut wire goes, in mg: into good rings, clippings (tails, rejects, trims) and sawdust."""

    rings_mg: int = 0
    clippings_mg: int = 0
    dust_mg: int = 0

    @property
    def cut_mg(self) -> int:
        """All the wire that was cut."""
        return self.rings_mg + self.clippings_mg + self.dust_mg

    @property
    def rings_g(self) -> float:
        """In good rings, in grams."""
        return self.rings_mg / 1000

    @property
    def clippings_g(self) -> float:
        """In clippings, in grams."""
        return self.clippings_mg / 1000

    @property
    def dust_g(self) -> float:
        """In sawdust, in grams."""
        return self.dust_mg / 1000

    @property
    def cut_g(self) -> float:
        """All the wire that was cut, in grams."""
        return self.cut_mg / 1000

    def __add__(self, other: Masses) -> Masses:
        return Masses(
            rings_mg=self.rings_mg + other.rings_mg,
            clippings_mg=self.clippings_mg + other.clippings_mg,
            dust_mg=self.dust_mg + other.dust_mg,
        )

    def times(self, count: int) -> Masses:
        """So many times as much."""
        return Masses(
            rings_mg=self.rings_mg * count, clippings_mg=self.clippings_mg * count, dust_mg=self.dust_mg * count
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """So many windings alike: rings and whole turns of each, its length once released, the wire to cut for each [mm].

    sections are the pieces that each is sawn in.
    """

    coils: int
    rings: int
    turns: int
    free_turns: float
    length_mm: float
    cut_mm: float
    sections: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """What each of so many seats gets of one kind of ring: rings wanted, and all good ones; and what it winds itself.

    Where one seat winds for all, the lots are its own and the others have none; sawdust and clippings stay with it.
    """

    seats: int
    wanted: int
    made: int
    lots: tuple[Lot, ...]
    metal: Masses

    @property
    def spares(self) -> int:
        """Rings beyond those wanted."""
        return self.made - self.wanted

    @property
    def wound(self) -> int:
        """Good rings that one seat winds: its own, or those of all seats, or none."""
        return sum(lot.coils * lot.rings for lot in self.lots)

    @property
    def coils(self) -> int:
        """Windings of one seat."""
        return sum(lot.coils for lot in self.lots)

    @property
    def cut_mm(self) -> float:
        """Wire of one seat."""
        return cut_of_lots(self.lots)


def with_spares(wanted: int, spares: float) -> int:
    """wanted x (1 + spares), rounded up."""
    return wanted + math.ceil(wanted * spares - 1e-9)


def winding_of(
    batch: Batch, longest_wire_mm: float | None, *, snip_mm: float = 0.0, cut_step_mm: float = 1.0
) -> Winding:
    """How the batch is wound: coils no longer than wished, nor than the longest wire that there is, if that counts.

    snip_mm is lost where the wire for each is cut off; it counts with the tails. cut_step_mm is as of `Winding`.
    """
    winding = replace(batch.winding, tails_mm=batch.tails_mm + snip_mm, cut_step_mm=cut_step_mm)
    if longest_wire_mm is None:
        return winding
    longest_wire_mm = down_to_step(longest_wire_mm, cut_step_mm)
    turns = math.floor((longest_wire_mm - winding.tails_mm) / winding.wound_turn_mm + 1e-9)
    if turns < winding.turns_to_wind(1):
        needs = winding.turns_to_wind(1) * winding.wound_turn_mm + winding.tails_mm
        raise OutOfRange(
            f"one winding with one good ring takes {math.ceil(needs)} mm, and the longest wire is "
            f"{longest_wire_mm:g} mm",
            "buy longer wire, or allow fewer rejects or shorter tails",
        )
    longest = winding.coil.length_mm(turns / winding.springback_ratio)
    wished = winding.longest_coil_mm
    return replace(winding, longest_coil_mm=longest if wished is None else min(wished, longest))


def ways_to_wind(winding: Winding, rings: int) -> tuple[tuple[Lot, ...], ...]:
    """Windings for so many good rings, the least wire first: the fewest, some more, each evenly long; or full ones."""
    if not rings:
        return ((),)
    fewest = -(-rings // winding.most_rings_per_coil)
    plans = [winding.evenly(rings, coils) for coils in range(fewest, min(fewest + _MORE_WINDINGS, rings) + 1)]
    ways = dict.fromkeys(tuple(lot_of(winding, part) for part in plan) for plan in (*plans, winding.plan(rings)))
    return tuple(sorted(ways, key=lambda lots: (cut_of_lots(lots), sum(lot.coils for lot in lots))))


def lots_of(winding: Winding, rings: int) -> tuple[Lot, ...]:
    """The windings for so many good rings that take the least wire, evenly long; none for no ring."""
    return ways_to_wind(winding, rings)[0]


def wire_for(winding: Winding, rings: int) -> float:
    """Wire for so many good rings, every winding cut to whole steps."""
    return cut_of_lots(lots_of(winding, rings))


def cut_of_lots(lots: Iterable[Lot]) -> float:
    """Wire of these windings [mm]."""
    return round(sum(lot.coils * lot.cut_mm for lot in lots), 4)


def least_wire_mm(winding: Winding, rings: int) -> float:
    """What so many good rings cannot take less than, however they are wound; every snip and whole turn counted.

    In k windings n rings are s = n + k x rejects turns to saw; they lie in s / m sections or more, where m turns are a
    section, and all but k of these cost a snip. Most windings or fewest: between them the wire grows evenly.
    """
    if not rings:
        return 0
    fewest = -(-rings // winding.most_rings_per_coil)
    counts = {fewest, max(fewest, winding.least_sections(rings + fewest * winding.rejects))}
    least = []
    for coils in counts:
        sawn = rings + coils * winding.rejects
        snips = max(0, winding.least_sections(sawn) - coils) * LOST_PER_SNIP
        turns = math.ceil((sawn + snips) * winding.springback_ratio - SLACK_TURNS)
        least.append(up_to_step(turns * winding.wound_turn_mm + coils * winding.tails_mm, winding.cut_step_mm))
    return min(least)


def rings_from(winding: Winding, length_mm: float) -> int:
    """Good rings from one length of wire: the most whose windings can all be cut from it; 0 when none can."""
    whole = down_to_step(positive(length_mm, "wire length"), winding.cut_step_mm)
    low, high = 0, min(MOST_RINGS, math.ceil(whole / winding.coil.turn_length_mm))
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if wire_for(winding, middle) <= whole else (low, middle - 1)
    return low


def share_of(batch: Batch, lots: tuple[Lot, ...], *, seats: int, wanted: int) -> Share:
    """One seat's share of a batch, wound in these windings."""
    made, coils = sum(lot.coils * lot.rings for lot in lots), sum(lot.coils for lot in lots)
    per_mm = mg_per_mm(batch.wire.diameter_mm, batch.material.weighed_g_cm3)
    # one kerf a ring, rejects too; all that is neither in rings nor in sawdust is clippings
    sawn = (made + coils * batch.rejects) * batch.cut.loss_mm if batch.cut.is_sawn else 0.0
    rings, dust = math.floor(made * _ring_mg(batch)), math.floor(sawn * per_mm)
    clippings = round(cut_of_lots(lots) * per_mm) - rings - dust
    metal = Masses(rings_mg=rings, clippings_mg=clippings, dust_mg=dust)
    return Share(seats=seats, wanted=wanted, made=made, lots=lots, metal=metal)


def handed_out(batch: Batch, wound: Share, wanted: Sequence[tuple[int, int]]) -> tuple[Share, ...]:
    """The shares of all seats, (seats, rings wanted by each), where the first one winds for all.

    The spares go round as evenly as can be, and every seat's rings are weighed by themselves.
    """
    seats = sum(many for many, _ in wanted)
    spare = shared_out(wound.made - sum(many * rings for many, rings in wanted), seats)
    shares, before = [], 0
    for last in sorted({1, *accumulate(many for many, _ in wanted), *accumulate(many for many, _ in spare)}):
        own, more = _of_seat(wanted, last), _of_seat(spare, last)
        metal = Masses(rings_mg=math.floor((own + more) * _ring_mg(batch)))
        shares.append(Share(seats=last - before, wanted=own, made=own + more, lots=(), metal=metal))
        before = last
    first, others = shares[0], sum(share.seats * share.metal.rings_mg for share in shares[1:])
    clippings = wound.metal.cut_mg - wound.metal.dust_mg - first.metal.rings_mg - others
    metal = replace(first.metal, dust_mg=wound.metal.dust_mg, clippings_mg=clippings)
    return replace(first, lots=wound.lots, metal=metal), *shares[1:]


def shared_out(units: int, seats: int) -> tuple[tuple[int, int], ...]:
    """Units over seats as evenly as can be, (seats, units of each): the first seats have one more where it must be.

    >>> shared_out(10, 4)
    ((2, 3), (2, 2))
    """
    each, more = divmod(units, seats)
    return tuple((count, share) for count, share in ((more, each + 1), (seats - more, each)) if count)


def _of_seat(parts: Sequence[tuple[int, int]], seat: int) -> int:
    """What a seat has of (seats, what each has), the seats in order."""
    ends = accumulate(many for many, _ in parts)
    return next(each for (_, each), end in zip(parts, ends, strict=True) if seat <= end)


def _ring_mg(batch: Batch) -> float:
    return batch.ring.circumference_mm * mg_per_mm(batch.wire.diameter_mm, batch.material.weighed_g_cm3)


def lot_of(winding: Winding, part: CoilPlan) -> Lot:
    """Windings alike, with the wire to cut for each: turns x wound turn + tails, rounded up to whole steps."""
    wire = part.turns * winding.wound_turn_mm + winding.tails_mm
    return Lot(
        coils=part.coils,
        rings=part.rings,
        turns=part.turns,
        free_turns=part.free_turns,
        length_mm=part.length_mm,
        cut_mm=up_to_step(wire, winding.cut_step_mm),
        sections=part.sections,
    )
