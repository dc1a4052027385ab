"""The metal of a batch as bending, weighing and the maker need it: density, bending laws as a band, what hurts."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from jigs.making.bending import BendingLaw, NoSpringback, PerfectlyPlastic, PowerLaw
from jigs.stock.figure import Basis, Figure, best
from jigs.stock.metal import (
    Metal,
    Remark,
    Temper,
    density_figure,
    modulus_figure,
    temper_name,
    temper_of_strength,
)
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


@dataclass(frozen=True, kw_only=True)  # no slots: what it works out is kept
class Material:
    """A metal in a temper, from the table, from the user's figures (g/cm3, GPa, MPa) or both: theirs count.

    Nothing known at all is allowed: then there is no springback and no mass, and `laws` and `density` say so.
    """

    metal: Metal | None = None
    temper: Temper | None = None
    temper_assumed: bool = False
    given_density_g_cm3: float | None = None
    given_modulus_gpa: float | None = None
    given_strength_mpa: float | None = None

    def __post_init__(self) -> None:
        _ = self.density, self.modulus  # a figure that no metal has is refused here
        if self.given_strength_mpa is not None:
            positive(self.given_strength_mpa, "strength")
        if self.temper is not None and self.metal is None:
            raise QuantityRefused("a temper needs its metal", "name the metal too")
        if self.given_strength_mpa is not None and self.modulus is None:
            raise QuantityRefused("springback needs both a modulus and a strength", "give the modulus too")
        if self.metal is None and self.given_modulus_gpa is not None and self.given_strength_mpa is None:
            raise QuantityRefused(
                "springback needs both a modulus and a strength",
                "give the strength too, or name a metal from the table",
            )

    @property
    def name(self) -> str:
        """The metal and its temper in words; empty when none is named."""
        if self.metal is None:
            return "metal as given" if self.given_strength_mpa or self.given_density_g_cm3 else ""
        return f"{self.metal.name}, {self.temper.name}" if self.temper else self.metal.name

    @property
    def density(self) -> Figure | None:
        """The density to weigh with [g/cm3]: as given, else the table's; None when unknown."""
        given = self.given_density_g_cm3
        own = None if given is None else density_figure(given, Basis.CERTIFICATE, "as given")
        return best((own, self.metal.density if self.metal else None))

    @property
    def density_g_cm3(self) -> float | None:
        """The density alone."""
        return self.density.value if self.density else None

    @property
    def weighed_g_cm3(self) -> float:
        """The density that wire is weighed by. Refused (`OutOfRange`) where none is known; an order has one."""
        return positive(self.density_g_cm3 or 0.0, "density")

    @property
    def density_basis(self) -> str:
        """The density in words, and where it comes from."""
        if self.density is None:
            return f"no density of {self.metal.name} is known here: give it" if self.metal else "no density"
        return f"{self.density.value:.4g} g/cm3 ({self.density.words})"

    @cached_property
    def modulus(self) -> Figure | None:
        """The modulus to bend with [GPa]: as given, else the table's; None when unknown."""
        given = self.given_modulus_gpa
        own = None if given is None else modulus_figure(given, Basis.CERTIFICATE, "as given")
        return best((own, self.metal.modulus if self.metal else None))

    @property
    def modulus_gpa(self) -> float | None:
        """The modulus alone."""
        return self.modulus.value if self.modulus else None

    def cautions(self, *, sawn: bool, snipped: bool) -> tuple[str, ...]:
        """What hurts in making rings of it, a line each with the metal's name; nothing where no metal is meant."""
        metal = self._told_of
        if metal is None:
            return ()
        temper = self.temper.name if self.temper and not self.temper_assumed else None
        remarks = metal.cautions(temper=temper, sawn=sawn, snipped=snipped)
        return tuple(f"{metal.name}: {remark.words}" for remark in remarks)

    @property
    def bad_cut(self) -> Remark | None:
        """What to do with a ring that was cut badly; None where no metal is meant."""
        return self._told_of.bad_cut if self._told_of else None

    @property
    def polish(self) -> Remark | None:
        """How finished rings are hardened and polished; None where no metal is meant."""
        return self._told_of.polish if self._told_of else None

    @property
    def _told_of(self) -> Metal | None:
        """The metal whose remarks are said: one of figures alone is a metal that is not in the table."""
        return Metal.custom() if self.metal is None and self.name else self.metal

    @cached_property
    def laws(self) -> LawBand:
        """How it bends: by a given strength, else a published hardening pair, else a band of strengths."""
        modulus = self.modulus_gpa
        if modulus is None:
            return self._not_counted("modulus")
        if self.given_strength_mpa is not None:
            law = PerfectlyPlastic.of(flow_mpa=self.given_strength_mpa, modulus_gpa=modulus)
            words = f"strength {self.given_strength_mpa:.0f} MPa as given, {self._modulus()}"
            return LawBand(middle=law, basis=Basis.CERTIFICATE, words=words)
        if self.temper is None:
            return self._not_counted("strength")
        if self.temper.hardening_pairs:
            return self._hardening(self.temper, modulus)
        return self._strengths(self.temper, modulus)

    def _not_counted(self, lacking: str) -> LawBand:
        """No springback, for want of a figure."""
        why = f"no {lacking} of {self.metal.name} is known here" if self.metal else "no metal named"
        return LawBand(middle=NoSpringback(), basis=Basis.NOT_COUNTED, words=f"{why}: springback not counted")

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
        """The modulus, with what it is based on where that is not what the strengths are."""
        if self.modulus is None:
            return "E not known"
        if self.modulus.basis is not Basis.TABLE:
            return f"E {self.modulus.value:g} GPa as given"
        words = "" if self.metal and self.modulus.words == self.metal.source else f" ({self.modulus.words})"
        return f"E {self.modulus.value:g} GPa{words}"

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
    meant: Temper | None = None
    if metal is not None and temper is not None:
        given = strength_mpa
        meant = metal.temper(temper) if given is None else temper_of_strength(temper_name(temper), given)
    elif metal is not None and strength_mpa is None:  # soft, or else the first the table has
        meant = metal.tempers.get(USUAL_TEMPER) or next(iter(metal.tempers.values()), None)
    return Material(
        metal=metal,
        temper=meant,
        temper_assumed=temper is None,
        given_density_g_cm3=density_g_cm3,
        given_modulus_gpa=modulus_gpa,
        given_strength_mpa=strength_mpa,
    )
