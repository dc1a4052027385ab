"""The plan read the other way: what a length of wire makes, and the same rings in another wire."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from jigs.orders.order import Amount, Chain, Order, OrderedRing, Sample, Supply, supply_key
from jigs.planning.plan import Plan, RingPlan
from jigs.planning.shares import Lot, lots_of, rings_from, winding_of, wire_for
from jigs.stock.wire import Wire
from layouts.errors import OutOfRange, Refusal, UnknownName


@dataclass(frozen=True, slots=True, kw_only=True)
class FromWire:
    """The most good rings of one kind from one length of wire [mm], spares not set aside."""

    ring: RingPlan
    wire_length_mm: float
    rings: int
    lots: tuple[Lot, ...]
    cut_mm: int

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
    return tuple(_from_wire(ring, length_mm) for ring in _chosen(plan, ring_name))


def in_wire(order: Order, wire: Wire, ring_name: str | None = None) -> Order:
    """The order with its rings, or one of them, in another wire: the AR kept, so the weave stays what it is.

    A number of rings stays; a length takes fewer rings of thicker wire. A mandrel or a trial coil that belonged to
    the old wire is dropped, and a price by length with it.
    """
    names = [ring.name for ring in order.rings]
    if ring_name is not None and ring_name not in names:
        raise UnknownName("ring", ring_name, names)
    rings = tuple(_in_wire(ring, wire) if ring_name in (None, ring.name) else ring for ring in order.rings)
    return replace(order, rings=rings, supplies=tuple(_supplies(order, rings)))


def _from_wire(ring: RingPlan, length_mm: float) -> FromWire:
    try:
        winding = winding_of(ring.batch, int(length_mm))
    except OutOfRange:
        return FromWire(ring=ring, wire_length_mm=length_mm, rings=0, lots=(), cut_mm=0)
    if ring.winding.longest_coil_mm is not None and winding.longest_coil_mm is not None:
        winding = replace(winding, longest_coil_mm=min(winding.longest_coil_mm, ring.winding.longest_coil_mm))
    rings = rings_from(winding, length_mm)
    return FromWire(
        ring=ring,
        wire_length_mm=length_mm,
        rings=rings,
        lots=lots_of(winding, rings),
        cut_mm=wire_for(winding, rings),
    )


def _chosen(plan: Plan, name: str | None) -> tuple[RingPlan, ...]:
    if name is None:
        return plan.rings
    for ring in plan.rings:
        if ring.name == name:
            return (ring,)
    raise UnknownName("ring", name, [ring.name for ring in plan.rings])


def _in_wire(ring: OrderedRing, wire: Wire) -> OrderedRing:
    scale = wire.diameter_mm / ring.wire.diameter_mm
    trim = ring.making.trim_mm
    return replace(
        ring,
        wire=wire,
        inside_mm=None,
        outside_mm=None,
        ratio=ring.wanted.aspect_ratio,
        amount=_scaled(ring.amount, scale),
        making=replace(ring.making, trim_mm=None if trim is None else trim * scale),
        mandrel="",
        mandrel_mm=None,
        trial_inside_mm=None,
        trial_mandrel_mm=None,
    )


def _scaled(amount: Amount, scale: float) -> Amount:
    """A test piece grows with its wire; a plain chain is worked out anew, and a number is a number."""
    if isinstance(amount, Sample):
        return replace(amount, sample_length_mm=amount.sample_length_mm * scale)
    return replace(amount) if isinstance(amount, Chain) else amount


def _supplies(order: Order, rings: tuple[OrderedRing, ...]) -> Iterator[Supply]:
    """How each wire is bought now: as before where it is still used, else by the same metal's price by mass."""
    seen = set()
    for ring in rings:
        key = supply_key(ring.wire, ring.material)
        if key in seen:
            continue
        seen.add(key)
        same = order.supply_for(key) or _like(order, ring)
        if same is not None:
            yield same


def _like(order: Order, ring: OrderedRing) -> Supply | None:
    for supply in order.supplies:
        if supply.material.name == ring.material.name:
            price = supply.price if supply.price and supply.price.is_by_mass else None
            try:
                return replace(supply, wire=ring.wire, price=price)
            except Refusal:  # what scrap brings is not comparable without a price
                return replace(supply, wire=ring.wire, price=price, clippings_price=None, dust_price=None)
    return None
