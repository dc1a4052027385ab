"""Winding a number of rings: coils, turns, tails, rejects and the wire they take. Lengths in mm.

Each coil is wound and let go by itself, with its own tails. Wire is counted in whole wound turns.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass

from jigs.making.coil import Coil
from layouts.errors import OutOfRange
from layouts.units import finite, positive

USUAL_REJECTS = 2  # P: the first ring of a coil, and often the last
USUAL_TAILS_MM = 65.0  # P: 25 through a cross-hole and 40 to hold at the end
USUAL_SAWN_COIL_MM = 20.0  # P: the longest coil that saws well
MOST_RINGS = 1_000_000  # more is a slip of the hand
SLACK_TURNS = 1e-9  # a count of turns this close above a whole number is that number


@dataclass(frozen=True, slots=True, kw_only=True)
class CoilPlan:
    """So many coils alike: good rings of each, whole turns to wind for each, and the turns left when let go."""

    coils: int
    rings: int
    turns: int
    free_turns: float
    length_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Winding:
    """How rings are wound from wire: the free coil, how far it opened, and what each coil wastes.

    springback_ratio is free mean diameter over wound mean diameter: so many wound turns leave one free turn,
    since the coil unwinds and its wire is kept. longest_coil_mm limits a free coil; None leaves it free.
    """

    coil: Coil
    springback_ratio: float = 1.0
    rejects: int = USUAL_REJECTS
    tails_mm: float = USUAL_TAILS_MM
    longest_coil_mm: float | None = None

    def __post_init__(self) -> None:
        if finite(self.springback_ratio, "springback ratio") < 1:
            raise OutOfRange(f"a springback ratio of {self.springback_ratio:g} would tighten", "give 1 or more")
        if self.rejects < 0:
            raise OutOfRange(f"{self.rejects} rejects per coil is negative", "give 0 or more")
        if finite(self.tails_mm, "tails") < 0:
            raise OutOfRange(f"tails of {self.tails_mm:g} mm are negative", "give zero or more")
        if self.longest_coil_mm is not None:
            positive(self.longest_coil_mm, "longest coil")

    @property
    def wound_turn_mm(self) -> float:
        """Wire in one turn on the mandrel: free turn / springback ratio."""
        return self.coil.turn_length_mm / self.springback_ratio

    @property
    def most_rings_per_coil(self) -> int:
        """Good rings of the longest coil, wound in whole turns: free turns in (longest - d) / pitch, less rejects."""
        if self.longest_coil_mm is None:
            return MOST_RINGS
        room = (self.longest_coil_mm - self.coil.wire_mm) / self.coil.pitch_mm
        wound = math.floor(room * self.springback_ratio + SLACK_TURNS)
        rings = math.floor(wound / self.springback_ratio + SLACK_TURNS) - self.rejects
        if rings < 1:
            needs = self._part(1, 1).length_mm
            raise OutOfRange(
                f"a coil of {self.longest_coil_mm:.1f} mm leaves no good ring after {self.rejects} rejects",
                f"allow a coil of {math.ceil(needs * 10) / 10:.1f} mm or more, or fewer rejects",
            )
        return rings

    def turns_to_wind(self, rings: int) -> int:
        """Whole turns to wind for one coil with so many good rings: (rings + rejects) x ratio, rounded up."""
        return math.ceil((rings + self.rejects) * self.springback_ratio - SLACK_TURNS)

    def plan(self, rings: int) -> tuple[CoilPlan, ...]:
        """The coils to wind for so many good rings: full coils, then one with the remainder."""
        most = self.most_rings_per_coil
        full, rest = divmod(_count(rings), most)
        pairs = ((full, most), (1 if rest else 0, rest))
        return tuple(self._part(coils, each) for coils, each in pairs if coils)

    def wire_mm(self, rings: int) -> float:
        """Wire for so many good rings with all waste: per coil, turns to wind x wound turn + tails."""
        return sum(part.coils * (part.turns * self.wound_turn_mm + self.tails_mm) for part in self.plan(rings))

    def _part(self, coils: int, rings: int) -> CoilPlan:
        """So many coils with so many good rings each."""
        turns = self.turns_to_wind(rings)
        free = turns / self.springback_ratio
        length = self.coil.length_mm(free)
        return CoilPlan(coils=coils, rings=rings, turns=turns, free_turns=free, length_mm=length)

    def rings_from_mm(self, length_mm: float) -> int:
        """Good rings from a length of wire: the most whose `wire_mm` it covers, to a nanometre."""
        length = positive(length_mm, "wire length") + 1e-6
        rings = bisect_right(range(1, MOST_RINGS + 1), length, key=self.wire_mm)
        if rings < 1:
            raise OutOfRange(
                f"{length_mm:.1f} mm of wire makes no good ring",
                f"give {self.wire_mm(1):.1f} mm or more for one",
            )
        return rings


def _count(rings: int) -> int:
    """The count, if it is one that can be made."""
    if not 1 <= rings <= MOST_RINGS:
        raise OutOfRange(f"{rings} rings cannot be wound", f"give 1 to {MOST_RINGS}")
    return rings
