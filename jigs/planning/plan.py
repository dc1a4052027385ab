"""The plan of an order: one frozen value from which tables, sheets and totals are read.

Every total is a sum of whole numbers (rings, windings, mm, mg, cents), so what is shown adds up to the last digit.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate

from jigs.bench.bench import Bench, Spool
from jigs.bench.knowledge import knowledge_of
from jigs.cutting_stock.effort import Work
from jigs.cutting_stock.solve import USUAL_EFFORT
from jigs.making.material import Material
from jigs.making.ring import Ring
from jigs.making.winding import MOST_RINGS
from jigs.orders.order import Order, OrderedRing, supply_key
from jigs.orders.price import amount
from jigs.planning.buying import Buying, Money, as_sold, in_feet_mm
from jigs.planning.ring_plan import RingPlan as RingPlan
from jigs.planning.shares import Masses, Share, handed_out, shared_out, winding_of, with_spares
from jigs.planning.sizes import with_sizes
from jigs.planning.tools import (
    choose_blade,
    choose_drill,
    choose_mandrels,
    cut_of,
    refuse_short_tails,
)
from jigs.planning.windings import Need, wind
from jigs.stock.wire import Wire
from layouts.errors import OutOfRange, Refusal, shown
from layouts.lengths import sized, sold_length, step_mm, to_cut


@dataclass(frozen=True, slots=True, kw_only=True)
class SeatGroup:
    """Seats `first` to `last` (from 1), all with the same work: a share of each ring, and what one seat pays."""

    first: int
    last: int
    shares: tuple[tuple[str, Share], ...]
    fee: int

    @property
    def seats(self) -> int:
        """How many they are."""
        return self.last - self.first + 1

    @property
    def cut_mm(self) -> float:
        """Wire of one seat."""
        return round(sum(share.cut_mm for _, share in self.shares), 4)

    @property
    def made_rings(self) -> int:
        """Good rings of one seat, with spares."""
        return sum(share.made for _, share in self.shares)

    @property
    def coils(self) -> int:
        """Windings of one seat."""
        return sum(share.coils for _, share in self.shares)

    @property
    def metal(self) -> Masses:
        """Metal of one seat."""
        return sum((share.metal for _, share in self.shares), Masses())


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """All of an order: its rings, its wires, its seats, and their totals."""

    order: Order
    bench: Bench
    rings: tuple[RingPlan, ...]
    buyings: tuple[Buying, ...]
    groups: tuple[SeatGroup, ...]

    @property
    def wanted_rings(self) -> int:
        """Rings asked for."""
        return sum(ring.wanted_rings for ring in self.rings)

    @property
    def made_rings(self) -> int:
        """Good rings with spares."""
        return sum(ring.made_rings for ring in self.rings)

    @property
    def coils(self) -> int:
        """Windings of all rings."""
        return sum(ring.coils for ring in self.rings)

    @property
    def cut_mm(self) -> float:
        """Wire to cut."""
        return round(sum(ring.cut_mm for ring in self.rings), 4)

    @property
    def metal(self) -> Masses:
        """Where the metal goes."""
        return sum((ring.metal for ring in self.rings), Masses())

    @property
    def bought_mg(self) -> int:
        """Metal bought."""
        return sum(buying.bought_mg for buying in self.buyings)

    @property
    def bought_g(self) -> float:
        """Metal bought, in grams."""
        return self.bought_mg / 1000

    @property
    def drawn_g(self) -> float:
        """Metal drawn from spools at hand, in grams."""
        return sum(buying.drawn_mg for buying in self.buyings) / 1000

    @property
    def left_g(self) -> float:
        """Metal left of what was bought, in grams."""
        return sum(buying.left_mg for buying in self.buyings) / 1000

    @property
    def money(self) -> Money:
        """What all wires cost."""
        return sum((buying.money for buying in self.buyings), Money())

    @property
    def has_all_prices(self) -> bool:
        """Whether every wire has its price: only then is the cost that of the whole job."""
        return all(buying.has_price for buying in self.buyings)

    @property
    def fees(self) -> int:
        """What all seats pay together."""
        return sum(group.seats * group.fee for group in self.groups)

    @property
    def rounding(self) -> int:
        """What the seats pay over the cost, as each seat's part is rounded up to the cent."""
        return self.fees - self.money.net

    @property
    def net_per_ring(self) -> float | None:
        """Net cost of one ring made, in the currency; None without prices."""
        return amount(self.money.net) / self.made_rings if self.has_all_prices else None

    @property
    def net_per_gram(self) -> float | None:
        """Net cost per gram in good rings, in the currency; None without prices."""
        grams = self.metal.rings_g
        return amount(self.money.net) / grams if self.has_all_prices and grams else None

    @property
    def remarks(self) -> tuple[str, ...]:
        """What the plan goes by where nothing is owned, or nothing that serves, a line each."""
        said = []
        materials = [ring.ordered.material for ring in self.rings]
        if self.bench.records and (left := knowledge_of(self.bench).left_out(materials)):
            said.append(left)
        if not self.bench.mandrels:
            said.append("no mandrel of yours is recorded: the plan uses nominal rod sizes; measure the one you take")
        for ring in self.rings:
            if ring.ordered.size_from:
                size = f"ID {sized(ring.wanted.inside_mm, 3)}, OD {sized(ring.wanted.outside_mm, 3)}"
                said.append(f"{ring.name}: no size is given: {size} is {ring.ordered.size_from}")
        said += [ring.remark for ring in self.rings if ring.remark]
        if not self.bench.blades and any(ring.blade for ring in self.rings):
            said.append("no blade of yours is recorded: the plan uses the kerfs of the table; measure a cut")
        if not self.bench.drills:
            said.append("no drill of yours is recorded: the metric series")
        if any(buying.supply is None or not buying.supply.lengths_mm for buying in self.buyings):
            said.append("where the order names no lengths sold, wire is bought in one piece")
        for buying in self.buyings:
            if (tight := buying.tightest) is not None:
                of = sold_length(tight.stock_mm, in_feet=buying.is_in_feet(tight.stock_mm))
                left = f"of {of} only {to_cut(tight.left_mm)} are left over"
                said.append(f"{left}: measure it before you cut, or allow for a short measure")
        return tuple(said)

    @property
    def cautions(self) -> tuple[str, ...]:
        """The cautions of all rings."""
        return tuple(caution for ring in self.rings for caution in ring.cautions)


def make_plan(
    order: Order, bench: Bench | None = None, report: Callable[[int, int], None] = lambda done, total: None
) -> Plan:
    """The plan of an order with what is owned. Refuses what cannot be made, with the name of the ring.

    `report` is told how many steps of how many are done: the rings, then the wires.
    """
    bench = bench or Bench()
    order = with_sizes(in_steps(order), bench)
    drafts, needs = [], {}
    steps = len(order.rings) + len({ring.supply_key for ring in order.rings})
    for number, ring in enumerate(order.rings):
        report(number, steps)
        try:
            draft = plan_ring(ring, order, bench)
        except Refusal as refusal:
            raise OutOfRange(f"ring {shown(ring.name)}: {refusal.problem}", refusal.remedy) from refusal
        wanted = wanted_by_seats(ring, draft.ring, order.seats)
        if ring.making.together:
            wanted = ((1, sum(seats * rings for seats, rings in wanted)),)
        drafts.append(draft)
        needs[ring.name] = Need(batch=draft.batch, winding=draft.winding, wanted=wanted, spares=ring.making.spares)
    made = sum(seats * with_spares(wanted, need.spares) for need in needs.values() for seats, wanted in need.wanted)
    if made > MOST_RINGS:
        raise OutOfRange(
            f"{made} rings are too many for one order, all seats and spares counted",
            f"give at most {MOST_RINGS} in all",
        )
    rings, buyings = _wound(order, bench, drafts, needs, lambda left: report(steps - left, steps))
    return Plan(order=order, bench=bench, rings=rings, buyings=buyings, groups=tuple(_groups(order, rings, buyings)))


def in_steps(order: Order) -> Order:
    """The order with its wire cut in the steps of its units."""
    return replace(order, supplies=tuple(supply.in_steps(step_mm(order.units)) for supply in order.supplies))


def wanted_by_seats(ordered: OrderedRing, ring: Ring, seats: int) -> tuple[tuple[int, int], ...]:
    """(seats, rings that each wants), the seats in order; `ring` is the one that comes out."""
    per_unit = ordered.amount.rings_in_one(ring)
    return tuple((many, units * per_unit) for many, units in shared_out(ordered.amount.units(seats), seats))


def plan_ring(ring: OrderedRing, order: Order, bench: Bench) -> RingPlan:
    """How one kind of ring is made; its shares are not chosen yet."""
    blade, supply = choose_blade(ring, bench), order.supply_for(ring.supply_key)
    longest_wire = max(supply.usable_mm) if supply and supply.lengths_mm else None
    mandrels = choose_mandrels(ring, cut_of(ring, blade, bench), bench)
    batch = mandrels[0].batch
    drill = choose_drill(ring.wire.diameter_mm, mandrels[0], bench)
    winding = winding_of(
        batch, longest_wire, snip_mm=supply.snip_mm if supply else 0.0, cut_step_mm=step_mm(order.units)
    )
    refuse_short_tails(batch.tails_mm, drill)
    return RingPlan(
        ordered=ring,
        mandrels=mandrels,
        blade=blade,
        drill=drill,
        winding=winding,
        shares=(),
    )


def _wound(
    order: Order, bench: Bench, drafts: Sequence[RingPlan], needs: dict[str, Need], report: Callable[[int], None]
) -> tuple[tuple[RingPlan, ...], tuple[Buying, ...]]:
    """The rings with their shares, and how each wire is bought and cut: chosen together. `report`: wires left."""
    groups: dict[tuple[float, str], list[RingPlan]] = {}
    for draft in drafts:
        groups.setdefault(draft.ordered.supply_key, []).append(draft)
    left, work, bought, rings = len(groups), Work(USUAL_EFFORT), {}, {}
    # all wires share one plan's time; what the easy ones, those of few kinds, do not use is left for the others
    for key in sorted(groups, key=lambda key: (len(groups[key]), key)):
        report(left)
        group, supply = groups[key], order.supply_for(key)
        [draft, *_] = group  # all are of one wire and one material
        wire, material = draft.ordered.wire, draft.ordered.material
        spools = spools_for(wire, material, bench)
        with work.lend(1 / left) as lent:
            wound = wind(
                [needs[draft.name] for draft in group],
                supply.usable_mm if supply else (),
                [spool.length_mm for spool in spools],
                lent,
                1 / len(groups),
            )
        left, cutting, bound_mm = left - 1, wound.cutting, wound.bound_mm
        if supply:
            cutting = as_sold(cutting, supply)
            in_one = supply.is_by_the_foot and not supply.lengths_mm
            bound_mm = in_feet_mm(bound_mm, supply.cut_step_mm) if in_one else bound_mm
        for draft, shares in zip(group, wound.shares, strict=True):
            if draft.ordered.making.together:
                [of_all] = shares
                shares = handed_out(draft.batch, of_all, wanted_by_seats(draft.ordered, draft.ring, order.seats))
            rings[draft.name] = replace(draft, shares=shares)
        bought[key] = Buying(
            wire=wire,
            material=material,
            supply=supply,
            spools=spools,
            metal=sum((rings[draft.name].metal for draft in group), Masses()),
            cutting=cutting,
            bound_mm=cutting.bought_mm if wound.bound_mm == wound.cutting.bought_mm else bound_mm,
        )
    return tuple(rings[draft.name] for draft in drafts), tuple(bought[key] for key in groups)


def spools_for(wire: Wire, material: Material, bench: Bench) -> tuple[Spool, ...]:
    """The spools at hand of a wire, its metal and temper; of a metal without known tempers, any spool."""
    metal, temper = material.metal, material.temper
    if metal is None or (temper is None and metal.tempers):
        return ()
    diameter, _ = supply_key(wire, material)
    return tuple(
        spool
        for spool in bench.spools
        if round(spool.wire.diameter_mm, 6) == diameter
        and spool.metal.name == metal.name
        and (temper is None or spool.temper == temper.name)
    )


def _groups(order: Order, rings: tuple[RingPlan, ...], buyings: tuple[Buying, ...]) -> Iterator[SeatGroup]:
    """Seats with the same work, in order."""
    rates = {b.key: b.money.net / Fraction(str(b.cut_mm)) for b in buyings}  # cents for a mm cut
    first = 1
    for last in sorted({last for ring in rings for last in accumulate(share.seats for share in ring.shares)}):
        shares = []
        for ring in rings:
            ends = accumulate(share.seats for share in ring.shares)
            shares.append(next(share for share, end in zip(ring.shares, ends, strict=True) if first <= end))
        part = Fraction(0)
        for ring, share in zip(rings, shares, strict=True):
            # where one seat winds for all, each pays for the rings it gets
            of_all = Fraction(share.made, ring.made_rings) * Fraction(str(ring.cut_mm))
            part += rates[ring.ordered.supply_key] * (
                of_all if ring.ordered.making.together else Fraction(str(share.cut_mm))
            )
        named = tuple((ring.name, share) for ring, share in zip(rings, shares, strict=True))
        yield SeatGroup(first=first, last=last, shares=named, fee=math.ceil(part))
        first = last + 1
