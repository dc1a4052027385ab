"""A batch of rings, from wire and mandrel to closed rings, or from the wanted ring back to the mandrel.

Lengths in mm, masses in g. A batch keeps what was given and derives the rest; its ledger shows how.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from jigs.making.bending import (
    BendingLaw,
    free_inside_mm,
    law_of_trial,
    mandrel_for_inside_mm,
    springback_ratio,
)
from jigs.making.coil import Coil, coil_for_ring, refuse_tight_pitch, ring_of_coil
from jigs.making.cutting import Cut, Cutters, NoCut, Saw
from jigs.making.material import LawBand, Material
from jigs.making.ring import Ring
from jigs.making.winding import USUAL_REJECTS, USUAL_SECTION_MM, USUAL_TAILS_MM, CoilPlan, Winding, longest_winding
from jigs.stock.figure import Basis, Figure, best
from jigs.stock.rod import nearest_rods
from jigs.stock.wire import Wire
from layouts.errors import OutOfRange, QuantityRefused
from layouts.lengths import sized
from layouts.units import finite, positive

LOUD_NAME_ERROR = 0.02  # P: a rod further than this from its name is said loudly
SPRINGY_RATIO = 1.05  # P: from here a wound coil jumps when it is released
RODS_SHOWN = 4
TIGHTEST_RATIO = 1.5  # P: under this AR hardly a second wire goes through a ring, and the bend may crack
WIDEST_RATIO = 30  # P: over this AR a ring is too thin for its size to hold its shape


@dataclass(frozen=True, slots=True, kw_only=True)
class RodChoice:
    """A real rod or mandrel, the ring it would give, and how far that ring's inside is from the wanted one [mm].

    kind is what it is: 'metric', 'drill shank', 'steel'. owned: one of the bench, by its measured diameter.
    """

    name: str
    kind: str
    diameter_mm: float
    ring: Ring
    off_mm: float
    owned: bool = False


@dataclass(frozen=True, kw_only=True)  # no slots: what it works out is kept, a plan asks for it thousands of times
class Batch:
    """Rings of one size from one wire.

    Exactly one of these says the size:
        mandrel_mm: the rod by its name; with measured_mm, the measured diameter, which then counts.
        measured_mm alone: of a mandrel whose name is not a size; mandrel_name is what it is called.
        inside_mm: the wanted inside diameter of the closed ring.
        outside_mm: the wanted outside diameter of the closed ring.
        ratio: the wanted aspect ratio of the closed ring, inside / wire.
    At most one of these says how many: rings, or wire_length_mm.

    trial_inside_mm is the measured inside of one free coil of this wire; it replaces the metal's figures.
    trial_mandrel_mm is what it was wound on, and may be left out when that is this mandrel. Both are taken as they
    stand: whoever knows how they were read gives `recorded` in their place (`planning.recorded`).
    recorded is how this wire bent in earlier batches; it goes before the metal's figures, and a trial coil before it.
    longest_coil_mm is what is wound, left out what a usual rod bears; longest_section_mm is what is sawn in one piece,
    left out what the groove of a usual bench pin holds, and for cutters no limit (common practice).
    """

    wire: Wire
    material: Material = field(default_factory=Material)
    mandrel_mm: float | None = None
    measured_mm: float | None = None
    mandrel_name: str = ""
    inside_mm: float | None = None
    outside_mm: float | None = None
    ratio: float | None = None
    trial_inside_mm: float | None = None
    trial_mandrel_mm: float | None = None
    recorded: LawBand | None = None
    cut: Cut = field(default_factory=NoCut)
    gap_mm: float = 0.0
    rings: int | None = None
    wire_length_mm: float | None = None
    rejects: int = USUAL_REJECTS
    tails_mm: float = USUAL_TAILS_MM
    longest_coil_mm: float | None = None
    longest_section_mm: float | None = None

    def __post_init__(self) -> None:
        for name in _POSITIVE:
            value = getattr(self, name)
            if value is not None:
                positive(value, _POSITIVE[name])
        if finite(self.gap_mm, "gap") < 0:
            raise OutOfRange(f"a gap of {self.gap_mm:g} mm is negative", "give zero (close-wound) or more")
        refuse_tight_pitch(self.wire.diameter_mm, self.pitch_mm)
        self._refuse_contradictions()
        metal = self.material.metal
        if metal is not None and metal.never_sawn is not None and isinstance(self.cut, Saw):
            raise OutOfRange(f"{metal.name}: {metal.never_sawn.words}", "choose cutters")
        _ = self.ring, self.wire_total_mm  # a batch that cannot be made is refused here, not later

    def _refuse_contradictions(self) -> None:
        if self.measured_mm is not None and self.mandrel_mm is None and not self.mandrel_name:
            raise QuantityRefused("a measured mandrel needs its name beside it", "give the mandrel too")
        mandrel = self.measured_mm if self.mandrel_mm is None else self.mandrel_mm
        sizes = [size for size in (mandrel, self.inside_mm, self.outside_mm, self.ratio) if size is not None]
        if len(sizes) != 1:
            raise QuantityRefused(
                "two sizes are given for one ring" if sizes else "no size is given for the ring",
                "give one of mandrel, inside diameter, outside diameter or ratio",
            )
        if self.rings is not None and self.wire_length_mm is not None:
            raise QuantityRefused("a number of rings and a wire length are two answers", "give one of the two")
        if self.trial_mandrel_mm is not None and self.trial_inside_mm is None:
            raise QuantityRefused("a trial mandrel needs its coil", "give the inside diameter of the trial coil too")
        if self.trial_inside_mm is not None and mandrel is None and self.trial_mandrel_mm is None:
            raise QuantityRefused("a trial coil needs the mandrel it was wound on", "give that mandrel too")

    # -- from mandrel to ring

    @property
    def pitch_mm(self) -> float:
        """Wire diameter + gap."""
        return self.wire.diameter_mm + self.gap_mm

    @cached_property
    def laws(self) -> LawBand:
        """How the wire bends, by the most trusted of the trial coil, what was recorded, and the material."""
        return best((self._trial, self.recorded, self.material.laws)) or self.material.laws

    @property
    def _trial(self) -> LawBand | None:
        """What the trial coil shows; None without one."""
        if self.trial_inside_mm is None:
            return None
        mandrel = self.trial_mandrel_mm or self.measured_mm or self.mandrel_mm or 0.0
        law = law_of_trial(wire_mm=self.wire.diameter_mm, mandrel_mm=mandrel, inside_mm=self.trial_inside_mm)
        words = f"trial coil measured: {sized(self.trial_inside_mm, 3)} inside off a {sized(mandrel, 3)} mandrel"
        return LawBand(middle=law, basis=Basis.MEASURED, words=words)

    @property
    def wanted(self) -> Ring | None:
        """The ring that was asked for; None when the mandrel was given."""
        if self.inside_mm is not None:
            return Ring(wire_mm=self.wire.diameter_mm, inside_mm=self.inside_mm)
        if self.outside_mm is not None:
            return Ring.of_outside(wire_mm=self.wire.diameter_mm, outside_mm=self.outside_mm)
        if self.ratio is not None:
            return Ring.of_ratio(wire_mm=self.wire.diameter_mm, ratio=self.ratio)
        return None

    @cached_property
    def acting_mandrel_mm(self) -> float:
        """The mandrel that counts: measured, else named, else the one that gives the wanted ring."""
        wanted = self.wanted
        if wanted is None:
            return self._given_mandrel.value
        coil = coil_for_ring(wanted, loss_mm=self.cut.loss_mm, pitch_mm=self.pitch_mm)
        return mandrel_for_inside_mm(wire_mm=self.wire.diameter_mm, inside_mm=coil.inside_mm, law=self.laws.middle)

    @property
    def springback_ratio(self) -> float:
        """Free mean diameter over wound mean diameter, 1 or more; 1 when nothing is known of the metal."""
        return springback_ratio(wire_mm=self.wire.diameter_mm, mandrel_mm=self.acting_mandrel_mm, law=self.laws.middle)

    @cached_property
    def coil(self) -> Coil:
        """The coil released, in the middle of the band."""
        return self._coil(self.laws.middle)

    @cached_property
    def coil_low(self) -> Coil | None:
        """The coil at the weak end of the band; None without a band."""
        return self._coil(self.laws.low) if self.laws.low else None

    @cached_property
    def coil_high(self) -> Coil | None:
        """The coil at the strong end of the band; None without a band, or where it springs straight."""
        return self._coil(self.laws.high) if self.laws.high and not self.may_spring_straight else None

    @property
    def may_spring_straight(self) -> bool:
        """Whether the strong end of the band springs straight off this mandrel."""
        index = self.acting_mandrel_mm / self.wire.diameter_mm + 1
        return self.laws.high is not None and self.laws.high.kept(index) <= 0

    def _coil(self, law: BendingLaw) -> Coil:
        wire = self.wire.diameter_mm
        inside = free_inside_mm(wire_mm=wire, mandrel_mm=self.acting_mandrel_mm, law=law)
        return Coil(wire_mm=wire, inside_mm=inside, pitch_mm=self.pitch_mm)

    @cached_property
    def ring(self) -> Ring:
        """The closed ring, in the middle of the band."""
        return self._ring(self.coil)

    def _ring(self, coil: Coil) -> Ring:
        return ring_of_coil(coil, self.cut.loss_mm)

    @property
    def ring_mass_g(self) -> float | None:
        """Mass of one closed ring; None without a density."""
        density = self.material.density_g_cm3
        return None if density is None else self.ring.mass_g(density)

    # -- how many

    @property
    def winding(self) -> Winding:
        """How the coils are wound and what they waste."""
        groove = USUAL_SECTION_MM if isinstance(self.cut, Saw) else None
        return Winding(
            coil=self.coil,
            springback_ratio=self.springback_ratio,
            rejects=self.rejects,
            tails_mm=self.tails_mm,
            longest_coil_mm=self.longest_coil_mm or longest_winding().value,
            longest_section_mm=self.longest_section_mm or groove,
        )

    @property
    def ring_count(self) -> int | None:
        """Good rings: the number asked for, or what the wire gives; None when neither was said."""
        if self.wire_length_mm is not None:
            return self.winding.rings_from_mm(self.wire_length_mm)
        return self.rings

    @property
    def plan(self) -> tuple[CoilPlan, ...]:
        """The coils to wind; empty when no number was said."""
        count = self.ring_count
        return () if count is None else self.winding.plan(count)

    @property
    def wire_total_mm(self) -> float | None:
        """Wire that these rings use, with rejects and tails; None when no number was said."""
        count = self.ring_count
        return None if count is None else self.winding.wire_mm(count)

    @property
    def wire_left_mm(self) -> float | None:
        """What is left of a given wire length, to a nanometre; None when none was given."""
        total = self.wire_total_mm
        return None if self.wire_length_mm is None or total is None else max(0.0, self.wire_length_mm - total)

    @property
    def wire_per_ring_mm(self) -> float:
        """Wire per good ring with all waste, wire total / rings; without a number, one turn."""
        count, total = self.ring_count, self.wire_total_mm
        return self.coil.turn_length_mm if not count or total is None else total / count

    # -- what to say

    @property
    def name_error(self) -> float | None:
        """How far the mandrel's name is over its measurement, as a part of it; None if not measured."""
        if self.mandrel_mm is None or self.measured_mm is None:
            return None
        return (self.mandrel_mm - self.measured_mm) / self.measured_mm

    @property
    def rods(self) -> tuple[RodChoice, ...]:
        """The rods as sold nearest the exact mandrel, nearest first; empty when a mandrel was given."""
        if self.wanted is None:
            return ()
        sold = nearest_rods(self.acting_mandrel_mm, count=RODS_SHOWN)
        choices = (self.off_rod(rod.name, rod.kind.value, rod.diameter_mm) for rod in sold)
        return tuple(choice for choice in choices if choice is not None)

    def off_rod(
        self, name: str, kind: str, diameter_mm: float, *, owned: bool = False, recorded: LawBand | None = None
    ) -> RodChoice | None:
        """What a rod would give in place of the exact mandrel; None where no ring is wanted, or none comes off it.

        recorded is how the wire came off that very rod.
        """
        wanted = self.wanted
        law = recorded or self.recorded
        try:
            on_rod = replace(self, mandrel_mm=diameter_mm, inside_mm=None, outside_mm=None, ratio=None, recorded=law)
        except OutOfRange:
            return None
        if wanted is None:
            return None
        off = on_rod.ring.inside_mm - wanted.inside_mm
        return RodChoice(name=name, kind=kind, diameter_mm=diameter_mm, ring=on_rod.ring, off_mm=off, owned=owned)

    @property
    def cautions(self) -> tuple[str, ...]:
        """What the maker should be told loudly, one line each."""
        said = []
        error = self.name_error
        if error is not None and abs(error) > LOUD_NAME_ERROR:
            said.append(f"the mandrel is not what its name says: {_name_off(self, error)}")
        if self.may_spring_straight:
            said.append("at the strong end of the band this wire springs straight: wind a trial coil first")
        if self.springback_ratio >= SPRINGY_RATIO:
            said.append("a wound coil of this wire is a spring: hold its end when releasing or snipping it")
        if self.material.metal is not None and self.laws.basis is Basis.NOT_COUNTED:
            said.append(f"{self.laws.words}; wind a trial coil")
        said += self.material.cautions(sawn=isinstance(self.cut, Saw), snipped=isinstance(self.cut, Cutters))
        ratio = self.ring.aspect_ratio
        if ratio < TIGHTEST_RATIO:
            said.append(f"an AR of {ratio:.2f} is very tight: hardly another ring goes through, and the bend may crack")
        if ratio > WIDEST_RATIO:
            said.append(f"an AR of {ratio:.0f} is very wide: so thin a ring holds no shape; check wire and mandrel")
        return tuple(said)

    @property
    def ledger(self) -> tuple[Figure, ...]:
        """Mandrel, springback, coil ID, cut, closed ID, OD, AR: each figure and what it is based on."""
        mandrel = self.acting_mandrel_mm
        coils = (self.coil, self.coil_low, self.coil_high)
        rings = tuple(None if coil is None else self._ring(coil) for coil in coils)
        opens = [None if coil is None else coil.inside_mm - mandrel for coil in coils]
        insides = [None if coil is None else coil.inside_mm for coil in coils]
        closed = [None if ring is None else ring.inside_mm for ring in rings]
        outsides = [None if ring is None else ring.outside_mm for ring in rings]
        ratios = [None if ring is None else ring.aspect_ratio for ring in rings]
        opened = self.springback_ratio - 1
        springs = f"{self.laws.words}; mean diameter opens {100 * opened:.1f} %" if opened else self.laws.words
        return (
            self.mandrel,
            _banded("springback", opens, springs, basis=self.laws.basis, is_change=True),
            _banded("coil ID", insides, "(mandrel + wire) x springback - wire"),
            Figure(
                name="cut",
                value=self.ring.inside_mm - self.coil.inside_mm,
                basis=self.cut.loss.basis,
                words=self.cut.loss.words,
                is_change=True,
            ),
            _banded("closed ID", closed, "(turn - cut) / pi - wire"),
            _banded("OD", outsides, "closed ID + 2 wires"),
            _banded("AR", ratios, "closed ID / wire", unit=""),
        )

    @property
    def mandrel(self) -> Figure:
        """The mandrel that counts, in mm, and whether it was measured, named or worked back."""
        wanted = None
        if self.inside_mm is not None:
            wanted = f"worked back from the wanted inside of {sized(self.inside_mm, 3)}"
        elif self.outside_mm is not None:
            wanted = f"worked back from the wanted outside of {sized(self.outside_mm, 3)}"
        elif self.ratio is not None:
            wanted = f"worked back from the wanted AR of {self.ratio:g}"
        if wanted:
            return Figure(name="mandrel", value=self.acting_mandrel_mm, basis=Basis.WORKED_OUT, words=wanted)
        return self._given_mandrel

    @property
    def _given_mandrel(self) -> Figure:
        """The mandrel that was given: by its measurement, else by its name."""
        named = measured = None
        if self.mandrel_mm is not None:
            words = "as named: measure the rod"
            named = Figure(name="mandrel", value=self.mandrel_mm, basis=Basis.NOMINAL, words=words)
        if self.measured_mm is not None:
            error = self.name_error
            words = f"{self.mandrel_name}, measured" if error is None else f"measured; {_name_off(self, error)}"
            measured = Figure(name="mandrel", value=self.measured_mm, basis=Basis.MEASURED, words=words)
        none = Figure(name="mandrel", value=0.0, basis=Basis.NOT_COUNTED, words="none")  # refused before it is asked
        return best((measured, named)) or none

    def figures(self) -> dict[str, float | int | str | None]:
        """The same for scripts: plain numbers, units in the keys, None where a figure does not apply."""
        coil, ring, low, high = self.coil, self.ring, self.coil_low, self.coil_high
        return {
            "wire_mm": self.wire.diameter_mm,
            "mandrel_mm": self.acting_mandrel_mm,
            "springback_ratio": None if self.laws.basis is Basis.NOT_COUNTED else self.springback_ratio,
            "coil_inside_mm": coil.inside_mm,
            "coil_inside_low_mm": None if low is None else low.inside_mm,
            "coil_inside_high_mm": None if high is None else high.inside_mm,
            "pitch_mm": coil.pitch_mm,
            "helix_angle_deg": coil.helix_angle_deg,
            "turn_length_mm": coil.turn_length_mm,
            "cut": self.cut.name,
            "cut_loss_mm": self.cut.loss_mm,
            "ring_inside_mm": ring.inside_mm,
            "ring_outside_mm": ring.outside_mm,
            "aspect_ratio": ring.aspect_ratio,
            "wire_per_ring_mm": self.wire_per_ring_mm,
            "ring_mass_g": self.ring_mass_g,
            "rings": self.ring_count,
            "wire_total_mm": self.wire_total_mm,
        }


_POSITIVE = {
    "mandrel_mm": "mandrel",
    "measured_mm": "measured mandrel",
    "inside_mm": "ring inside diameter",
    "outside_mm": "ring outside diameter",
    "ratio": "aspect ratio",
    "trial_inside_mm": "trial coil inside diameter",
    "trial_mandrel_mm": "trial mandrel",
    "rings": "number of rings",
    "wire_length_mm": "wire length",
    "longest_coil_mm": "longest coil",
    "longest_section_mm": "longest section",
}


def _banded(
    name: str,
    values: Sequence[float | None],
    words: str,
    *,
    unit: str = "mm",
    basis: Basis = Basis.WORKED_OUT,
    is_change: bool = False,
) -> Figure:
    """A figure from its middle, low and high values."""
    middle, low, high = values
    return Figure(
        name=name,
        value=middle or 0.0,
        unit=unit,
        low=low,
        high=high,
        basis=basis,
        words=words,
        is_change=is_change,
    )


def _name_off(batch: Batch, error: float) -> str:
    named, measured = batch.mandrel_mm or 0.0, batch.measured_mm or 0.0
    side = "over" if error >= 0 else "under"
    off = f"{sized(abs(named - measured), 3)} ({100 * abs(error):.1f} %) {side}"
    return f"named {sized(named, 3)}, that is {off} the measured {sized(measured, 3)}"
