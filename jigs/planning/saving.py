"""What share of the wire cut ends in rings that pass, and what would save most. Wire in whole mm.

Each way is worked out by itself, on the windings alone: the wire that would not be cut, and its price. Only other
lengths are worked out on what is bought.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from jigs.cutting_stock.effort import Work
from jigs.making.coil import coil_for_ring
from jigs.making.cutting import Cutters, Saw
from jigs.making.winding import HELD_OF_ROD_MM, Winding
from jigs.orders.price import Price
from jigs.planning.buying import Buying, as_sold, paid_back
from jigs.planning.plan import Plan, RingPlan
from jigs.planning.shares import winding_of, wire_for, with_spares
from jigs.planning.steps import Steps
from jigs.planning.tools import least_tails_mm
from jigs.stock.blade import blades
from jigs.stock.wire import mg_per_mm
from layouts.errors import Refusal
from layouts.lengths import down_to_step, sized, sold_length
from layouts.unit_tables import FOOT_MM, INCH_MM

MOST_SHOWN = 5
LEAST_SHOWN = 0.005  # part of the wire cut that a saving is worth a line from
LONG_ROD_MM = 300.0  # P: a rod sold in this length is common
MOST_TEETH = 3.0  # P: in the wire; a finer blade clogs
FEW_SPARES = 0.10  # P: 10 to 20 % are usual
FEW_FOR_CUTTERS = 20  # P: rings of a seat that one still snips
LENGTHS_MM = (500, 1000, 2000, 3000, 5000, 10_000, 25_000)  # P: that wire is sold in
LENGTHS_FT = (1, 2, 3, 5, 10, 25, 50)  # P: the same where it is sold by the foot
_PIECES_LOOKED_AT = 30  # kinds of piece up to which other lengths are tried


@dataclass(frozen=True, slots=True, kw_only=True)
class Saving:
    """A way to cut less wire: what to do, the wire saved, and its price in hundredths; None where no price is known."""

    words: str
    mm: float
    cents: int | None


def share_in_rings(plan: Plan) -> float:
    """The part of the wire cut that is in rings that pass, spares included."""
    return plan.metal.rings_mg / plan.metal.cut_mg if plan.metal.cut_mg else 0.0


def share_in_spares(plan: Plan) -> float:
    """The part of the rings made that are spares."""
    return 1 - plan.wanted_rings / plan.made_rings if plan.made_rings else 0.0


def savings(plan: Plan) -> tuple[Saving, ...]:
    """The ways that save most, at most five, the most wire first; none where they save next to nothing."""
    longest = LONG_ROD_MM - HELD_OF_ROD_MM

    def on_a_longer_rod(ring: RingPlan) -> float:
        batch = replace(ring.batch, longest_coil_mm=max(longest, ring.batch.longest_coil_mm or longest))
        supply = plan.order.supply_for(ring.ordered.supply_key)
        longest_wire = max(supply.usable_mm) if supply and supply.lengths_mm else None
        step, snip_mm = ring.winding.cut_step_mm, ring.winding.tails_mm - ring.batch.tails_mm
        return _wire(ring, winding_of(batch, longest_wire, snip_mm=snip_mm, cut_step_mm=step))

    def with_short_tails(ring: RingPlan) -> float:
        shorter = ring.batch.tails_mm - least_tails_mm(ring.drill)  # shorter ones are refused
        return _wire(ring, replace(ring.winding, tails_mm=ring.winding.tails_mm - shorter))

    def with_few_spares(ring: RingPlan) -> float:
        return _wire(ring, spares=min(FEW_SPARES, ring.ordered.making.spares))

    def with_a_fine_blade(ring: RingPlan) -> float:
        cut, wire = ring.batch.cut, ring.ring.wire_mm
        fine = [blade.kerf_mm for blade in blades() if wire * blade.teeth_per_inch / INCH_MM <= MOST_TEETH]
        return _wire(ring, _cut_with(ring, min(cut.loss_mm, *fine))) if isinstance(cut, Saw) and fine else _wire(ring)

    found = [
        saving_of(plan, f"a rod of {sized(LONG_ROD_MM)}, that bears windings of {sized(longest)}", on_a_longer_rod),
        saving_of(plan, "tails no longer than holding them needs", with_short_tails),
        saving_of(plan, f"spares of {100 * FEW_SPARES:g} %", with_few_spares),
        saving_of(plan, "the finest blade that has three teeth in the wire or fewer", with_a_fine_blade),
    ]
    apart = [ring for ring in plan.rings if _together(ring) < _wire(ring)]
    if apart:
        # where more rings wound by one take more wire, each seat goes on winding its own
        words = f"one seat that winds for all: {', '.join(ring.name for ring in apart)}"
        found.append(saving_of(plan, words, lambda ring: min(_together(ring), _wire(ring))))
    found += _by_cutters(plan)
    least = LEAST_SHOWN * plan.cut_mm
    in_feet = plan.order.units == "inch"
    for buying in plan.buyings:
        found += _by_other_lengths(buying, in_feet) if buying.left_mm >= least else ()
    return worth_showing(found, least)


def worth_showing(found: Sequence[Saving], least_mm: float) -> tuple[Saving, ...]:
    """Those that save so much wire, and those that take more but save money; the most wire first, at most five."""
    worth = [saving for saving in found if saving.mm >= least_mm or (saving.mm < 0 and (saving.cents or 0) > 0)]
    return tuple(sorted(worth, key=lambda saving: (-saving.mm, saving.words))[:MOST_SHOWN])


def saving_of(plan: Plan, words: str, needs: Callable[[RingPlan], float]) -> Saving:
    """What a way saves of all rings, where it saves anything of one; `needs` says the wire of a ring so made."""
    mm: float = 0
    cents, priced = 0, True
    for ring in plan.rings:
        try:
            saved = max(0, _wire(ring) - needs(ring))
        except Refusal:  # this ring cannot be made so
            continue
        supply = plan.order.supply_for(ring.ordered.supply_key)
        mm += saved
        if supply is None or supply.price is None:
            priced = priced and not saved
        else:
            cents += _cents(supply.price, ring, saved)
    return Saving(words=words, mm=mm, cents=cents if priced else None)


def _cents(price: Price, ring: RingPlan, mm: float) -> int:
    mass = mm * mg_per_mm(ring.ring.wire_mm, ring.ordered.density_g_cm3)
    return price.cents(mass_mg=round(mass), length_mm=mm)


def _wire(ring: RingPlan, winding: Winding | None = None, *, spares: float | None = None) -> float:
    """The wire of all who wind, in windings and with spares as they are or others; counted the same way for all."""
    wire: float = 0
    for seats, wanted, wound in _winders(ring):
        rings = wound if spares is None else with_spares(wanted, spares)
        wire += seats * wire_for(winding or ring.winding, rings)
    return round(wire, 4)


def _winders(ring: RingPlan) -> Iterator[tuple[int, int, int]]:
    """Seats that wind alike, the rings that are wanted of one, and those that it winds."""
    if ring.ordered.making.together:
        yield 1, ring.wanted_rings, ring.made_rings
        return
    for share in ring.shares:
        yield share.seats, share.wanted, share.wound


def _together(ring: RingPlan) -> float:
    """The wire where one seat winds for all, the spares counted on all rings together."""
    made = min(ring.made_rings, with_spares(ring.wanted_rings, ring.ordered.making.spares))
    return wire_for(ring.winding, made)


def _cut_with(ring: RingPlan, loss_mm: float) -> Winding:
    """The windings for rings as large as they are, cut with another loss."""
    coil = coil_for_ring(ring.ring, loss_mm=loss_mm, pitch_mm=ring.batch.pitch_mm)
    return replace(ring.winding, coil=coil)


def _by_cutters(plan: Plan) -> Iterator[Saving]:
    """Cutters where there are few rings: no snips between sections, and trims are clippings, not dust.

    They take more wire as a rule. What they save is then money, where clippings are paid back well.
    """
    for ring in plan.rings:
        metal, temper = ring.ordered.material.metal, ring.ordered.material.temper
        spoils = metal is not None and metal.cutters and (temper is None or temper.name in metal.cutters_tempers)
        few = max(wound for _, _, wound in _winders(ring)) <= FEW_FOR_CUTTERS
        if not isinstance(ring.batch.cut, Saw) or spoils or not few:
            continue
        trim = Cutters.for_wire(ring.ring.wire_mm).loss_mm
        try:
            wire = _wire(ring, replace(_cut_with(ring, trim), longest_section_mm=None))
        except Refusal:  # the coil is too short for it
            continue
        supply, mm, cents = plan.order.supply_for(ring.ordered.supply_key), _wire(ring) - wire, None
        if supply is not None and supply.price is not None:
            per_mm = mg_per_mm(ring.ring.wire_mm, ring.ordered.density_g_cm3)
            more_clippings = round(ring.metal.dust_mg - mm * per_mm)
            paid = math.copysign(_cents(supply.price, ring, abs(mm)), mm)
            back = math.copysign(paid_back(supply.clippings_price, abs(more_clippings)), more_clippings)
            cents = int(paid + back) - paid_back(supply.dust_price, ring.metal.dust_mg)
        yield Saving(words=f"cutters instead of the saw for the {ring.name}", mm=mm, cents=cents)


def _by_other_lengths(buying: Buying, in_feet: bool) -> Iterator[Saving]:
    """The usual length that, sold beside those of the order, would leave least over of what is bought.

    In feet where the order is in inches, or its wire is sold by the foot: whatever lengths are said in now.
    """
    supply, pieces = buying.supply, dict(buying.pieces)
    if supply is None or not supply.lengths_mm or len(pieces) > _PIECES_LOOKED_AT:
        return
    steps = Steps(step_mm=supply.cut_step_mm)
    owned = [down_to_step(spool.length_mm, steps.step_mm) for spool in buying.spools]
    feet = [down_to_step(ft * FOOT_MM, steps.step_mm) for ft in LENGTHS_FT]
    in_feet = in_feet or supply.is_by_the_foot
    usual = feet if in_feet else LENGTHS_MM
    best = None
    for length in usual:
        if length <= supply.short_mm:
            continue
        beside = replace(supply, lengths_mm=(*supply.lengths_mm, length))
        bought = as_sold(steps.cut(pieces, beside.usable_mm, owned, Work(0)), beside).bought_mm
        if bought < (best[0] if best else buying.bought_mm):
            best = bought, length
    if best is None:
        return
    saved, per_mm = buying.bought_mm - best[0], mg_per_mm(buying.wire.diameter_mm, buying.material.weighed_g_cm3)
    cents = None if supply.price is None else supply.price.cents(mass_mg=round(saved * per_mm), length_mm=saved)
    other = sold_length(best[1], in_feet=in_feet)
    words = f"{supply.name} in lengths of {other} too: less wire bought, the same wire cut"
    yield Saving(words=words, mm=saved, cents=cents)
