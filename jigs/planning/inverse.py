"""The plan read the other way: what a length of wire makes, and the same rings in another wire."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from jigs.orders.order import Order, OrderedRing, Sample, Supply, supply_key
from jigs.planning.plan import Plan, RingPlan
from jigs.planning.shares import Lot, lots_of, rings_from, winding_of, wire_for
from jigs.stock.wire import Wire
from layouts.errors import OutOfRange, Refusal, UnknownName
from layouts.lengths import down_to_step


@dataclass(frozen=True, slots=True, kw_only=True)
class FromWire:
    """The most good rings of one kind from one length of wire [mm], spares not set aside."""

    ring: RingPlan
    wire_length_mm: float
    rings: int
    lots: tuple[Lot, ...]
    cut_mm: float

    @property
    def left_mm(self) -> float:
        """What is left of the wire."""
        return self.wire_length_mm - self.cut_mm

    @property
    def chain_mm(self) -> float | None:
        """The plain chain that these rings make, rings x inside + 2 d; None where the ring is for another weave."""
        ring, weave = self.ring.ring, self.ring.ordered.weave
        if not self.rings or weave is None or not weave.is_plain_chain:
            return None
        return self.rings * ring.inside_mm + 2 * ring.wire_mm


def from_wire(plan: Plan, length_mm: float, ring_name: str | None = None) -> tuple[FromWire, ...]:
    """For each kind of ring of the plan, or for one of them, what the whole length makes of it."""
    if ring_name is not None and all(ring.name != ring_name for ring in plan.rings):
        raise UnknownName("ring", ring_name, [ring.name for ring in plan.rings])
    found = []
    for ring in plan.rings:
        if ring_name not in (None, ring.name):
            continue
        try:
            snip_mm = ring.winding.tails_mm - ring.batch.tails_mm
            step = ring.winding.cut_step_mm
            winding = winding_of(ring.batch, down_to_step(length_mm, step), snip_mm=snip_mm, cut_step_mm=step)
        except OutOfRange:  # too short for one
            found.append(FromWire(ring=ring, wire_length_mm=length_mm, rings=0, lots=(), cut_mm=0))
            continue
        if ring.winding.longest_coil_mm is not None and winding.longest_coil_mm is not None:
            winding = replace(winding, longest_coil_mm=min(winding.longest_coil_mm, ring.winding.longest_coil_mm))
        rings = rings_from(winding, length_mm)
        lots, cut_mm = lots_of(winding, rings), wire_for(winding, rings)
        found.append(FromWire(ring=ring, wire_length_mm=length_mm, rings=rings, lots=lots, cut_mm=cut_mm))
    return tuple(found)


def in_wire(order: Order, wire: Wire, ring_name: str | None = None) -> Order:
    """The order with its rings, or one of them, in another wire: the AR kept, so the weave stays what it is.

    A number of rings stays; a length takes fewer rings of thicker wire. A mandrel or a trial coil that belonged to
    the old wire is dropped, and a price by length with it.
    """
    names = [ring.name for ring in order.rings]
    if ring_name is not None and ring_name not in names:
        raise UnknownName("ring", ring_name, names)
    rings = []
    for ring in order.rings:
        if ring_name not in (None, ring.name):
            rings.append(ring)
            continue
        scale = wire.diameter_mm / ring.wire.diameter_mm
        trim, amount = ring.making.trim_mm, ring.amount
        if isinstance(amount, Sample):  # a test piece grows with its wire; a plain chain is worked out anew
            amount = replace(amount, sample_length_mm=amount.sample_length_mm * scale)
        rings.append(
            replace(
                ring,
                wire=wire,
                inside_mm=None,
                outside_mm=None,
                ratio=ring.wanted.aspect_ratio,
                amount=amount,
                making=replace(ring.making, trim_mm=None if trim is None else trim * scale),
                size_from="",
                mandrel="",
                mandrel_mm=None,
                trial=None,
            )
        )
    return replace(order, rings=tuple(rings), supplies=tuple(_supplies(order, rings)))


def _supplies(order: Order, rings: Sequence[OrderedRing]) -> Iterator[Supply]:
    """How each wire is bought now: as before where it is still used, else by the same metal's price by mass."""
    seen = set()
    for ring in rings:
        key = supply_key(ring.wire, ring.material)
        if key in seen:
            continue
        seen.add(key)
        same = order.supply_for(key)
        like = next((supply for supply in order.supplies if supply.material.name == ring.material.name), None)
        if same is not None:
            yield same
        elif like is not None:
            price = like.price if like.price and like.price.is_by_mass else None
            try:
                yield replace(like, wire=ring.wire, price=price)
            except Refusal:  # what scrap brings is not comparable without a price
                yield replace(like, wire=ring.wire, price=price, clippings_price=None, dust_price=None)
