"""The plan of an order: one frozen value from which tables, sheets and totals are read.

Every total is a sum of whole numbers (rings, windings, mm, mg, cents), so what is shown adds up to the last digit.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate

from jigs.bench.bench import Bench, Spool
from jigs.cutting_stock.effort import Work
from jigs.cutting_stock.solve import USUAL_EFFORT
from jigs.making.batch import Batch
from jigs.making.good_ring import USUAL_WITHIN, Fit, GoodRing
from jigs.making.ring import Ring, coil_for_ring
from jigs.making.winding import MOST_RINGS, Winding
from jigs.orders.order import Order, OrderedRing, supply_key
from jigs.orders.weave import Verdict
from jigs.planning.buying import Buying, Money
from jigs.planning.shares import Masses, Share, winding_of, with_spares
from jigs.planning.sizes import with_sizes
from jigs.planning.tools import (
    BladeChoice,
    DrillChoice,
    MandrelChoice,
    Task,
    choose_blade,
    choose_drill,
    choose_mandrels,
    cut_of,
)
from jigs.planning.windings import Need, wind
from jigs.stock.figure import Figure
from jigs.stock.rod import nearest_rods
from layouts.errors import OutOfRange, Refusal, shown


@dataclass(frozen=True, slots=True, kw_only=True)
class RingPlan:
    """One kind of ring: how it is made, with what, and each seat's share. mandrels: the one to use, then the next."""

    ordered: OrderedRing
    mandrels: tuple[MandrelChoice, ...]
    blade: BladeChoice | None
    drill: DrillChoice
    winding: Winding
    shares: tuple[Share, ...]

    @property
    def name(self) -> str:
        """As the order calls it."""
        return self.ordered.name

    @property
    def mandrel(self) -> MandrelChoice:
        """The mandrel to use."""
        return self.mandrels[0]

    @property
    def batch(self) -> Batch:
        """The rings on that mandrel."""
        return self.mandrel.batch

    @property
    def wanted(self) -> Ring:
        """The closed ring that is wanted."""
        return self.ordered.wanted

    @property
    def ring(self) -> Ring:
        """The closed ring that comes out."""
        return self.batch.ring

    @property
    def ledger(self) -> tuple[Figure, ...]:
        """From mandrel to closed ring, line by line."""
        return self.batch.ledger

    @property
    def verdict(self) -> Verdict | None:
        """The ring against its weave; None where the order names none."""
        weave = self.ordered.weave
        if weave is None:
            return None
        return weave.judge(wire_mm=self.ring.wire_mm, inside_mm=self.ring.inside_mm)

    @property
    def wanted_rings(self) -> int:
        """Rings of all seats, without spares."""
        return sum(share.seats * share.wanted for share in self.shares)

    @property
    def made_rings(self) -> int:
        """Good rings of all seats, with spares."""
        return sum(share.seats * share.made for share in self.shares)

    @property
    def coils(self) -> int:
        """Windings of all seats."""
        return sum(share.seats * share.coils for share in self.shares)

    @property
    def cut_mm(self) -> int:
        """Wire of all seats."""
        return sum(share.seats * share.cut_mm for share in self.shares)

    @property
    def metal(self) -> Masses:
        """Metal of all seats."""
        return sum((share.metal.times(share.seats) for share in self.shares), Masses())

    @property
    def cautions(self) -> tuple[str, ...]:
        """What the maker should be told loudly, one line each."""
        return tuple(f"{self.name}: {caution}" for caution in self._cautions())

    def _cautions(self) -> Iterator[str]:
        choice = self.mandrel
        if choice.is_off_loudly:
            rod, *_ = nearest_rods(self.exact_mandrel_mm)  # one of each kind, the nearest first
            exact = f"{self.exact_mandrel_mm:.3f} mm; as sold: {rod.name} ({rod.kind.value}, {rod.diameter_mm:.3f} mm)"
            ratio, error = f"{self.ring.aspect_ratio:.2f}", f"{100 * choice.ratio_error:+.1f} %"
            wanted = f"{self.wanted.aspect_ratio:.2f} ({error} off)"
            yield f"mandrel {choice.name} gives AR {ratio}, not {wanted}; the exact mandrel is {exact}"
        elif choice.fit is Fit.STRADDLES:
            sure = [f", or take {other.name}" for other in self.mandrels if other.fit is Fit.INSIDE]
            window = "some rings may miss ID {:.2f} to {:.2f}".format(*self.accepted_mm)
            yield f"off {choice.name} {window}: wind a trial coil first{''.join(sure[:1])}"
        yield from self.batch.cautions
        if self.verdict and self.verdict.word in ("impossible", "tight"):
            yield f"an AR of {self.verdict.ratio:.2f} is {self.verdict.word} for {self.verdict.weave.name}"
        if self.blade and not self.blade.keeps_the_rule:
            yield f"blade {self.blade.blade.name} has {self.blade.teeth_in_wire:.1f} teeth in the wire; two cut well"

    @property
    def remark(self) -> str:
        """Why no owned mandrel is used, where the plan chose a rod as sold in spite of those owned; else empty."""
        owned = [choice for choice in self.mandrels[1:] if choice.owned]
        if self.mandrel.owned or self.ordered.mandrel_mm is not None or not owned:
            return ""
        off = f"{owned[0].name} gives an AR {100 * owned[0].ratio_error:+.1f} % off, more than {100 * USUAL_WITHIN:g} %"
        return f"{self.name}: your {off}: {self.mandrel.name} as sold is planned; measure the one you take"

    @property
    def good(self) -> GoodRing:
        """What is wanted and what still passes."""
        return GoodRing(wanted=self.wanted)

    @property
    def accepted_mm(self) -> tuple[float, float]:
        """The least and the largest inside of a good closed ring: wanted -+ tolerance."""
        return self.good.window_mm

    @property
    def tolerance_mm(self) -> float:
        """What the inside may be off so that the AR keeps within 2 %, in whole hundredths, rounded down."""
        return self.good.tolerance_mm

    @property
    def accepted_coil_mm(self) -> tuple[float, float]:
        """The insides of the coil let go off which the rings of `accepted_mm` come."""
        low, high = (self._coil_inside_mm(inside) for inside in self.accepted_mm)
        return low, high

    def _coil_inside_mm(self, inside_mm: float) -> float:
        ring = Ring(wire_mm=self.ring.wire_mm, inside_mm=inside_mm)
        return coil_for_ring(ring, loss_mm=self.batch.cut.loss_mm, pitch_mm=self.batch.pitch_mm).inside_mm

    @property
    def exact_mandrel_mm(self) -> float:
        """The mandrel that would give the wanted ring exactly."""
        from jigs.planning.tools import batch_on

        return batch_on(self.ordered, self.batch.cut).acting_mandrel_mm


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
    def cut_mm(self) -> int:
        """Wire of one seat."""
        return sum(share.cut_mm for _, share in self.shares)

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
    def cut_mm(self) -> int:
        """Wire to cut."""
        return sum(ring.cut_mm for ring in self.rings)

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
        return self.money.net / 100 / self.made_rings if self.has_all_prices else None

    @property
    def net_per_gram(self) -> float | None:
        """Net cost per gram in good rings, in the currency; None without prices."""
        grams = self.metal.rings_mg / 1000
        return self.money.net / 100 / grams if self.has_all_prices and grams else None

    @property
    def remarks(self) -> tuple[str, ...]:
        """What the plan rests on where nothing is owned, or nothing that serves, a line each."""
        said = []
        if not self.bench.mandrels:
            said.append("no mandrel of yours is recorded: the plan uses nominal rod sizes; measure the one you take")
        for ring in self.rings:
            if ring.ordered.size_from:
                size = f"ID {ring.wanted.inside_mm:.3f} mm, OD {ring.wanted.outside_mm:.3f} mm"
                said.append(f"{ring.name}: no size is given: {size} is {ring.ordered.size_from}")
        said += [ring.remark for ring in self.rings if ring.remark]
        if not self.bench.blades and any(ring.blade for ring in self.rings):
            said.append("no blade of yours is recorded: the plan uses the kerfs of the table; measure a cut")
        if not self.bench.drills:
            said.append("no drill of yours is recorded: the metric series")
        if any(buying.supply is None or not buying.supply.lengths_mm for buying in self.buyings):
            said.append("where the order names no lengths sold, wire is bought in one piece")
        return tuple(said)

    @property
    def cautions(self) -> tuple[str, ...]:
        """The cautions of all rings."""
        return tuple(caution for ring in self.rings for caution in ring.cautions)


def make_plan(order: Order, bench: Bench | None = None) -> Plan:
    """The plan of an order with what is owned. Refuses what cannot be made, with the name of the ring."""
    bench = bench or Bench()
    order = with_sizes(order, bench)
    drafts, needs = [], {}
    for ring in order.rings:
        try:
            draft = plan_ring(ring, order, bench)
        except Refusal as refusal:
            raise OutOfRange(f"ring {shown(ring.name)}: {refusal.problem}", refusal.remedy) from refusal
        per_unit = ring.amount.rings_in_one(draft.ring)
        shared = shared_out(ring.amount.units(order.seats), order.seats)
        wanted = tuple((seats, units * per_unit) for seats, units in shared)
        drafts.append(draft)
        needs[ring.name] = Need(batch=draft.batch, winding=draft.winding, wanted=wanted, spares=ring.making.spares)
    made = sum(seats * with_spares(wanted, need.spares) for need in needs.values() for seats, wanted in need.wanted)
    if made > MOST_RINGS:
        raise OutOfRange(
            f"{made} rings are too many for one order, all seats and spares counted",
            f"give at most {MOST_RINGS} in all",
        )
    rings, buyings = _wound(order, bench, drafts, needs)
    return Plan(order=order, bench=bench, rings=rings, buyings=buyings, groups=tuple(_groups(order, rings, buyings)))


def plan_ring(ring: OrderedRing, order: Order, bench: Bench) -> RingPlan:
    """How one kind of ring is made; its shares are not chosen yet."""
    blade, supply = choose_blade(ring, bench), order.supply_for(ring.supply_key)
    longest_wire = max(supply.lengths_mm) if supply and supply.lengths_mm else None
    each_seat = with_spares(
        math.ceil(ring.amount.units(order.seats) * ring.amount.rings_in_one(ring.wanted) / order.seats),
        ring.making.spares,
    )
    task = Task(seats=order.seats, rings=each_seat, longest_wire_mm=longest_wire)
    mandrels = choose_mandrels(ring, cut_of(ring, blade), bench, task)
    batch = mandrels[0].batch
    winding = winding_of(batch, longest_wire)
    return RingPlan(
        ordered=ring,
        mandrels=mandrels,
        blade=blade,
        drill=choose_drill(ring.wire.diameter_mm, mandrels[0], bench),
        winding=winding,
        shares=(),
    )


def shared_out(units: int, seats: int) -> tuple[tuple[int, int], ...]:
    """Units over seats as evenly as can be, (seats, units of each): the first seats have one more where it must be.

    >>> shared_out(10, 4)
    ((2, 3), (2, 2))
    """
    each, more = divmod(units, seats)
    return tuple((count, share) for count, share in ((more, each + 1), (seats - more, each)) if count)


def _wound(
    order: Order, bench: Bench, drafts: Sequence[RingPlan], needs: dict[str, Need]
) -> tuple[tuple[RingPlan, ...], tuple[Buying, ...]]:
    """The rings with their shares, and how each wire is bought and cut: chosen together."""
    groups: dict[tuple[float, str], list[RingPlan]] = {}
    for draft in drafts:
        groups.setdefault(draft.ordered.supply_key, []).append(draft)
    left, work, bought, rings = len(groups), Work(USUAL_EFFORT), {}, {}
    # all wires share one plan's time; what the easy ones, those of few kinds, do not use is left for the others
    for key in sorted(groups, key=lambda key: (len(groups[key]), key)):
        group, supply = groups[key], order.supply_for(key)
        spools = spools_for(group[0].ordered, bench)
        with work.lend(1 / left) as lent:
            wound = wind(
                [needs[draft.name] for draft in group],
                supply.lengths_mm if supply else (),
                [spool.length_mm for spool in spools],
                lent,
                1 / len(groups),
            )
        left -= 1
        for draft, shares in zip(group, wound.shares, strict=True):
            rings[draft.name] = replace(draft, shares=shares)
        bought[key] = Buying(
            wire=group[0].ordered.wire,
            material=group[0].ordered.material,
            supply=supply,
            spools=spools,
            metal=sum((rings[draft.name].metal for draft in group), Masses()),
            cutting=wound.cutting,
            bound_mm=wound.bound_mm,
        )
    return tuple(rings[draft.name] for draft in drafts), tuple(bought[key] for key in groups)


def spools_for(ring: OrderedRing, bench: Bench) -> tuple[Spool, ...]:
    """The spools at hand of the ring's wire, metal and temper; of a metal without known tempers, any spool."""
    metal, temper = ring.material.metal, ring.material.temper
    if metal is None or (temper is None and metal.tempers):
        return ()
    diameter, _ = supply_key(ring.wire, ring.material)
    return tuple(
        spool
        for spool in bench.spools
        if round(spool.wire.diameter_mm, 6) == diameter
        and spool.metal.name == metal.name
        and (temper is None or spool.temper == temper.name)
    )


def _groups(order: Order, rings: tuple[RingPlan, ...], buyings: tuple[Buying, ...]) -> Iterator[SeatGroup]:
    """Seats with the same work, in order."""
    rates = {b.key: Fraction(b.money.net, b.cut_mm) for b in buyings}  # cents for a mm cut
    per_mm = tuple(rates[ring.ordered.supply_key] for ring in rings)
    first = 1
    for last in sorted({last for ring in rings for last in accumulate(share.seats for share in ring.shares)}):
        shares = []
        for ring in rings:
            ends = accumulate(share.seats for share in ring.shares)
            shares.append(next(share for share, end in zip(ring.shares, ends, strict=True) if first <= end))
        part = sum((rate * share.cut_mm for rate, share in zip(per_mm, shares, strict=True)), Fraction(0))
        named = tuple((ring.name, share) for ring, share in zip(rings, shares, strict=True))
        yield SeatGroup(first=first, last=last, shares=named, fee=math.ceil(part))
        first = last + 1
