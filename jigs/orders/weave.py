"""Weaves: the working range of AR, the least AR that lets the wires through, and what a ring makes of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from jigs.making.ring import Ring
from layouts.errors import OutOfRange, UnknownName
from layouts.units import positive

NEAR_A_LIMIT = 0.01  # fine weaves fail on a change of 1 % (common practice, no source)
USUAL_SPREAD_MM = 0.05  # on wire and inside diameter: what a good bench holds (common practice, no source)

LEAST_RATIOS = {
    1: 1.0,
    2: 2.0,
    3: 2.1547006,
    4: 2.4142136,
    5: 2.7013017,
    6: 3.0,
    7: 3.0,
    8: 3.3047650,
    9: 3.6131260,
    10: 3.8130257,
    11: 3.9238045,
    12: 4.0296020,
}
"""The least AR through which n wires as thick as the ring's pass: R/r of n circles in a circle, rounded up.

Source: Kravitz 1967; Graham et al. 1998; proofs Graham 1968, Pirl 1969, Melissen 1994, Fodor 2000.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weave:
    """A weave and the AR it works with. `good` is the figure usually named; None where only a range is known.

    is_plain_chain: one ring after another, so that its length says how many rings it takes.
    """

    name: str
    low: float
    high: float
    source: str
    good: float | None = None
    wires_through: int | None = None
    is_plain_chain: bool = False

    def __post_init__(self) -> None:
        positive(self.low, "lowest AR")
        if not self.low <= self.aim <= positive(self.high, "highest AR"):
            raise OutOfRange(
                f"the AR of weave {self.name} runs {self.low:g}, {self.aim:g}, {self.high:g}",
                "write low, good and high rising",
            )
        if self.wires_through is not None and self.wires_through not in LEAST_RATIOS:
            raise OutOfRange(f"{self.wires_through} wires through a ring", f"give 1 to {max(LEAST_RATIOS)}")
        if self.high < self.least:
            raise OutOfRange(
                f"{self.wires_through} wires need an AR of {self.least:.4f}, and the range ends at {self.high:g}",
                "give a higher range or fewer wires",
            )

    @property
    def aim(self) -> float:
        """The AR to aim at: the figure usually named, else the middle of the range."""
        return (self.low + self.high) / 2 if self.good is None else self.good

    @property
    def least(self) -> float:
        """The AR below which the wires cannot pass at all; 0 where their number is not known."""
        return LEAST_RATIOS[self.wires_through] if self.wires_through else 0.0

    def judge(self, ring: Ring, spread_mm: float = USUAL_SPREAD_MM) -> Verdict:
        """What a ring is to the weave."""
        return Verdict(weave=self, wire_mm=ring.wire_mm, inside_mm=ring.inside_mm, spread_mm=spread_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """A ring against a weave. spread_mm is how far wire and inside diameter may each be off."""

    weave: Weave
    wire_mm: float
    inside_mm: float
    spread_mm: float = USUAL_SPREAD_MM

    @property
    def ratio(self) -> float:
        """AR: inside diameter / wire."""
        return self.inside_mm / self.wire_mm

    @property
    def word(self) -> str:
        """ "impossible", "tight", "good" or "loose"."""
        return self._word_of(self.ratio)

    def _word_of(self, ratio: float) -> str:
        if ratio < self.weave.least:
            return "impossible"
        if ratio < self.weave.low:
            return "tight"
        return "good" if ratio <= self.weave.high else "loose"

    @property
    def is_near_a_limit(self) -> bool:
        """Whether the AR is within 1 % of an end of the range, or of what lets the wires through."""
        limits = (self.weave.low, self.weave.high, self.weave.least)
        return any(abs(self.ratio - limit) <= NEAR_A_LIMIT * limit for limit in limits if limit)

    @property
    def ratio_low(self) -> float:
        """The AR when the wire comes thick and the ring small: (inside - spread) / (wire + spread)."""
        return max(0.0, self.inside_mm - self.spread_mm) / (self.wire_mm + self.spread_mm)

    @property
    def ratio_high(self) -> float:
        """The AR when the wire comes thin and the ring large: (inside + spread) / (wire - spread)."""
        thin = self.wire_mm - self.spread_mm
        return (self.inside_mm + self.spread_mm) / thin if thin > 0 else float("inf")

    @property
    def word_low(self) -> str:
        """The verdict at the low end of the spread."""
        return self._word_of(self.ratio_low)

    @property
    def word_high(self) -> str:
        """The verdict at the high end of the spread."""
        return self._word_of(self.ratio_high)


@cache
def weaves() -> tuple[Weave, ...]:
    """Every weave of the table, in its order."""
    from jigs.tables import read_table

    return tuple(
        Weave(
            name=row["name"],
            low=row["ratio_low"],
            good=row.get("ratio_good"),
            high=row["ratio_high"],
            wires_through=row.get("wires_through"),
            is_plain_chain=row.get("plain_chain", False),
            source=row["source"],
        )
        for row in read_table("weaves")["weave"]
    )


def find_weave(name: str, own: Iterable[Weave] = ()) -> Weave:
    """The weave of that name: the user's own first, then the table's."""
    wanted = " ".join(name.casefold().split())
    known = (*own, *weaves())
    for weave in known:
        if weave.name.casefold() == wanted:
            return weave
    raise UnknownName("weave", name, dict.fromkeys(weave.name for weave in known))
