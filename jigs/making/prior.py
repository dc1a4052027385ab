"""What is thought of a wire before any batch of it was measured: the table's band, as what is learnt starts from."""

from __future__ import annotations

import math

from jigs.making.bending import BendingLaw, NoSpringback, PerfectlyPlastic, PowerLaw, bracketed_root
from jigs.making.material import Material
from jigs.making.trial import INDEX

# Half widths of ln(Y / E) where the table gives no band; common practice, no source.
HALF_OF_PAIR = 0.20  # a published hardening pair is of another heat
HALF_OF_FIGURE = 0.12  # one strength, no band
HALF_OF_NOTHING = 1.2  # no figure at all
SPREAD = 0.72  # standard deviation over half width
UNKNOWN_YIELD = 0.003  # Y / E of a metal of which nothing is known
SOFT_HARDENING, HARD_HARDENING = (0.12, 0.15), (0.05, 0.06)  # n and its standard deviation, by temper
PAIR_HARDENING_SD = 0.08


def prior_of(material: Material) -> tuple[tuple[float, float], tuple[float, float]]:
    """ln(Y / E) at the spring index 5 with its standard deviation, and the same of the hardening n.

    The truth lies anywhere in the table's band, and now and then beyond: one in ten by up to a quarter of the half
    width makes the standard deviation sqrt(0.9 / 3 + 0.1 x 1.125^2) = 0.65 of the half width. A little more is taken,
    since wire as it is sold may spread more than a table says: k = 2 is then 1.44 times the half width.
    """
    laws = material.laws
    if isinstance(laws.middle, NoSpringback):
        return (math.log(UNKNOWN_YIELD), SPREAD * HALF_OF_NOTHING), SOFT_HARDENING
    middle = math.log(_yield_at(laws.middle))
    half = HALF_OF_PAIR if isinstance(laws.middle, PowerLaw) else HALF_OF_FIGURE
    if laws.low is not None and laws.high is not None:
        half = max(half, math.log(_yield_at(laws.high) / _yield_at(laws.low)) / 2)
    is_soft = material.temper is None or material.temper.name == "soft"
    hardening = SOFT_HARDENING if is_soft else HARD_HARDENING
    if isinstance(laws.middle, PowerLaw):
        hardening = laws.middle.n, PAIR_HARDENING_SD
    return (middle, SPREAD * half), hardening


def _yield_at(law: BendingLaw) -> float:
    """The Y / E with which the perfectly plastic law says the same at the index 5."""
    if isinstance(law, PerfectlyPlastic):
        return law.yield_strain
    seen = law.kept(INDEX)
    return bracketed_root(lambda flow: PerfectlyPlastic(yield_strain=flow).kept(INDEX) - seen, 0.0, 1 / INDEX)
