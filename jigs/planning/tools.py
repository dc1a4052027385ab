"""The mandrel, the blade and the drill for a ring: of what is owned, or else of the built-in series."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from jigs.bench.bench import Bench, Mandrel
from jigs.making.batch import Batch
from jigs.making.coil import ring_of_coil
from jigs.making.core import core_for
from jigs.making.cutting import Cut, choose_cut
from jigs.making.drilled_dowel import least_hole_mm
from jigs.making.good_ring import USUAL_WITHIN, Fit, GoodRing
from jigs.making.material import LawBand
from jigs.making.ring import Ring
from jigs.making.winding import longest_winding
from jigs.planning.recorded import cut_with, law_for, law_on, with_coil
from jigs.stock.blade import Blade, blades, find_blade
from jigs.stock.drill import Drill, next_drill
from jigs.stock.rod import Rod, RodKind, nearest_rods
from layouts.errors import OutOfRange, Refusal
from layouts.lengths import sized, sold_as
from layouts.units import INCH_MM, parse_length

if TYPE_CHECKING:
    from jigs.orders.order import OrderedRing

CHOICES = 3
LOOKED_AT = 8  # mandrels nearest the exact one that are worked through
FAR_OFF = 0.25  # of the AR (P): an owned mandrel further off makes another ring altogether, and is not worth a word
TRIAL_TURNS = 5  # P: of a trial coil
RANKED_BY = 100  # rings for which mandrels are compared, whatever the order: more rings never turn the choice round
FEWEST_TEETH = 2.0  # in the metal at once (common practice, no source)
THINNEST_DRILLED_MM = 5.0  # P: thinner wood snaps at its cross-hole
THIN_WIRE_MM, COARSEST_IN_THIN, COARSEST = 1.1, "2/0", "1"  # P: no coarser blade in thinner wire, and in thicker
TAIL_THROUGH_MM, TAIL_BENT_MM, TAIL_HELD_MM = 25.0, 10.0, 30.0  # P: the least that holds in a cross-hole, bent, by hand
_SAME = 4  # decimals of an AR error to which two mandrels are equally good


def closed_mm(batch: Batch) -> tuple[float, float | None, float | None]:
    """The closed inside in the middle of the band, at its low and at its high end; None without a band."""
    low, high = batch.coil_low, batch.coil_high
    loss = batch.cut.loss_mm
    ends = [None if coil is None else ring_of_coil(coil, loss).inside_mm for coil in (low, high)]
    return batch.ring.inside_mm, ends[0], ends[1]


def fit_of(batch: Batch, good: GoodRing) -> Fit:
    """How the rings of a batch lie to the window of a good one."""
    return good.fit(*closed_mm(batch))


@dataclass(frozen=True, slots=True, kw_only=True)
class MandrelChoice:
    """A mandrel, the batch wound on it, and how far its ring is from the wanted one.

    kind is that of an owned one; "" where it is not known. rod is what it is bought as; None where that is not said.
    """

    name: str
    kind: str
    owned: bool
    rod: Rod | None = None
    batch: Batch
    wanted: Ring

    @property
    def diameter_mm(self) -> float:
        """What it is wound on: the measured diameter of an owned one, else the nominal."""
        return self.batch.acting_mandrel_mm

    @property
    def ring(self) -> Ring:
        """The closed ring that comes off it."""
        return self.batch.ring

    @property
    def off_mm(self) -> float:
        """Inside diameter - wanted."""
        return self.ring.inside_mm - self.wanted.inside_mm

    @property
    def ratio_error(self) -> float:
        """AR / wanted AR - 1."""
        return self.ring.aspect_ratio / self.wanted.aspect_ratio - 1

    @property
    def ratio_error_percent(self) -> float:
        """The AR over the wanted one, in percent of it."""
        return 100 * self.ratio_error

    @property
    def is_off_loudly(self) -> bool:
        """Whether its ring is off by more than 2 %."""
        return abs(self.ratio_error) > USUAL_WITHIN

    @property
    def fit(self) -> Fit:
        """How its ring lies to the window of a good one, with the band of the springback."""
        return fit_of(self.batch, GoodRing(wanted=self.wanted))

    @property
    def is_shank(self) -> bool:
        """Whether it is the shank of a drill: short, and of a size that is sold as no rod."""
        return self.rod is not None and self.rod.kind is RodKind.SHANK

    @property
    def may_be_wood(self) -> bool:
        """Whether a cross-hole can be drilled in it: not where it is of something else, nor where it snaps."""
        return self.why_not_drilled == ""

    @property
    def why_not_drilled(self) -> str:
        """Why no cross-hole is drilled in it, after its name; empty where one may be.

        Wood under 5 mm snaps; a rod that is not yours yet is drilled only where the hole is a quarter of it at most.
        """
        if self.kind not in ("", "wood"):
            return "is not wood" if self.kind == "household" else f"is {self.kind}"
        if self.is_shank:
            return "is a drill's shank"
        if self.rod is not None and self.rod.kind is RodKind.GROUND:
            return "is ground steel"
        if self.diameter_mm < THINNEST_DRILLED_MM - 1e-9:
            return f"is under {sized(THINNEST_DRILLED_MM)}: wood that thin snaps at a hole"
        hole = least_hole_mm(self.wanted.wire_mm)
        if self.rod is not None and hole > self.diameter_mm / 4 + 1e-9:
            return f"is thin for a hole of {sized(hole, 2)}, over a quarter of it"
        return ""

    @property
    def suits_the_cut(self) -> bool:
        """Wood for the saw, hard and smooth for cutters; a kind that is not known does."""
        cut = self.batch.cut
        fits = "wood" if cut.is_sawn else "steel" if cut.is_snipped else self.kind
        return self.kind in ("", fits)

    @property
    def core(self) -> Rod | None:
        """The wooden core for the saw, off a mandrel that is not of wood; None where none is needed or none is fit."""
        if not self.batch.cut.is_sawn or self.kind == "wood":
            return None
        return core_for((self.batch.coil_low or self.batch.coil).inside_mm)

    @property
    def advice(self) -> str:
        """What the cut asks of it."""
        if self.batch.cut.is_sawn:
            if self.kind == "wood":
                return "wood: the saw may run into it"
            if self.core is None:
                return "tape the coil and lay it in the pin's groove: too small for a wooden core; never saw on metal"
            rod = self.core
            core = sold_as(rod.name, rod.diameter_mm, in_inches=rod.kind is RodKind.INCH)
            return f"slide the coil onto a wooden core of {core} or less: never saw on metal"
        if self.batch.cut.is_snipped and self.kind in ("wood", "household"):
            return "wire bites soft stuff and the coil sticks: wax it, or take something hard and smooth"
        return "hard and smooth: the coil slides off" if self.batch.cut.is_snipped else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BladeChoice:
    """A saw blade for a wire, and why."""

    blade: Blade
    owned: bool
    ordered: bool
    wire_mm: float

    @property
    def teeth_in_wire(self) -> float:
        """Teeth in the metal where the wire is thickest: d in inches x teeth per inch."""
        return self.wire_mm * self.blade.teeth_per_inch / INCH_MM

    @property
    def keeps_the_rule(self) -> bool:
        """Two teeth or more in the metal at once: advice, as the chord changes through the cut."""
        return self.teeth_in_wire >= FEWEST_TEETH - 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillChoice:
    """The drill for a cross-hole that holds the wire's tail in a wooden mandrel."""

    drill: Drill
    owned: bool
    wire_mm: float
    mandrel_mm: float
    in_wood: bool = True
    not_drilled: str = "the mandrel is not of wood"

    @property
    def clearance_mm(self) -> float:
        """Hole - wire."""
        return self.drill.diameter_mm - self.wire_mm

    @property
    def no_hole(self) -> str:
        """Why no cross-hole is drilled, and what to do instead; empty where one is."""
        if not self.in_wood:
            return f"{self.not_drilled}; clamp the tail"
        if self.drill.diameter_mm > self.mandrel_mm / 3:
            return f"over a third of {sized(self.mandrel_mm, 2)}; clamp the tail instead"
        return ""

    @property
    def advice(self) -> str:
        """What the wood bears: a hole of D/4 at most is sound, over D/3 is refused (common practice, no source)."""
        if self.no_hole:
            return f"no cross-hole: {self.no_hole}"
        if self.drill.diameter_mm > self.mandrel_mm / 4:
            return f"over a quarter of {sized(self.mandrel_mm, 2)} of wood: weak there"
        return "sound in wood"


def choose_blade(ring: OrderedRing, bench: Bench) -> BladeChoice | None:
    """The blade ordered, else the usual one; None where nothing is sawn, or the order gives a kerf and no blade."""
    making, wire = ring.making, ring.wire.diameter_mm
    if making.cut != "saw" or (making.blade is None and making.kerf_mm is not None):
        return None
    if making.blade is not None:
        owned = making.blade in bench.blades
        return BladeChoice(blade=making.blade, owned=owned, ordered=True, wire_mm=wire)
    return usual_blade(wire, bench)


def usual_blade(wire_mm: float, bench: Bench) -> BladeChoice:
    """The coarsest blade that has two teeth in the wire: it cuts fast and seldom snaps.

    No coarser than 2/0 in wire under 1.1 mm, nor than 1 in thicker (common practice, no source); of blades that are all
    too coarse, the finest.
    """
    choices = [
        BladeChoice(blade=blade, owned=bool(bench.blades), ordered=False, wire_mm=wire_mm)
        for blade in bench.blades or blades()
    ]
    coarsest = find_blade(COARSEST_IN_THIN if wire_mm < THIN_WIRE_MM - 1e-9 else COARSEST).teeth_per_inch
    fine = [c for c in choices if c.teeth_in_wire >= FEWEST_TEETH - 1e-9 and c.blade.teeth_per_inch >= coarsest]
    if not fine:
        return max(choices, key=lambda choice: (choice.blade.teeth_per_inch, choice.blade.name))
    return min(fine, key=lambda choice: (choice.blade.teeth_per_inch, -choice.blade.kerf_mm, choice.blade.name))


def cut_of(ring: OrderedRing, blade: BladeChoice | None, bench: Bench) -> Cut:
    """How the ring is cut: as ordered, with the blade that was chosen, and what was recorded of either."""
    cut = choose_cut(
        ring.making.cut,
        wire_mm=ring.wire.diameter_mm,
        blade=blade.blade if blade else None,
        kerf_mm=ring.making.kerf_mm,
        trim_mm=ring.making.trim_mm,
    )
    return cut_with(bench, cut, ring.wire)


def least_tails_mm(drill: DrillChoice) -> float:
    """The shortest tails that hold: through the cross-hole or bent into the chuck, and what the hand keeps."""
    return (TAIL_BENT_MM if drill.no_hole else TAIL_THROUGH_MM) + TAIL_HELD_MM


def refuse_short_tails(tails_mm: float, drill: DrillChoice | None) -> None:
    """Refuses (`OutOfRange`) tails that cannot be held: one rule for an order and for a ring by itself.

    Without a drill it is not known how the tail is held, and the least that holds in any way counts.
    """
    bent = drill is None or drill.no_hole
    least = TAIL_HELD_MM + TAIL_BENT_MM if drill is None else least_tails_mm(drill)
    if tails_mm < least - 1e-9:
        start = f"{TAIL_BENT_MM:g} mm are bent" if bent else f"{TAIL_THROUGH_MM:g} mm go through the cross-hole"
        raise OutOfRange(
            f"tails of {tails_mm:g} mm are too short to hold: {start}, and the hand keeps {TAIL_HELD_MM:g} mm",
            f"give {least:g} mm or more",
        )


def drill_for(
    wire_mm: float, mandrel_mm: float, bench: Bench, *, in_wood: bool = True, not_drilled: str = "is not of wood"
) -> DrillChoice:
    """The thinnest drill that is at least 1.05 d and d + 0.1: of those owned, else of the metric series."""
    least = least_hole_mm(wire_mm)
    owned = sorted((d for d in bench.drills if d.diameter_mm >= least - 1e-9), key=lambda d: (d.diameter_mm, d.name))
    return DrillChoice(
        drill=owned[0] if owned else next_drill("metric", least),
        owned=bool(owned),
        wire_mm=wire_mm,
        mandrel_mm=mandrel_mm,
        in_wood=in_wood,
        not_drilled=f"the mandrel {not_drilled}",
    )


def choose_drill(wire_mm: float, mandrel: MandrelChoice, bench: Bench) -> DrillChoice:
    """The drill for the tail in the mandrel that was chosen."""
    why = mandrel.why_not_drilled
    return drill_for(wire_mm, mandrel.diameter_mm, bench, in_wood=mandrel.may_be_wood, not_drilled=why)


def choose_mandrels(ring: OrderedRing, cut: Cut, bench: Bench) -> tuple[MandrelChoice, ...]:
    """The mandrel to use and the next best, at most three: those owned where one is within 2 %, else rods as sold too.

    Ranked by one rule (`_rank`). One that the order names comes first whatever it gives. Where rods as sold come
    before those owned, the best owned one is still listed, unless it makes another ring altogether.
    """
    bench = with_coil(bench, ring.wire, ring.material, ring.trial)
    exact = exact_batch(ring, cut, bench).acting_mandrel_mm
    forced = []
    if ring.mandrel:
        forced = [_owned(ring, cut, bench.mandrel(ring.mandrel), bench)]
    elif ring.mandrel_mm is not None:
        name = sized(ring.mandrel_mm)
        batch = batch_on(ring, cut, ring.mandrel_mm, recorded=_law_on(ring, cut, bench, name, ring.mandrel_mm))
        forced = [MandrelChoice(name=name, kind="", owned=False, batch=batch, wanted=ring.wanted)]

    def same(choice: MandrelChoice) -> str | float:  # 5 mm as the order says is 5.0 mm as it is sold
        return choice.name if choice.owned else round(choice.diameter_mm, 6)

    taken = [same(choice) for choice in forced]
    near = sorted(bench.mandrels, key=lambda m: (abs(m.measured_mm - exact), m.name))[:LOOKED_AT]
    ranked = list(_made([partial(_owned, ring, cut, mandrel, bench) for mandrel in near]))
    if all(choice.is_off_loudly for choice in ranked):
        ranked += _made([partial(_sold, ring, cut, rod, bench) for rod in nearest_rods(exact, LOOKED_AT)])
    ranked = sorted((choice for choice in ranked if same(choice) not in taken), key=_rank)
    found = [*forced, *ranked[: CHOICES - len(forced)]]
    owned = [choice for choice in ranked if choice.owned and abs(choice.ratio_error) <= FAR_OFF]
    if owned and not any(choice.owned for choice in found[len(forced) :]):
        found[-1] = owned[0]
    if not found:
        raise OutOfRange(
            f"no mandrel gives a ring of {ring.wanted.inside_mm:.3f} mm inside", f"the exact one is {exact:.3f} mm"
        )
    return tuple(found)


def batch_on(
    ring: OrderedRing,
    cut: Cut,
    mandrel_mm: float | None = None,
    measured_mm: float | None = None,
    mandrel_name: str = "",
    longest: float | None = None,
    recorded: LawBand | None = None,
) -> Batch:
    """The rings of one kind as a batch on a mandrel; without one, on the mandrel that is worked back."""
    making = ring.making
    return Batch(
        wire=ring.wire,
        material=ring.material,
        cut=cut,
        mandrel_mm=mandrel_mm,
        measured_mm=measured_mm,
        mandrel_name=mandrel_name,
        inside_mm=None if mandrel_mm or measured_mm else ring.wanted.inside_mm,
        recorded=recorded,
        rejects=making.rejects,
        tails_mm=making.tails_mm,
        longest_coil_mm=making.longest_coil_mm if longest is None else longest,
        longest_section_mm=making.longest_section_mm,
    )


def exact_batch(ring: OrderedRing, cut: Cut, bench: Bench) -> Batch:
    """The rings of one kind on the mandrel that is worked back, by what was recorded where anything was."""
    return batch_on(ring, cut, recorded=law_for(bench, ring.wire, ring.material, cut, ring.wanted.inside_mm))


def _law_on(ring: OrderedRing, cut: Cut, bench: Bench, name: str, mandrel_mm: float) -> LawBand | None:
    return law_on(bench, ring.wire, ring.material, cut, name, mandrel_mm)


def _made(makers: Iterable[Callable[[], MandrelChoice]]) -> Iterator[MandrelChoice]:
    for make in makers:
        try:
            choice = make()
            _ = choice.batch.winding.most_rings_per_coil
            yield choice
        except Refusal:  # wire springs straight off it, or no ring is left, or its coil is all rejects
            continue


def _owned(ring: OrderedRing, cut: Cut, mandrel: Mandrel, bench: Bench) -> MandrelChoice:
    """An owned mandrel, by its measurement; its name stands beside it where that is a size."""
    longest = None
    if mandrel.length_mm is not None:
        stated = ring.making.longest_coil_mm
        longest = longest_winding(stated_mm=stated, length_mm=mandrel.length_mm).value
    measured = mandrel.measured_mm
    law = _law_on(ring, cut, bench, mandrel.name, measured)
    try:
        named = parse_length(mandrel.name)
    except Refusal:
        batch = batch_on(ring, cut, None, measured, mandrel.name, longest, law)
    else:
        batch = batch_on(ring, cut, named, measured, longest=longest, recorded=law)
    return MandrelChoice(name=mandrel.name, kind=mandrel.kind, owned=True, batch=batch, wanted=ring.wanted)


def _sold(ring: OrderedRing, cut: Cut, rod: Rod, bench: Bench) -> MandrelChoice:
    is_shank = rod.kind is RodKind.SHANK
    longest = longest_winding(stated_mm=ring.making.longest_coil_mm, is_shank=is_shank).value
    law = _law_on(ring, cut, bench, rod.name, rod.diameter_mm)
    batch = batch_on(ring, cut, rod.diameter_mm, longest=longest, recorded=law)
    return MandrelChoice(name=rod.name, kind="", owned=False, rod=rod, batch=batch, wanted=ring.wanted)


def _rank(choice: MandrelChoice) -> tuple[bool, float, bool, float, bool, bool, float, str]:
    """Those whose ring passes first, and of them the one that wastes least wire, counted for a hundred rings.

    Wasted are the tails and rejects of every winding (an odd shank is short, and takes many), and a trial coil where
    the band of its rings leaves the window. Of those that waste the same, rods before shanks; then by what is off
    beyond the band. Two whose error lies within the band are told apart only by what suits the cut and by what any
    shop has, and last by nearness.
    """
    batch, wanted = choice.batch, choice.wanted
    closed, low, high = closed_mm(batch)
    fit = GoodRing(wanted=wanted).fit(closed, low, high)
    # turns of the wanted ring, not of its own: two rods as long as each other waste the same
    turn, tails = wanted.circumference_mm + batch.cut.loss_mm, batch.tails_mm
    turns = int((batch.longest_coil_mm or longest_winding().value) / batch.pitch_mm)
    windings = -(-RANKED_BY // max(1, turns - batch.rejects))
    trial = tails + TRIAL_TURNS * turn if fit is Fit.STRADDLES else 0.0
    waste = round(windings * (tails + batch.rejects * turn) + trial, 1)
    error = abs(closed / wanted.inside_mm - 1)
    band = 0.0 if low is None or high is None else (high - low) / 2 / closed
    is_common = choice.rod is None or choice.rod.kind in (RodKind.METRIC, RodKind.INCH)
    return (
        fit is Fit.OUTSIDE,
        0.0 if fit is Fit.OUTSIDE else waste,
        choice.is_shank,
        round(max(0.0, error - band), _SAME),
        not choice.suits_the_cut,
        not is_common,
        error,
        choice.name,
    )
