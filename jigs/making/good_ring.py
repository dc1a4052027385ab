"""One truth of a good ring: what is wanted, what still passes, and whether what a plan gives does. Lengths in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from jigs.making.ring import Ring
from layouts.errors import OutOfRange
from layouts.units import finite

USUAL_WITHIN = 0.02  # P: part by which AR may be off, of a good ring
LEAST_TOLERANCE_MM = 0.01  # what a caliper shows at best


class Fit(Enum):
    """How a planned ring, with its band, lies to the window of a good one; the value says it in words."""

    INSIDE = "inside"
    STRADDLES = "may fall outside"
    OUTSIDE = "outside"


@dataclass(frozen=True, slots=True, kw_only=True)
class GoodRing:
    """The closed ring that is wanted, and the part by which its AR may be off."""

    wanted: Ring
    within: float = USUAL_WITHIN

    def __post_init__(self) -> None:
        if not 0 < finite(self.within, "tolerance of AR") <= 0.5:
            raise OutOfRange(f"an AR within {100 * self.within:g} %", "give more than 0 and at most 50 %")

    @property
    def tolerance_mm(self) -> float:
        """What the inside may be off: within x inside, in whole hundredths rounded down, but never under one."""
        hundredths = math.floor(100 * self.within * self.wanted.inside_mm + 1e-9)
        return max(LEAST_TOLERANCE_MM, hundredths / 100)

    @property
    def window_mm(self) -> tuple[float, float]:
        """The least and the largest inside of a good closed ring: wanted -+ tolerance."""
        return self.wanted.inside_mm - self.tolerance_mm, self.wanted.inside_mm + self.tolerance_mm

    def passes(self, inside_mm: float) -> bool:
        """Whether a closed ring of this inside is a good one; the ends of the window pass."""
        low, high = self.window_mm
        return low - 1e-9 <= inside_mm <= high + 1e-9

    def fit(self, inside_mm: float, low_mm: float | None = None, high_mm: float | None = None) -> Fit:
        """How a planned inside lies to the window, with the band that it may come out in.

        Without low_mm there is no band. With low_mm alone the band is open above: the wire may spring straight.
        """
        if not self.passes(inside_mm):
            return Fit.OUTSIDE
        if low_mm is None:
            return Fit.INSIDE
        return Fit.INSIDE if high_mm is not None and self.passes(low_mm) and self.passes(high_mm) else Fit.STRADDLES
