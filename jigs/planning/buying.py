"""One wire of an order: what is at hand, what to buy and how to cut it, and what it costs.

Wire in whole mm, masses in whole mg, money in whole hundredths ("cents") of whatever currency the order names.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, replace
from fractions import Fraction

from jigs.bench.bench import Spool
from jigs.cutting_stock.plan import CuttingPlan, Pattern
from jigs.making.material import Material
from jigs.orders.order import Supply, supply_key
from jigs.orders.price import Price, amount
from jigs.planning.shares import Masses
from jigs.stock.wire import Wire, mg_per_mm
from layouts.lengths import to_cut, up_to_step
from layouts.unit_tables import FOOT_MM

SHORT_MEASURE = 0.005  # P: part by which a length sold may be measured short


@dataclass(frozen=True, slots=True, kw_only=True)
class Money:
    """The ledger of what wire costs, in cents: net = paid + drawn - left - credit."""

    paid: int = 0
    drawn: int = 0
    left: int = 0
    credit: int = 0

    @property
    def net(self) -> int:
        """What the work costs: bought, and drawn from spools at hand, less what is left and what the scrap brings."""
        return self.paid + self.drawn - self.left - self.credit

    def __add__(self, other: Money) -> Money:
        return Money(
            paid=self.paid + other.paid,
            drawn=self.drawn + other.drawn,
            left=self.left + other.left,
            credit=self.credit + other.credit,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Buying:
    """All that is cut from one wire. bound_mm: no plan at all, however it is wound, buys less than this."""

    wire: Wire
    material: Material
    supply: Supply | None
    spools: tuple[Spool, ...]
    metal: Masses
    cutting: CuttingPlan
    bound_mm: float

    @property
    def key(self) -> tuple[float, str]:
        """As `OrderedRing.supply_key`."""
        return supply_key(self.wire, self.material)

    @property
    def pieces(self) -> tuple[tuple[float, int], ...]:
        """The windings by the wire to cut for each: (length mm, how many), longest first."""
        pieces: Counter[float] = Counter()
        for pattern in self.cutting.patterns:
            for length, count in pattern.pieces:
                pieces[length] += count * pattern.times
        return tuple(sorted(pieces.items(), reverse=True))

    @property
    def is_proved(self) -> bool:
        """Whether no plan buys less, however it is wound and cut."""
        return self.bought_mm <= self.bound_mm

    @property
    def proof(self) -> str:
        """How good the plan is, in words."""
        if self.is_proved:
            return "proved: no plan buys less"
        if self.cutting.is_proved:
            return f"proved for these windings; no plan at all buys less than {to_cut(self.bound_mm)}"
        return f"with these windings {self.cutting.proof}"

    def is_in_feet(self, length_mm: float) -> bool:
        """Whether a length of it is sold in feet."""
        return self.supply is not None and self.supply.is_in_feet(length_mm)

    @property
    def tightest(self) -> Pattern | None:
        """The length of which so little is left that a short measure spoils it; None with an allowance for that."""
        if self.supply is None or not self.supply.lengths_mm or self.supply.short_mm:
            return None
        sold = [pattern for pattern in self.cutting.patterns if not pattern.owned]
        tight = [pattern for pattern in sold if pattern.left_mm < SHORT_MEASURE * pattern.stock_mm]
        return min(tight, key=lambda pattern: (pattern.left_mm, -pattern.stock_mm), default=None)

    @property
    def cut_mm(self) -> float:
        """Wire in all windings."""
        return self.cutting.cut_mm

    @property
    def bought_mm(self) -> float:
        """Wire bought."""
        return self.cutting.bought_mm

    @property
    def drawn_mm(self) -> float:
        """Wire drawn from spools at hand."""
        return self.cutting.owned_used_mm

    @property
    def left_mm(self) -> float:
        """Wire left of what was bought: bought + drawn - cut."""
        return self.cutting.left_mm

    @property
    def drawn_mg(self) -> int:
        """Metal drawn from spools at hand."""
        if self.drawn_mm == self.cut_mm:
            return self.metal.cut_mg
        return min(self.metal.cut_mg, round(self.drawn_mm * self._mg_per_mm))

    @property
    def left_mg(self) -> int:
        """Metal left of what was bought."""
        return round(self.left_mm * self._mg_per_mm)

    @property
    def bought_mg(self) -> int:
        """Metal bought: rings + clippings + dust + left - drawn, so that the ledger adds up."""
        return self.metal.cut_mg + self.left_mg - self.drawn_mg

    @property
    def bought_g(self) -> float:
        """Metal bought, in grams."""
        return self.bought_mg / 1000

    @property
    def drawn_g(self) -> float:
        """Metal drawn from spools at hand, in grams."""
        return self.drawn_mg / 1000

    @property
    def left_g(self) -> float:
        """Metal left of what was bought, in grams."""
        return self.left_mg / 1000

    @property
    def _mg_per_mm(self) -> float:
        return mg_per_mm(self.wire.diameter_mm, self.material.weighed_g_cm3)

    @property
    def has_price(self) -> bool:
        """Whether the order says what it costs."""
        return self.supply is not None and self.supply.price is not None

    @property
    def money(self) -> Money:
        """What it costs; nothing without a price."""
        supply = self.supply
        if supply is None or supply.price is None:
            return Money()
        charged: Fraction = Fraction(str(self.bought_mm))
        if supply.feet_mm or supply.is_by_the_foot:
            charged = sum((supply.charged_mm(mm) * many for mm, many in self.cutting.lengths), Fraction(0))
        return Money(
            paid=supply.price.cents(mass_mg=self.bought_mg, length_mm=charged),
            drawn=supply.price.cents(mass_mg=self.drawn_mg, length_mm=self.drawn_mm),
            left=supply.price.cents(mass_mg=self.left_mg, length_mm=self.left_mm),
            credit=paid_back(supply.clippings_price, self.metal.clippings_mg)
            + paid_back(supply.dust_price, self.metal.dust_mg),
        )

    @property
    def net_per_gram(self) -> float | None:
        """Net cost per gram in good rings: (bought - credit) / used, what is left over kept at its price."""
        if not self.has_price or not self.metal.rings_mg:
            return None
        return net_cost_per_gram(cost=amount(self.money.net), credit=0, used_g=self.metal.rings_g)


def in_feet_mm(length_mm: float, step_mm: float = 1.0) -> float:
    """The whole feet that hold a length, in mm; rounded up to whole steps."""
    return up_to_step(math.ceil(length_mm / FOOT_MM - 1e-9) * FOOT_MM, step_mm)


def as_sold(cutting: CuttingPlan, supply: Supply) -> CuttingPlan:
    """The plan in lengths as they are sold: what each may be measured short by stays on it; one piece in whole feet."""
    longer = dict(zip(supply.usable_mm, supply.lengths_mm, strict=True))
    patterns = []
    for pattern in cutting.patterns:
        length = longer.get(pattern.stock_mm, pattern.stock_mm)
        if not supply.lengths_mm and supply.is_by_the_foot:
            length = in_feet_mm(length, supply.cut_step_mm)
        patterns.append(pattern if pattern.owned else replace(pattern, stock_mm=length))
    sold = replace(cutting, patterns=tuple(patterns))
    proved = cutting.is_proved
    return replace(
        sold,
        paid=sold.bought_mm,
        bound_paid=sold.bought_mm if proved else cutting.bound_paid,
        bound_mm=sold.bought_mm if proved else cutting.bound_mm,
    )


def net_cost_per_gram(*, cost: float, credit: float, used_g: float) -> float:
    """(bought - credit for scrap) / used.

    100 g bought at 8, 80 used, 20 sold back at 6:

    >>> net_cost_per_gram(cost=100 * 8, credit=20 * 6, used_g=80)
    8.5
    """
    return (cost - credit) / used_g


def paid_back(price: Price | None, mass_mg: int) -> int:
    """What scrap of this mass brings, in cents; nothing without a price."""
    return 0 if price is None else price.cents(mass_mg=mass_mg, length_mm=0)
