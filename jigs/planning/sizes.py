"""The size of a ring that an order leaves to a mandrel: the ring that comes off it is the one that is wanted."""

from __future__ import annotations

from dataclasses import replace

from jigs.bench.bench import Bench
from jigs.orders.order import Order, OrderedRing
from jigs.planning.recorded import law_on, with_coil
from jigs.planning.tools import batch_on, choose_blade, cut_of
from layouts.errors import OutOfRange, Refusal, shown
from layouts.lengths import sized


def with_sizes(order: Order, bench: Bench) -> Order:
    """The order with a size for every ring. Refuses a mandrel off which no ring comes, with the name of the ring."""
    if all(ring.has_size for ring in order.rings):
        return order
    return replace(order, rings=tuple(ring if ring.has_size else _off_its_mandrel(ring, bench) for ring in order.rings))


def _off_its_mandrel(ring: OrderedRing, bench: Bench) -> OrderedRing:
    bench = with_coil(bench, ring.wire, ring.material, ring.trial)
    try:
        cut = cut_of(ring, choose_blade(ring, bench), bench)
        if ring.mandrel:
            owned = bench.mandrel(ring.mandrel)
            law = law_on(bench, ring.wire, ring.material, cut, owned.name, owned.measured_mm)
            name, batch = owned.name, batch_on(ring, cut, None, owned.measured_mm, owned.name, recorded=law)
        else:
            mm = ring.mandrel_mm or 0.0
            name = sized(mm)
            law = law_on(bench, ring.wire, ring.material, cut, name, mm)
            batch = batch_on(ring, cut, mm, recorded=law)
    except Refusal as refusal:
        raise OutOfRange(f"ring {shown(ring.name)}: {refusal.problem}", refusal.remedy) from refusal
    return replace(ring, inside_mm=batch.ring.inside_mm, size_from=f"what mandrel {name} gives")
