"""Springback: from a mandrel to the coil that comes off it, and back. Lengths mm, stresses MPa, moduli GPa.

Wire of diameter d wound on a mandrel has the mean diameter D = mandrel + d and the spring index C = D / d.
Released, it opens to D_free. A bending law gives the part of the wound curvature that stays, D / D_free, from C
alone; so all lengths may be scaled together. What acts is the mean diameter, never the inside diameter.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from layouts.errors import OutOfRange
from layouts.units import finite, positive

MPA_PER_GPA = 1000.0


class BendingLaw(Protocol):
    """How a round wire answers to being bent and released."""

    def kept(self, index: float) -> float:
        """Part of the wound curvature that stays, D / D_free: 1 is no springback, 0 or less is straight."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class NoSpringback:
    """A wire that stays as it was wound: what is left when nothing is known of the metal."""

    def kept(self, index: float) -> float:
        """Always 1."""
        return 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PerfectlyPlastic:
    """Elastic up to a yield strain Y / E, then a constant flow stress Y.

    Source: C, computed from theory; a quadrature over the section agrees to 5e-14.
    """

    yield_strain: float

    def __post_init__(self) -> None:
        if finite(self.yield_strain, "yield strain") < 0:
            raise OutOfRange(f"a yield strain of {self.yield_strain:g} is negative", "give zero or more")

    @classmethod
    def of(cls, *, flow_mpa: float, modulus_gpa: float) -> PerfectlyPlastic:
        """The law of a flow stress [MPa] and a modulus [GPa].

        >>> round(PerfectlyPlastic.of(flow_mpa=124, modulus_gpa=75).kept(6.0), 4)
        0.9832
        """
        flow, modulus = positive(flow_mpa, "flow stress"), positive(modulus_gpa, "modulus")
        return cls(yield_strain=flow / (modulus * MPA_PER_GPA))

    def kept(self, index: float) -> float:
        """1 - (2/pi) [asin b + (b/3)(5 - 2 b^2) sqrt(1 - b^2)], b = C Y / E; 0 if b >= 1: nothing yields."""
        b = index * self.yield_strain
        if b >= 1:
            return 0.0
        return 1 - (2 / math.pi) * (math.asin(b) + b / 3 * (5 - 2 * b * b) * math.sqrt(1 - b * b))


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerLaw:
    """A wire that hardens as it is bent: stress = K strain^n all through the section.

    Source: C, computed from theory. It has no elastic core, so it suits tight bends, not wide ones.
    """

    k_mpa: float
    n: float
    modulus_gpa: float

    def __post_init__(self) -> None:
        positive(self.k_mpa, "strength coefficient")
        positive(self.modulus_gpa, "modulus")
        if not 0 <= finite(self.n, "hardening exponent") < 1:
            raise OutOfRange(f"no metal has a hardening exponent of {self.n:g}", "give 0 or more and less than 1")

    def kept(self, index: float) -> float:
        """1 - M / (E I kappa) with M = 2 K kappa^n r^(n+3) B((n+2)/2, 3/2), kappa = 2 / D and I = pi r^4 / 4.

        Since kappa r = 1 / C, that is 1 - (8 K / (pi E)) C^(1-n) B((n+2)/2, 3/2).
        """
        stiffness = 8 * self.k_mpa / (math.pi * self.modulus_gpa * MPA_PER_GPA)
        return 1 - stiffness * math.pow(index, 1 - self.n) * beta((self.n + 2) / 2, 1.5)


def beta(x: float, y: float) -> float:
    """The beta function B(x, y) = G(x) G(y) / G(x + y)."""
    return math.gamma(x) * math.gamma(y) / math.gamma(x + y)


def springback_ratio(*, wire_mm: float, mandrel_mm: float, law: BendingLaw) -> float:
    """Free mean diameter over wound mean diameter, 1 or more; refused where the wire springs straight."""
    kept = law.kept(_index(wire_mm, mandrel_mm))
    if kept <= 0:
        raise OutOfRange(
            f"wire of {wire_mm:.3f} mm springs back straight from a mandrel of {mandrel_mm:.3f} mm",
            "take a smaller mandrel, thicker wire or a softer temper",
        )
    return 1 / kept


def free_inside_mm(*, wire_mm: float, mandrel_mm: float, law: BendingLaw) -> float:
    """Inside diameter of the coil released [mm]: (mandrel + d) x ratio - d.

    >>> sterling = PerfectlyPlastic.of(flow_mpa=450, modulus_gpa=75)
    >>> round(free_inside_mm(wire_mm=1.0, mandrel_mm=5.0, law=sterling), 4)
    5.3903
    """
    ratio = springback_ratio(wire_mm=wire_mm, mandrel_mm=mandrel_mm, law=law)
    # mandrel + mean x (ratio - 1): the same sum, and exact when nothing springs back
    return mandrel_mm + (mandrel_mm + wire_mm) * (ratio - 1)


def mandrel_for_inside_mm(*, wire_mm: float, inside_mm: float, law: BendingLaw) -> float:
    """Mandrel [mm], right to 1e-9 mm or better, off which a coil of the wanted inside diameter comes.

    Refuses an inside diameter that the wire springs past even on the thinnest mandrel.

    >>> sterling = PerfectlyPlastic.of(flow_mpa=450, modulus_gpa=75)
    >>> round(mandrel_for_inside_mm(wire_mm=1.0, inside_mm=6.0, law=sterling), 4)
    5.5344
    """
    wire, inside = positive(wire_mm, "wire"), positive(inside_mm, "coil inside diameter")

    def too_tight(mandrel: float) -> float:
        """Curvature of the free coil less the wanted one; falls as the mandrel grows, past straight too."""
        return law.kept((mandrel + wire) / wire) / (mandrel + wire) - 1 / (inside + wire)

    if too_tight(0.0) <= 0:
        raise OutOfRange(
            f"wire of {wire:.3f} mm springs open past {inside:.3f} mm inside on any mandrel",
            "take a larger ring, thinner wire or a softer temper",
        )
    return bracketed_root(too_tight, 0.0, inside)


def law_of_trial(*, wire_mm: float, mandrel_mm: float, inside_mm: float) -> PerfectlyPlastic:
    """The bending law that one trial coil shows: wound on a mandrel, released, its inside measured [mm].

    Assumes the perfectly plastic law and finds its yield strain. The modulus is not needed: only Y / E acts.
    """
    index = _index(wire_mm, mandrel_mm)
    if positive(inside_mm, "trial coil inside diameter") < mandrel_mm:
        raise OutOfRange(
            f"a trial coil of {inside_mm:.3f} mm inside is smaller than its mandrel of {mandrel_mm:.3f} mm",
            "measure both again",
        )
    seen = (mandrel_mm + wire_mm) / (inside_mm + wire_mm)
    return PerfectlyPlastic(
        yield_strain=bracketed_root(lambda y: PerfectlyPlastic(yield_strain=y).kept(index) - seen, 0.0, 1 / index)
    )


def bracketed_root(falling: Callable[[float], float], low: float, high: float) -> float:
    """Where a falling function crosses zero, by halving until no number lies between low and high."""
    middle = (low + high) / 2
    while low < middle < high:
        if falling(middle) > 0:
            low = middle
        else:
            high = middle
        middle = (low + high) / 2
    return high


def _index(wire_mm: float, mandrel_mm: float) -> float:
    """Spring index C = (mandrel + d) / d."""
    wire, mandrel = positive(wire_mm, "wire"), positive(mandrel_mm, "mandrel")
    return (mandrel + wire) / wire
