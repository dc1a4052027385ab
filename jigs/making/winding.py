"""Winding a number of rings: coils, turns, tails, rejects, sections and the wire they take. Lengths in mm.

Winding and sawing are two things. Each coil is wound as long as its mandrel allows and released by itself, with its
own tails and rejects; where it is longer than what is sawn in one piece, it is then snipped into sections, and a ring
is lost at each snip. Wire is counted in whole wound turns.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass

from jigs.making.coil import Coil
from jigs.stock.figure import Basis, Figure
from layouts.errors import OutOfRange
from layouts.lengths import sized
from layouts.units import finite, positive

USUAL_REJECTS = 2  # P: the first ring of a coil, and often the last
USUAL_TAILS_MM = 65.0  # P: 25 through a cross-hole and 40 to hold at the end
USUAL_SECTION_MM = 70.0  # P: the groove of a usual bench pin: 120 mm of wood, 50 of them for the clamp
USUAL_ROD_MM = 150.0  # P: a rod whose length is not known
HELD_OF_ROD_MM = 30.0  # P: what the hands or the chuck take of a rod
HELD_OF_SHANK_MM = 15.0  # P: what the chuck takes of a drill's plain shank
USUAL_COIL_ON_SHANK_MM = 20.0  # P: the coil that a shank of unknown length bears
LOST_PER_SNIP = 1  # P: rings lost where a coil is snipped into sections
MOST_RINGS = 1_000_000  # more is a slip of the hand
SLACK_TURNS = 1e-9  # a count of turns this close above a whole number is that number


def longest_winding(
    *, stated_mm: float | None = None, length_mm: float | None = None, is_shank: bool = False
) -> Figure:
    """The longest coil that can be wound on a mandrel [mm]: the least of what it states and what its length leaves.

    length_mm is that of the rod, or of the plain part of a drill's shank. Where neither is known, the usual counts.
    Refuses a mandrel too short for what holds it.
    """
    held = HELD_OF_SHANK_MM if is_shank else HELD_OF_ROD_MM
    what = "plain shank" if is_shank else "rod"
    leaves = []
    if stated_mm is not None:
        stated = positive(stated_mm, "longest coil")
        leaves.append(_coil_of(stated, Basis.MEASURED, f"the mandrel is stated to bear {sized(stated)}"))
    if length_mm is not None:
        length = positive(length_mm, f"length of the {what}")
        if length <= held:
            problem = f"a {what} of {length:g} mm leaves nothing to wind on"
            raise OutOfRange(problem, f"{held:g} mm of it is held", field="length")
        leaves.append(
            _coil_of(length - held, Basis.MEASURED, f"{what} of {sized(length)} less {sized(held)} to hold it")
        )
    if not leaves and is_shank:
        words = "the plain shank's length is not known: common practice, no source"
        leaves.append(_coil_of(USUAL_COIL_ON_SHANK_MM, Basis.USUAL, words))
    elif not leaves:
        words = f"rod of {sized(USUAL_ROD_MM)} less {sized(held)} to hold it: common practice, no source"
        leaves.append(_coil_of(USUAL_ROD_MM - held, Basis.USUAL, words))
    return min(leaves, key=lambda coil: coil.value)


def _coil_of(length_mm: float, basis: Basis, words: str) -> Figure:
    return Figure(name="longest coil", value=length_mm, basis=basis, words=words)


@dataclass(frozen=True, slots=True, kw_only=True)
class CoilPlan:
    """So many coils alike: good rings of each, whole turns to wind for each, and the turns left when released.

    sections are the pieces that each is sawn in, 1 where it is sawn whole.
    """

    coils: int
    rings: int
    turns: int
    free_turns: float
    length_mm: float
    sections: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Winding:
    """How rings are wound from wire: the free coil, how far it opened, and what each coil wastes.

    springback_ratio is free mean diameter over wound mean diameter: so many wound turns leave one free turn,
    since the coil unwinds and its wire is kept. longest_coil_mm limits what is wound, longest_section_mm what is
    sawn in one piece, both as free coils; None leaves them free. Wire is cut to whole steps of cut_step_mm, rounded up.
    """

    coil: Coil
    springback_ratio: float = 1.0
    rejects: int = USUAL_REJECTS
    tails_mm: float = USUAL_TAILS_MM
    longest_coil_mm: float | None = None
    longest_section_mm: float | None = None
    cut_step_mm: float = 1.0

    def __post_init__(self) -> None:
        positive(self.cut_step_mm, "step in which wire is cut")
        if finite(self.springback_ratio, "springback ratio") < 1:
            raise OutOfRange(f"a springback ratio of {self.springback_ratio:g} would tighten", "give 1 or more")
        if self.rejects < 0:
            raise OutOfRange(f"{self.rejects} rejects per coil is negative", "give 0 or more")
        if finite(self.tails_mm, "tails") < 0:
            raise OutOfRange(f"tails of {self.tails_mm:g} mm are negative", "give zero or more")
        if self.longest_coil_mm is not None:
            positive(self.longest_coil_mm, "longest coil")
        if self.longest_section_mm is not None and self._turns_in(positive(self.longest_section_mm, "section")) < 1:
            raise OutOfRange(
                f"a section of {self.longest_section_mm:.1f} mm holds no whole turn",
                f"allow {self.coil.length_mm(1):.1f} mm or more",
            )

    @property
    def wound_turn_mm(self) -> float:
        """Wire in one turn on the mandrel: free turn / springback ratio."""
        return self.coil.turn_length_mm / self.springback_ratio

    @property
    def most_rings_per_coil(self) -> int:
        """Good rings of the longest coil, in whole turns: free turns in (longest - d) / pitch, less what is lost."""
        if self.longest_coil_mm is None:
            return MOST_RINGS
        room = (self.longest_coil_mm - self.coil.wire_mm) / self.coil.pitch_mm
        wound = math.floor(room * self.springback_ratio + SLACK_TURNS)
        free = math.floor(wound / self.springback_ratio + SLACK_TURNS)
        rings = free - self.rejects - LOST_PER_SNIP * (self.sections_of(free) - 1)
        if rings < 1:
            needs = self.part(1, 1).length_mm
            raise OutOfRange(
                f"a coil of {self.longest_coil_mm:.1f} mm leaves no good ring after {self.rejects} rejects",
                f"allow a coil of {math.ceil(needs * 10) / 10:.1f} mm or more, or fewer rejects",
            )
        return rings

    def sections_of(self, free_turns: int) -> int:
        """The pieces that a released coil is sawn in: the fewest that hold its turns, a ring lost at each snip.

        With m turns in the longest section, k sections and their k - 1 lost rings hold k m + k - 1 turns.
        """
        if self.longest_section_mm is None:
            return 1
        most = self._turns_in(self.longest_section_mm)
        return -(-(free_turns + LOST_PER_SNIP) // (most + LOST_PER_SNIP))

    def least_sections(self, sawn_turns: int) -> int:
        """The fewest sections that hold so many turns, snips not counted: each as long as a section may be."""
        return 1 if self.longest_section_mm is None else -(-sawn_turns // self._turns_in(self.longest_section_mm))

    def section_turns(self, free_turns: int) -> tuple[int, ...]:
        """The turns of each section of a released coil, the longest first, as even as can be."""
        sections = self.sections_of(free_turns)
        each, more = divmod(free_turns - LOST_PER_SNIP * (sections - 1), sections)
        return (each + 1,) * more + (each,) * (sections - more)

    def _turns_in(self, length_mm: float) -> int:
        """Whole turns of a free coil that long at most."""
        return math.floor((length_mm - self.coil.wire_mm) / self.coil.pitch_mm + SLACK_TURNS)

    def rings_of(self, turns: int) -> int:
        """Good rings of one coil wound with so many turns; none where it is all rejects and snips."""
        free = math.floor(turns / self.springback_ratio + SLACK_TURNS)
        return max(0, free - self.rejects - LOST_PER_SNIP * (self.sections_of(free) - 1))

    @property
    def most_turns_per_coil(self) -> int:
        """Turns to wind for the longest coil."""
        return self.turns_to_wind(self.most_rings_per_coil)

    def turns_to_wind(self, rings: int) -> int:
        """Whole turns to wind for one coil with so many good rings: (rings + rejects + snips) x ratio, rounded up."""
        return math.ceil(self._free_turns(rings) * self.springback_ratio - SLACK_TURNS)

    def _free_turns(self, rings: int) -> int:
        """Turns of the released coil that so many good rings take: their own, the rejects, and one at each snip."""
        sawn = rings + self.rejects
        return sawn + LOST_PER_SNIP * (self.least_sections(sawn) - 1)

    def plan(self, rings: int) -> tuple[CoilPlan, ...]:
        """The coils to wind for so many good rings: full coils, then one with the remainder."""
        most = self.most_rings_per_coil
        full, rest = divmod(_count(rings), most)
        pairs = ((full, most), (1 if rest else 0, rest))
        return tuple(self.part(coils, each) for coils, each in pairs if coils)

    def evenly(self, rings: int, coils: int) -> tuple[CoilPlan, ...]:
        """So many coils, or the fewest, for so many good rings, as even as can be: those with a ring more first."""
        coils = max(coils, -(-_count(rings) // self.most_rings_per_coil))
        each, more = divmod(rings, coils)
        pairs = ((more, each + 1), (coils - more, each))
        return tuple(self.part(count, good) for count, good in pairs if count and good)

    def wire_mm(self, rings: int) -> float:
        """Wire for so many good rings with all waste: per coil, turns to wind x wound turn + tails."""
        return sum(part.coils * (part.turns * self.wound_turn_mm + self.tails_mm) for part in self.plan(rings))

    def part(self, coils: int, rings: int, turns: int = 0) -> CoilPlan:
        """So many coils with so many good rings each, of so many turns or the fewest that give them."""
        turns = max(turns, self.turns_to_wind(rings))
        free = turns / self.springback_ratio
        return CoilPlan(
            coils=coils,
            rings=rings,
            turns=turns,
            free_turns=free,
            length_mm=self.coil.length_mm(free),
            sections=self.sections_of(self._free_turns(rings)),
        )

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
