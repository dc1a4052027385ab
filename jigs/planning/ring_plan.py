"""One kind of ring of a plan: what is wanted, how it is made and with what, and each seat's share."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from jigs.making.batch import Batch
from jigs.making.coil import coil_for_ring
from jigs.making.good_ring import USUAL_WITHIN, Fit, GoodRing
from jigs.making.ring import Ring
from jigs.making.winding import Winding
from jigs.orders.order import OrderedRing
from jigs.orders.weave import Verdict
from jigs.planning.shares import Masses, Share
from jigs.planning.tools import (
    BladeChoice,
    DrillChoice,
    MandrelChoice,
)
from jigs.stock.figure import Figure
from jigs.stock.rod import nearest_rods
from layouts.lengths import sized
from layouts.unit_tables import FOOT_MM

GRAMS_PER_OZT = 31.1034768  # S: the troy ounce, by definition


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
        return weave.judge(self.ring)

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
    def cut_mm(self) -> float:
        """Wire of all seats."""
        return round(sum(share.seats * share.cut_mm for share in self.shares), 4)

    @property
    def rings_per_ozt(self) -> float:
        """Rings that weigh a troy ounce."""
        return GRAMS_PER_OZT / (self.batch.ring_mass_g or math.inf)

    @property
    def rings_per_m(self) -> float:
        """Good rings from a metre of wire cut, all waste counted."""
        return 1000 * self.made_rings / self.cut_mm if self.cut_mm else 0.0

    @property
    def rings_per_ft(self) -> float:
        """The same from a foot of wire."""
        return self.rings_per_m * FOOT_MM / 1000

    @property
    def metal(self) -> Masses:
        """Metal of all seats."""
        return sum((share.metal.times(share.seats) for share in self.shares), Masses())

    @property
    def cautions(self) -> tuple[str, ...]:
        """What the maker should be told loudly, one line each with the ring's name."""
        return tuple(f"{self.name}: {caution}" for caution in self.own_cautions)

    @property
    def own_cautions(self) -> tuple[str, ...]:
        """The same where the ring's name stands over them."""
        return tuple(self._cautions())

    def _cautions(self) -> Iterator[str]:
        choice = self.mandrel
        if choice.is_off_loudly:
            rod, *_ = nearest_rods(self.exact_mandrel_mm)  # one of each kind, the nearest first
            sold = f"{rod.name} ({rod.kind.value}, {sized(rod.diameter_mm, 3)})"
            exact = f"{sized(self.exact_mandrel_mm, 3)}; as sold: {sold}"
            ratio, error = f"{self.ring.aspect_ratio:.2f}", f"{choice.ratio_error_percent:+.1f} %"
            wanted = f"{self.wanted.aspect_ratio:.2f} ({error} off)"
            yield f"mandrel {choice.name} gives AR {ratio}, not {wanted}; the exact mandrel is {exact}"
        elif choice.fit is Fit.STRADDLES:
            sure = next((f", or take {other.name}" for other in self.mandrels if other.fit is Fit.INSIDE), "")
            window = "some rings may miss ID {:.2f} to {:.2f}".format(*self.accepted_mm)
            trial = "wind a trial coil on it too" if self.ordered.trial else "wind a trial coil first"
            yield f"off {choice.name} {window}: {trial}{sure}"
        yield from self.batch.cautions
        if self.verdict and self.verdict.word in ("impossible", "tight"):
            yield f"an AR of {self.verdict.ratio:.2f} is {self.verdict.word} for {self.verdict.weave.name}"
        if self.blade and not self.blade.keeps_the_rule:
            yield f"blade {self.blade.blade.name} has {self.blade.teeth_in_wire:.1f} teeth in the wire; two cut well"

    @property
    def remark(self) -> str:
        """Why no owned mandrel is used, where the plan chose a rod as sold in spite of those owned; else empty."""
        best = next((choice for choice in self.mandrels if choice.owned), None)
        if best is None or best is self.mandrel or self.ordered.mandrel_mm is not None:
            return ""
        off = f"{best.name} gives an AR {best.ratio_error_percent:+.1f} % off, more than {100 * USUAL_WITHIN:g} %"
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
        """The insides of a released coil from which the rings of `accepted_mm` come."""
        low, high = (self._coil_inside_mm(inside) for inside in self.accepted_mm)
        return low, high

    def _coil_inside_mm(self, inside_mm: float) -> float:
        ring = Ring(wire_mm=self.ring.wire_mm, inside_mm=inside_mm)
        return coil_for_ring(ring, loss_mm=self.batch.cut.loss_mm, pitch_mm=self.batch.pitch_mm).inside_mm

    @property
    def exact_mandrel_mm(self) -> float:
        """The mandrel that would give the wanted ring exactly."""
        on = replace(self.batch, mandrel_mm=None, measured_mm=None, mandrel_name="", inside_mm=self.wanted.inside_mm)
        return on.acting_mandrel_mm
