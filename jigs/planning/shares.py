"""One seat's share of one kind of ring: rings, coils, wire and metal. Wire in whole mm, masses in whole mg.

Whole numbers, so that every sum agrees to the last digit shown: wire is snipped to the millimetre, rounded up
for each coil; a seat's metal is weighed to the milligram.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass, replace

from jigs.making.batch import Batch
from jigs.making.winding import MOST_RINGS, CoilPlan, Winding
from jigs.orders.order import refuse_too_many
from jigs.stock.wire import mg_per_mm
from layouts.errors import OutOfRange
from layouts.units import positive

_SLACK_MM = 1e-6  # a wire this close above a whole millimetre is that long


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
    """So many coils alike: rings and whole turns of each, its length let go [mm], and the wire to cut for each."""

    coils: int
    rings: int
    turns: int
    free_turns: float
    length_mm: float
    cut_mm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """What each of so many seats makes of one kind of ring."""

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
    def coils(self) -> int:
        """Coils of one seat."""
        return sum(lot.coils for lot in self.lots)

    @property
    def cut_mm(self) -> int:
        """Wire of one seat."""
        return sum(lot.coils * lot.cut_mm for lot in self.lots)


def with_spares(wanted: int, spares: float) -> int:
    """wanted x (1 + spares), rounded up."""
    return wanted + math.ceil(wanted * spares - 1e-9)


def winding_of(batch: Batch, longest_wire_mm: int | None) -> Winding:
    """How the batch is wound: coils no longer than wished, nor than the longest wire that there is, if that counts."""
    winding = batch.winding
    if longest_wire_mm is None:
        return winding
    turns = math.floor((longest_wire_mm - winding.tails_mm) / winding.wound_turn_mm + 1e-9)
    if turns < winding.turns_to_wind(1):
        needs = winding.turns_to_wind(1) * winding.wound_turn_mm + winding.tails_mm
        raise OutOfRange(
            f"one coil with one good ring takes {math.ceil(needs)} mm, and the longest wire is {longest_wire_mm} mm",
            "buy longer wire, or allow fewer rejects or shorter tails",
        )
    longest = winding.coil.length_mm(turns / winding.springback_ratio)
    wished = winding.longest_coil_mm
    return replace(winding, longest_coil_mm=longest if wished is None else min(wished, longest))


def lots_of(winding: Winding, rings: int) -> tuple[Lot, ...]:
    """The coils to wind for so many good rings, with the wire to cut for each; none for no ring."""
    return tuple(_lot(winding, part) for part in winding.plan(rings)) if rings else ()


def wire_for(winding: Winding, rings: int) -> int:
    """Wire for so many good rings, every coil cut to whole mm. Never less for more rings."""
    return sum(lot.coils * lot.cut_mm for lot in lots_of(winding, rings))


def rings_from(winding: Winding, length_mm: float) -> int:
    """Good rings from one length of wire: the most whose coils can all be cut from it; 0 when none can."""
    whole = math.floor(positive(length_mm, "wire length") + _SLACK_MM)
    return bisect_right(range(1, MOST_RINGS + 1), whole, key=lambda rings: wire_for(winding, rings))


def share_of(batch: Batch, winding: Winding, *, seats: int, wanted: int, spares: float) -> Share:
    """One seat's share of a batch."""
    made = refuse_too_many(with_spares(wanted, spares))
    lots = lots_of(winding, made)
    return Share(seats=seats, wanted=wanted, made=made, lots=lots, metal=_metal(batch, made, lots))


def _lot(winding: Winding, part: CoilPlan) -> Lot:
    wire = part.turns * winding.wound_turn_mm + winding.tails_mm
    return Lot(
        coils=part.coils,
        rings=part.rings,
        turns=part.turns,
        free_turns=part.free_turns,
        length_mm=part.length_mm,
        cut_mm=math.ceil(wire - _SLACK_MM),
    )


def _metal(batch: Batch, made: int, lots: tuple[Lot, ...]) -> Masses:
    """Rings and sawdust (one kerf a ring, rejects too) rounded down; all the rest of the wire is clippings."""
    per_mm = mg_per_mm(batch.wire.diameter_mm, batch.material.density_g_cm3 or 0.0)
    wire = round(sum(lot.coils * lot.cut_mm for lot in lots) * per_mm)
    coils = sum(lot.coils for lot in lots)
    sawn = (made + coils * batch.rejects) * batch.cut.loss_mm if batch.cut.name == "saw" else 0.0
    rings, dust = math.floor(made * batch.ring.circumference_mm * per_mm), math.floor(sawn * per_mm)
    return Masses(rings_mg=rings, clippings_mg=wire - rings - dust, dust_mg=dust)
