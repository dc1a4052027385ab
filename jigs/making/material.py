"""The metal of a batch as bending and weighing need it: density in g/cm3, bending laws as a band."""

from __future__ import annotations

from dataclasses import dataclass

from jigs.making.bending import BendingLaw, NoSpringback, PerfectlyPlastic, PowerLaw
from jigs.stock.figure import Basis
from jigs.stock.metal import Metal, Temper
from layouts.errors import QuantityRefused, shown
from layouts.units import positive

USUAL_TEMPER = "soft"  # P: ring wire is usually bought annealed
USUAL_STRAIN = 0.1  # by which two hardening pairs are ranked: about the outer fibre's at C = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class LawBand:
    """Bending laws from the weakest to the strongest it may be; low and high are None without a band."""

    middle: BendingLaw
    low: BendingLaw | None = None
    high: BendingLaw | None = None
    basis: Basis
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A metal in a temper, from the table, from the user's figures (g/cm3, GPa, MPa) or both: theirs count.

    Nothing known at all is allowed: then there is no springback and no mass, and `laws` says so.
    """

    metal: Metal | None = None
    temper: Temper | None = None
    temper_assumed: bool = False
    given_density_g_cm3: float | None = None
    given_modulus_gpa: float | None = None
    given_strength_mpa: float | None = None

    def __post_init__(self) -> None:
        for value, name in (
            (self.given_density_g_cm3, "density"),
            (self.given_modulus_gpa, "modulus"),
            (self.given_strength_mpa, "strength"),
        ):
            if value is not None:
                positive(value, name)
        if self.metal is None:
            self._refuse_half_a_law()

    def _refuse_half_a_law(self) -> None:
        if self.temper is not None:
            raise QuantityRefused("a temper needs its metal", "name the metal too")
        if (self.given_modulus_gpa is None) != (self.given_strength_mpa is None):
            raise QuantityRefused(
                "springback needs both a modulus and a strength",
                "give the other too, or name a metal from the table",
            )

    @property
    def name(self) -> str:
        """The metal and its temper in words; empty when none is named."""
        if self.metal is None:
            return "metal as given" if self.given_strength_mpa or self.given_density_g_cm3 else ""
        return f"{self.metal.name}, {self.temper.name}" if self.temper else self.metal.name

    @property
    def density_g_cm3(self) -> float | None:
        """The density to weigh with, None when unknown."""
        if self.given_density_g_cm3 is not None:
            return self.given_density_g_cm3
        return self.metal.density_g_cm3 if self.metal else None

    @property
    def density_basis(self) -> str:
        """The density in words, and where it comes from."""
        if self.given_density_g_cm3 is not None:
            return f"{self.given_density_g_cm3:.4g} g/cm3 as given"
        return f"{self.metal.density_g_cm3:g} g/cm3 ({self.metal.source})" if self.metal else "no density"

    @property
    def modulus_gpa(self) -> float | None:
        """The modulus to bend with, None when unknown."""
        if self.given_modulus_gpa is not None:
            return self.given_modulus_gpa
        return self.metal.modulus_gpa if self.metal else None

    @property
    def laws(self) -> LawBand:
        """How it bends: by a given strength, else a published hardening pair, else a band of strengths."""
        modulus = self.modulus_gpa
        if modulus is None:
            return LawBand(
                middle=NoSpringback(), basis=Basis.NOT_COUNTED, words="no metal named: springback not counted"
            )
        if self.given_strength_mpa is not None:
            law = PerfectlyPlastic.of(flow_mpa=self.given_strength_mpa, modulus_gpa=modulus)
            words = f"strength {self.given_strength_mpa:.0f} MPa as given, {self._modulus()}"
            return LawBand(middle=law, basis=Basis.CERTIFICATE, words=words)
        if self.temper is None:
            return LawBand(
                middle=NoSpringback(), basis=Basis.NOT_COUNTED, words="no temper named: springback not counted"
            )
        if self.temper.hardening_pairs:
            return self._hardening(self.temper, modulus)
        return self._strengths(self.temper, modulus)

    def _hardening(self, temper: Temper, modulus: float) -> LawBand:
        """By the first published pair; a second makes a band of the two."""
        pairs = temper.hardening_pairs
        words = " and ".join(f"K {pair.k_mpa:g} MPa, n {pair.n:g} ({pair.source})" for pair in pairs)
        laws = {pair: PowerLaw(k_mpa=pair.k_mpa, n=pair.n, modulus_gpa=modulus) for pair in pairs}
        ranked = sorted(pairs, key=lambda pair: pair.k_mpa * USUAL_STRAIN**pair.n)
        return LawBand(
            middle=laws[pairs[0]],
            low=laws[ranked[0]] if len(pairs) > 1 else None,
            high=laws[ranked[-1]] if len(pairs) > 1 else None,
            basis=Basis.TABLE,
            words=f"{self.name}{self._assumed()}: hardening {words}, {self._modulus()}",
        )

    def _strengths(self, temper: Temper, modulus: float) -> LawBand:
        flow = temper.flow_stress()
        low, middle, high = (
            PerfectlyPlastic.of(flow_mpa=stress, modulus_gpa=modulus)
            for stress in (flow.low_mpa, flow.middle_mpa, flow.high_mpa)
        )
        words = f"{self.name}{self._assumed()}: {flow.words}, {self._modulus()}"
        if flow.low_mpa == flow.high_mpa:
            return LawBand(middle=middle, basis=Basis.TABLE, words=words)
        return LawBand(low=low, middle=middle, high=high, basis=Basis.TABLE, words=words)

    def _modulus(self) -> str:
        how = " as given" if self.given_modulus_gpa is not None else ""
        return f"E {self.modulus_gpa:g} GPa{how}"

    def _assumed(self) -> str:
        return " (temper assumed, common practice)" if self.temper_assumed else ""


def choose_material(
    metal: Metal | None,
    temper: str | None = None,
    *,
    density_g_cm3: float | None = None,
    modulus_gpa: float | None = None,
    strength_mpa: float | None = None,
) -> Material:
    """The material that was meant. A metal without a temper is taken soft, and says so."""
    if metal is None and temper is not None:
        raise QuantityRefused(f"the temper {shown(temper)} needs its metal", "name the metal too")
    return Material(
        metal=metal,
        temper=_temper_of(metal, temper, strength_mpa) if metal else None,
        temper_assumed=temper is None,
        given_density_g_cm3=density_g_cm3,
        given_modulus_gpa=modulus_gpa,
        given_strength_mpa=strength_mpa,
    )


def _temper_of(metal: Metal, name: str | None, strength_mpa: float | None) -> Temper | None:
    """The temper by its name; without one the soft, or else the first the table has; none beside a strength."""
    if name is not None:
        return metal.temper(name)
    if strength_mpa is not None:
        return None
    return metal.tempers.get(USUAL_TEMPER) or next(iter(metal.tempers.values()), None)
