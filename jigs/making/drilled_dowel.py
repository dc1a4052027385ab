"""A dowel with a cross-hole that anchors the wire's tail: which drill, where, and what the wood bears. All mm.

Every rule here is common practice in the trade, no source, unless it says otherwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigs.making.coil import Coil
from jigs.making.winding import USUAL_SECTION_MM
from jigs.stock.drill import Drill, nearest_drill, next_drill
from jigs.stock.wire import Wire
from layouts.errors import OutOfRange, UnknownName
from layouts.lengths import sized
from layouts.units import finite, positive

PAPER_MM = 0.10  # paper of 80 g/m2 (published)
DRILL_SERIES = ("metric", "number", "inch")
SECONDS = ("hole", "slot")

SNUG = 1.05  # the least hole over the wire's diameter
CLEARANCE_MM = 0.1  # and the least clearance
LEAST_FROM_END_MM = 6.0  # centre of the hole to the dowel's end
WOOD_HOLES = 1.5  # wood to leave beside a hole, in hole diameters
USUAL_FROM_END_MM = 10.0
USUAL_TURNS = 10
SNAPS_BELOW_MM = 5.0  # a wooden dowel thinner than this snaps
PILOT_OVER_MM = 2.0  # a hole over this wants a pilot in hardwood
ROUND_WITHIN = 0.02  # out of round by more, and the rings differ
MOST_OUT_OF_ROUND = 0.2  # by more, the mean is over 0.25 % off once round, and it is a slip of the pen
THINNEST_MM, THICKEST_MM = 1.0, 150.0  # past both ends nobody winds rings
THICKEST_PAPER_MM = 1.0
MOST_TURNS = 500
_SAME_MM = 1e-9


def wrap_length_mm(diameter_mm: float, paper_mm: float) -> float:
    """Length in mm of a strip of paper that goes once round a rod: pi x (D + t).

    The middle of the paper keeps its length when it is bent. Source: C, computed (the neutral line of a bent strip).

    >>> round(wrap_length_mm(5, 0.10), 4), round(wrap_length_mm(5, 0.25), 4)
    (16.0221, 16.4934)
    """
    return math.pi * (positive(diameter_mm, "dowel diameter") + positive(paper_mm, "paper thickness"))


def least_hole_mm(wire_mm: float) -> float:
    """The least hole for a wire in mm: 1.05 d and d + 0.1, whichever is more."""
    return max(SNUG * positive(wire_mm, "wire"), wire_mm + CLEARANCE_MM)


def least_from_end_mm(hole_mm: float) -> float:
    """Least distance in mm from the dowel's end to the hole's centre: 6, and 1.5 holes of wood at its edge."""
    return max(LEAST_FROM_END_MM, (WOOD_HOLES + 0.5) * positive(hole_mm, "hole"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Dowel:
    """A dowel, in mm: measured once, or twice at right angles, since dowels are seldom round; or as it is named."""

    diameter_mm: float
    second_diameter_mm: float | None = None
    measured: bool = True  # else the diameter is nominal

    def __post_init__(self) -> None:
        if not self.measured and self.second_diameter_mm is not None:
            raise OutOfRange("a dowel of two diameters is not nominal", "give one, or say that it is measured")
        for size in self.measured_mm:
            if not THINNEST_MM <= positive(size, "dowel diameter") <= THICKEST_MM:
                far = "thin" if size < THINNEST_MM else "thick"
                raise OutOfRange(
                    f"a dowel of {size:.6g} mm is too {far} to wind rings on",
                    f"give a measured diameter from {THINNEST_MM:g} mm to {THICKEST_MM:g} mm",
                )
        if self.out_of_round > MOST_OUT_OF_ROUND + _SAME_MM:
            one, other = self.measured_mm
            raise OutOfRange(
                f"diameters of {one:.2f} mm and {other:.2f} mm do not belong to one round dowel",
                "measure the same place twice, at right angles",
            )

    @property
    def measured_mm(self) -> tuple[float, ...]:
        """What was measured: one diameter or two; the name's, where nobody did."""
        second = self.second_diameter_mm
        return (self.diameter_mm,) if second is None else (self.diameter_mm, second)

    @property
    def mean_mm(self) -> float:
        """The mean of what was measured. An oval out of round by 2 % is 0.0025 % longer round than this circle."""
        return sum(self.measured_mm) / len(self.measured_mm)

    @property
    def thinnest_mm(self) -> float:
        """The lesser of what was measured: strength is judged by it."""
        return min(self.measured_mm)

    @property
    def out_of_round_mm(self) -> float:
        """The difference of the two diameters; 0 when only one was measured."""
        return max(self.measured_mm) - min(self.measured_mm)

    @property
    def out_of_round(self) -> float:
        """The same as a share of the mean."""
        return self.out_of_round_mm / self.mean_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class DrilledDowel:
    """A dowel and its cross-hole for one wire, with a coil of so many turns wound away from the hole.

    Distances are from the dowel's end to the centre of a hole. A second hole or slot, if any, is on the same two
    lines; without a place of its own it is where the last turn ends. A slot is a long hole along the dowel.
    """

    dowel: Dowel
    wire: Wire
    series: str = "metric"
    from_end_mm: float = USUAL_FROM_END_MM
    turns: int = USUAL_TURNS
    pitch_mm: float | None = None  # none: close-wound, one wire diameter
    paper_mm: float | None = None  # none: as of paper of 80 g/m2
    second: str | None = None
    second_from_end_mm: float | None = None
    slot_mm: float | None = None  # none: three hole diameters, end to end
    own_drill: Drill | None = None  # one at hand, instead of the next of the series

    def __post_init__(self) -> None:
        if self.series not in DRILL_SERIES:
            raise UnknownName("drill series", self.series, DRILL_SERIES)
        if self.second is not None and self.second not in SECONDS:
            raise UnknownName("second hole", self.second, SECONDS)
        self._check_hole()
        if not 1 <= self.turns <= MOST_TURNS:
            raise OutOfRange(f"a coil of {self.turns} turns", f"give 1 to {MOST_TURNS} whole turns")
        finite(self.coil.pitch_mm, "pitch")  # making the coil refuses a pitch below the wire
        if positive(self.strip_mm, "paper thickness") > THICKEST_PAPER_MM:
            raise OutOfRange(
                f"paper {self.strip_mm:g} mm thick will not wrap a dowel",
                f"give at most {THICKEST_PAPER_MM:g} mm (80 g/m2 paper is {PAPER_MM:g} mm)",
            )
        self._check_second()

    @property
    def drill(self) -> Drill:
        """The drill to use: the one at hand, else the next of the series that is at least 1.05 d and d + 0.1."""
        return self.own_drill or next_drill(self.series, least_hole_mm(self.wire.diameter_mm))

    @property
    def snug_drill(self) -> Drill:
        """The next drill that is at least 1.05 d: for a tight fit; often the same."""
        return self.own_drill or next_drill(self.series, SNUG * self.wire.diameter_mm)

    @property
    def pilot(self) -> Drill | None:
        """The drill nearest half the hole, for hardwood; none where the hole is 2 mm or less."""
        return nearest_drill(self.series, self.hole_mm / 2)[0] if self.hole_mm > PILOT_OVER_MM else None

    @property
    def hole_mm(self) -> float:
        """The hole's diameter: the drill's."""
        return self.drill.diameter_mm

    @property
    def clearance_mm(self) -> float:
        """Hole - wire."""
        return self.hole_mm - self.wire.diameter_mm

    @property
    def strip_mm(self) -> float:
        """Thickness of the strip: of the paper that is given, else of 80 g/m2."""
        return PAPER_MM if self.paper_mm is None else self.paper_mm

    @property
    def wrap_mm(self) -> float:
        """The strip once round: pi x (mean D + t)."""
        return wrap_length_mm(self.dowel.mean_mm, self.strip_mm)

    @property
    def coil(self) -> Coil:
        """The coil as wound, on the dowel."""
        wire = self.wire.diameter_mm
        pitch = wire if self.pitch_mm is None else self.pitch_mm
        return Coil(wire_mm=wire, inside_mm=self.dowel.mean_mm, pitch_mm=pitch)

    @property
    def coil_length_mm(self) -> float:
        """Turns x pitch + d, outside to outside."""
        return self.coil.length_mm(self.turns)

    @property
    def coil_zone_mm(self) -> tuple[float, float]:
        """From where to where the coil lies, from the dowel's end: it starts with its middle at the hole."""
        low = self.from_end_mm - self.wire.diameter_mm / 2
        return low, low + self.coil_length_mm

    @property
    def second_at_mm(self) -> float | None:
        """Centre of the second hole or slot: as given, or hole + turns x pitch, where the last turn ends."""
        if self.second is None:
            return None
        if self.second_from_end_mm is not None:
            return self.second_from_end_mm
        return self.from_end_mm + self.turns * self.coil.pitch_mm

    @property
    def slot_length_mm(self) -> float:
        """End to end of the second hole along the dowel: as given or three hole diameters; one for a round hole."""
        if self.second != "slot":
            return self.hole_mm
        return 3 * self.hole_mm if self.slot_mm is None else self.slot_mm

    @property
    def second_centres_mm(self) -> tuple[float, ...]:
        """Where to prick for the second: one place for a hole, the two ends of the row for a slot."""
        if self.second_at_mm is None:
            return ()
        half = (self.slot_length_mm - self.hole_mm) / 2
        return (self.second_at_mm - half, self.second_at_mm + half) if half else (self.second_at_mm,)

    @property
    def warnings(self) -> tuple[str, ...]:
        """What is allowed and still likely to go wrong, a line each."""
        dowel, lines = self.dowel, []
        if self.hole_mm > dowel.thinnest_mm / 4 + _SAME_MM:
            quarter = f"D/4 is {sized(dowel.thinnest_mm / 4, 2)}"
            lines.append(
                f"the hole of {sized(self.hole_mm, 2)} is over a quarter of the dowel ({quarter}): it is weak there"
            )
        if dowel.thinnest_mm < SNAPS_BELOW_MM:
            lines.append(
                f"wood {sized(dowel.thinnest_mm, 2)} thick snaps: under {sized(SNAPS_BELOW_MM)} wind on a metal rod, "
                "and take the coil off it before you saw"
            )
        if dowel.out_of_round > ROUND_WITHIN:
            oval = f"{sized(dowel.out_of_round_mm, 2)} ({100 * dowel.out_of_round:.1f} %)"
            lines.append(f"out of round by {oval}: the rings will differ; take a rounder dowel")
        at, last = self.second_at_mm, self.from_end_mm + self.turns * self.coil.pitch_mm
        if at is not None and self.from_end_mm < at < last - _SAME_MM:
            lines.append(
                f"the second {self.second} at {sized(at, 1)} lies under the coil, which ends at {sized(last, 1)}"
            )
        return tuple(lines)

    @property
    def advice(self) -> tuple[str, ...]:
        """What to do besides, a line each."""
        lines = []
        if self.pilot:
            lines.append(
                f"In hardwood drill {self.pilot.name} first: a hole over {sized(PILOT_OVER_MM)} wants a pilot."
            )
        if self.second == "slot":
            lines.append(
                f"Slot {sized(self.slot_length_mm, 1)} long, end to end: drill a row of holes, file out between them."
            )
        if self.coil_length_mm > USUAL_SECTION_MM:
            sections = f"into sections of {sized(USUAL_SECTION_MM)} or less"
            lines.append(f"For the saw, snip the coil of {sized(self.coil_length_mm, 1)} {sections}.")
        return tuple(lines)

    def _check_hole(self) -> None:
        hole, thinnest = self.hole_mm, self.dowel.thinnest_mm
        if hole <= self.wire.diameter_mm:
            wire = f"wire of {sized(self.wire.diameter_mm, 3)}"
            raise OutOfRange(f"drill {self.drill.name} is too thin for {wire}", "take a thicker drill")
        if hole > thinnest / 3 + _SAME_MM:
            raise OutOfRange(
                f"a hole of {hole:.2f} mm is over a third of the dowel (D/3 is {thinnest / 3:.2f} mm)",
                f"take a dowel of {4 * hole:.1f} mm or more, or thinner wire",
            )
        least = least_from_end_mm(hole)
        if positive(self.from_end_mm, "distance from the end") < least - _SAME_MM:
            raise OutOfRange(
                f"a hole of {hole:.2f} mm with its centre {self.from_end_mm:.2f} mm from the end would split out",
                f"give {least:.2f} mm or more",
            )

    def _check_second(self) -> None:
        if self.second is None:
            if self.second_from_end_mm is not None:
                raise OutOfRange("a second place and nothing to put there", "say hole or slot")
        else:
            self._check_second_place(self.second)
        if self.slot_mm is None:
            return
        if self.second != "slot":
            raise OutOfRange("a slot length and no slot", "ask for a slot, or leave the length out")
        if positive(self.slot_mm, "slot length") < self.hole_mm:
            raise OutOfRange(
                f"a slot {self.slot_mm:.2f} mm long is shorter than its drill", f"give {self.hole_mm:.2f} mm or more"
            )

    def _check_second_place(self, second: str) -> None:
        centres = self.second_centres_mm
        between = min(abs(at - self.from_end_mm) for at in centres)
        least = (WOOD_HOLES + 1) * self.hole_mm
        across = centres[0] < self.from_end_mm < centres[-1]
        if across or between < least - _SAME_MM:
            raise OutOfRange(
                f"the second {second} leaves under {WOOD_HOLES * self.hole_mm:.2f} mm of wood beside the first hole",
                f"keep the centres {least + (self.slot_length_mm - self.hole_mm) / 2:.2f} mm apart or more",
            )
        if centres[0] < least_from_end_mm(self.hole_mm) - _SAME_MM:
            raise OutOfRange(
                f"the second {second} would split out of the dowel's end",
                f"keep it {least_from_end_mm(self.hole_mm):.2f} mm from the end or more",
            )
