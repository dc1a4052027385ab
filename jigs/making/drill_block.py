"""A block that guides a drill through the middle of a dowel: a vee below, a vee above, a stop, a guide. All mm.

The dowel lies between two vees of 120 degrees that are alike: whatever its size, its axis lies half-way between base
and cap, so the guide in the cap points at it. Frame of a section: x across, z up, the origin on the axis.

Every rule here is common practice in the trade, no source, unless it says that it follows from the geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigs.making.drilled_dowel import DrilledDowel
from jigs.stock.drill import Drill, jobber_flute_mm
from layouts.errors import Give, OutOfRange
from layouts.lengths import sized, sized_short
from layouts.units import positive

VEE_DEG = 120.0
LEAST_DOWEL_MM, MOST_DOWEL_MM = 3.0, 30.0
GAP_SHARE = 0.3  # from the axis to the face of base or cap, in radii of the dowel
LEAST_GAP_MM = 0.8
LEFT_GAP_MM = 0.3  # between base and cap at the least: else the cap lies on the base, and the dowel is loose
FLOOR_MM = 5.0  # under the vee
STOP_MM = 6.0  # thick
STOP_SHARE = 0.8  # it rises over the axis by so much, in radii
BEHIND_MM = 30.0  # behind the guide, for the clamp
SHORTEST_MM = 50.0
POST_MM = (5.0, 9.0)  # of each post, across and along
POST_PLAY_MM = 0.3  # on every side: the dowel places the cap, the posts keep it level
POST_ENTERS_MM = 5.0
WALL_MM = 2.4  # beside the posts' pockets, outside
LAND_MM = 1.6  # and between pocket and vee
LONGEST_GUIDE_MM = 12.0
LEAST_GUIDE_MM = 5.0
GUIDE_SHARE = 2.0  # a guide shorter than two diameters of the drill leads nothing
CHIPS_MM = 2.0  # of the flute that must stand out of the guide when the drill is in the middle
PILOT_UNDER_MM = 0.3  # the hole to be opened with the drill is smaller by so much
LEAST_HOLE_MM, LEAST_DRILL_MM = 0.8, 0.9  # smaller holes close up as they are printed
MOUTH_MM = 1.0  # the guide's mouth is wider by so much, at 45 degrees
PIN_PLAY_MM = 0.2
_SIN, _TAN = math.sin(math.radians(VEE_DEG / 2)), math.tan(math.radians(VEE_DEG / 2))


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillBlock:
    """The block for a drilled dowel.

    tube_mm: the outside of a metal tube that is pressed into the guide; None for a hole that the drill itself opens.
    flute_mm: of the drill; None for that of a jobber drill. Refuses (`OutOfRange`) a dowel that is too thin or too
    thick, a drill too short for guide and half the dowel, and a guide that cannot be printed.
    """

    drilled: DrilledDowel
    tube_mm: float | None = None
    flute_mm: float | None = None

    def __post_init__(self) -> None:
        size = self.drilled.dowel.mean_mm
        if not LEAST_DOWEL_MM <= size <= MOST_DOWEL_MM:
            raise OutOfRange(
                f"a block for a dowel of {sized(size, 2)}",
                f"give a dowel of {sized_short(LEAST_DOWEL_MM)} to {sized_short(MOST_DOWEL_MM)}",
            )
        self._check_guide()
        if self.guide_mm < self.least_guide_mm - 1e-9:
            needs = self.reach_mm - self.guide_mm + self.least_guide_mm + CHIPS_MM
            raise OutOfRange(
                f"a flute of {sized(self.flute, 1)} is too short for a guide and half a dowel of {sized(size, 2)}",
                f"take a drill with a flute of {sized(math.ceil(needs))} or more",
                (Give(field="flute", example=sized(math.ceil(needs))),),
            )

    def _check_guide(self) -> None:
        drill = self.drill.diameter_mm
        if self.tube_mm is not None and positive(self.tube_mm, "a tube") < drill + 0.4:
            raise OutOfRange(
                f"a tube of {sized(self.tube_mm, 2)} has no wall around a drill of {sized(drill, 2)}",
                f"take a tube of {sized(drill + 0.4, 2)} or more outside",
            )
        if self.tube_mm is not None and self.tube_mm > self.most_guide_hole_mm:
            raise OutOfRange(
                f"a tube of {sized(self.tube_mm, 2)} is wider than the vee of this dowel",
                f"take one of at most {sized(self.most_guide_hole_mm, 2)} outside",
            )
        if self.tube_mm is None and drill < LEAST_DRILL_MM - 1e-9:
            raise OutOfRange(
                f"a hole for a drill of {sized(drill, 2)} closes up as it is printed",
                "press a metal tube into the guide",
                (Give(field="tube", example=sized(2.0)),),
            )

    # --- the drill

    @property
    def drill(self) -> Drill:
        """The drill for the wire's hole."""
        return self.drilled.drill

    @property
    def flute(self) -> float:
        """How long its flute is: as said, else that of a jobber drill, which every drill for such a dowel has."""
        known = self.flute_mm if self.flute_mm is not None else jobber_flute_mm(self.drill.diameter_mm) or 0.0
        return positive(known, "a flute")

    @property
    def guide_hole_mm(self) -> float:
        """The hole in the cap: for the tube, or a little under the drill that opens it."""
        if self.tube_mm is not None:
            return self.tube_mm
        return max(LEAST_HOLE_MM, self.drill.diameter_mm - PILOT_UNDER_MM)

    @property
    def most_guide_hole_mm(self) -> float:
        """The widest hole whose edge is still within the vee: where the dowel touches, half its diameter apart."""
        return self.radius_mm

    @property
    def pin_hole_mm(self) -> float:
        """The hole in the base, under the guide: a pin stands in it when the dowel is turned over."""
        return self.drill.diameter_mm + PIN_PLAY_MM

    @property
    def least_guide_mm(self) -> float:
        """The shortest guide that leads."""
        return max(LEAST_GUIDE_MM, GUIDE_SHARE * self.drill.diameter_mm)

    @property
    def guide_mm(self) -> float:
        """How long the guide is: as long as the flute allows, 12 at the most."""
        return min(LONGEST_GUIDE_MM, self.flute - CHIPS_MM - self.apex_mm)

    @property
    def reach_mm(self) -> float:
        """From the top of the guide to the dowel's middle: where the drill is stopped, and marked with tape."""
        return self.guide_mm + self.apex_mm

    # --- the section

    @property
    def radius_mm(self) -> float:
        """Of the dowel, from the mean of what was measured."""
        return self.drilled.dowel.mean_mm / 2

    @property
    def apex_mm(self) -> float:
        """From the axis to the bottom of a vee: r / sin(half the vee), by plane geometry."""
        return self.radius_mm / _SIN

    @property
    def gap_mm(self) -> float:
        """From the axis to the face of base or cap; the two faces are twice that apart."""
        return max(LEAST_GAP_MM, GAP_SHARE * self.radius_mm)

    @property
    def vee_mm(self) -> float:
        """How deep a vee is."""
        return self.apex_mm - self.gap_mm

    @property
    def vee_half_mm(self) -> float:
        """Half of how wide a vee is at the face."""
        return self.vee_mm * _TAN

    @property
    def thinnest_mm(self) -> float:
        """The thinnest dowel that it holds as well: with it 0.3 mm are left between base and cap."""
        return 2 * (self.radius_mm - (self.gap_mm - LEFT_GAP_MM) * _SIN)

    @property
    def half_width_mm(self) -> float:
        """From the middle to either side."""
        return self.post_x_mm + POST_MM[0] / 2 + POST_PLAY_MM + WALL_MM

    @property
    def post_x_mm(self) -> float:
        """From the middle to the middle of either post."""
        return self.vee_half_mm + LAND_MM + POST_PLAY_MM + POST_MM[0] / 2

    @property
    def base_mm(self) -> float:
        """How high the base is."""
        return FLOOR_MM + self.vee_mm

    @property
    def cap_mm(self) -> float:
        """How high the cap is."""
        return self.vee_mm + self.guide_mm

    @property
    def stop_rise_mm(self) -> float:
        """How far the stop stands above the face of the base."""
        return self.gap_mm + STOP_SHARE * self.radius_mm

    @property
    def post_rise_mm(self) -> float:
        """How far the posts stand above the face of the base."""
        return 2 * self.gap_mm + min(POST_ENTERS_MM, self.pocket_mm - 2 * self.gap_mm)

    @property
    def pocket_mm(self) -> float:
        """How deep the pockets in the cap are: the posts have room for the thinnest dowel, and a floor is left."""
        return min(POST_ENTERS_MM + 2 * self.gap_mm, self.cap_mm - WALL_MM)

    # --- along the dowel

    @property
    def guide_y_mm(self) -> float:
        """From the stop to the middle of the guide: as far as the hole is from the dowel's end."""
        return self.drilled.from_end_mm

    @property
    def long_mm(self) -> float:
        """How long the cap is; the base is longer by the stop."""
        return max(SHORTEST_MM, self.guide_y_mm + BEHIND_MM)

    @property
    def post_y_mm(self) -> float:
        """From the stop to the middle of the posts, near the far end."""
        return self.long_mm - POST_MM[1] / 2 - POST_PLAY_MM - WALL_MM
