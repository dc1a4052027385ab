"""What share of the wire cut ends in rings that pass, and what would save most. Wire in whole mm.

Each way is worked out by itself, on the windings alone: the wire that would not be cut, and its price.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from jigs.making.cutting import Saw
from jigs.making.winding import HELD_OF_ROD_MM, Winding
from jigs.planning.plan import Plan, RingPlan
from jigs.planning.shares import wire_for, with_spares
from jigs.stock.blade import blades
from jigs.stock.wire import mg_per_mm
from layouts.errors import Refusal
from layouts.units import INCH_MM

MOST_SHOWN = 5
LEAST_SHOWN = 0.005  # part of the wire cut that a saving is worth a line from
LONG_ROD_MM = 300.0  # P: a rod sold in this length is common
MOST_TEETH = 3.0  # P: in the wire; a finer blade clogs
FEW_SPARES = 0.10  # P: 10 to 20 % are usual
TAIL_THROUGH_MM, TAIL_BENT_MM, TAIL_HELD_MM = 25.0, 10.0, 30.0  # P: the least that holds in a cross-hole, bent, by hand


@dataclass(frozen=True, slots=True, kw_only=True)
class Saving:
    """A way to cut less wire: what to do, the wire saved, and its price in hundredths; None where no price is known."""

    words: str
    mm: int
    cents: int | None


def share_in_rings(plan: Plan) -> float:
    """The part of the wire cut that is in rings that pass, spares included."""
    return plan.metal.rings_mg / plan.metal.cut_mg if plan.metal.cut_mg else 0.0


def share_in_spares(plan: Plan) -> float:
    """The part of the rings made that are spares."""
    return 1 - plan.wanted_rings / plan.made_rings if plan.made_rings else 0.0


def least_tails_mm(ring: RingPlan) -> float:
    """The shortest tails that hold: through the cross-hole or bent into the chuck, and what the hand keeps."""
    return (TAIL_BENT_MM if ring.drill.no_hole else TAIL_THROUGH_MM) + TAIL_HELD_MM


def savings(plan: Plan) -> tuple[Saving, ...]:
    """The ways that save most, at most five, the most wire first; none where they save next to nothing."""
    found = [saving for saving in _ways(plan) if saving.mm >= max(1, LEAST_SHOWN * plan.cut_mm)]
    return tuple(sorted(found, key=lambda saving: (-saving.mm, saving.words))[:MOST_SHOWN])


def _ways(plan: Plan) -> Iterator[Saving]:
    longest = LONG_ROD_MM - HELD_OF_ROD_MM
    yield _saving(plan, f"a rod of {LONG_ROD_MM:g} mm, that bears windings of {longest:g} mm", _on_a_longer(longest))
    yield _saving(plan, "tails no longer than holding them needs", _with_short_tails)
    if any(ring.ordered.making.spares > FEW_SPARES for ring in plan.rings):
        yield _saving(plan, f"spares of {100 * FEW_SPARES:g} %", _with_few_spares)
    yield _saving(plan, "the finest blade that has three teeth in the wire or fewer", _with_a_fine_blade)
    if plan.order.seats > 1:
        yield _saving(plan, "one seat that winds for all, where a ring takes less wire so", _together)


def _saving(plan: Plan, words: str, needs: Callable[[RingPlan], int]) -> Saving:
    mm, cents, priced = 0, 0, True
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
            mass = saved * mg_per_mm(ring.ring.wire_mm, ring.ordered.density_g_cm3)
            cents += supply.price.cents(mass_mg=round(mass), length_mm=saved)
    return Saving(words=words, mm=mm, cents=cents if priced else None)


def _wire(ring: RingPlan, winding: Winding | None = None) -> int:
    """The wire of all seats, in windings as they are or others; the same way for both, so that they compare."""
    return sum(share.seats * wire_for(winding or ring.winding, share.made) for share in ring.shares)


def _on_a_longer(longest: float) -> Callable[[RingPlan], int]:
    def needs(ring: RingPlan) -> int:
        supply_mm = ring.winding.longest_coil_mm
        return _wire(ring, replace(ring.winding, longest_coil_mm=max(longest, supply_mm or 0.0)))

    return needs


def _with_short_tails(ring: RingPlan) -> int:
    return _wire(ring, replace(ring.winding, tails_mm=min(ring.winding.tails_mm, least_tails_mm(ring))))


def _with_few_spares(ring: RingPlan) -> int:
    spares = min(FEW_SPARES, ring.ordered.making.spares)
    return sum(share.seats * wire_for(ring.winding, with_spares(share.wanted, spares)) for share in ring.shares)


def _with_a_fine_blade(ring: RingPlan) -> int:
    """The rings stay as large: a turn is shorter by what the thinner kerf keeps."""
    cut, wire = ring.batch.cut, ring.ring.wire_mm
    if not isinstance(cut, Saw):
        return _wire(ring)
    fine = [blade for blade in blades() if wire * blade.teeth_per_inch / INCH_MM <= MOST_TEETH]
    kerf = min((blade.kerf_mm for blade in fine), default=cut.loss_mm)
    kept = max(0.0, cut.loss_mm - kerf) * ring.made_rings
    return _wire(ring) - int(kept)


def _together(ring: RingPlan) -> int:
    return wire_for(ring.winding, ring.made_rings)
