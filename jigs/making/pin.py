"""A bench pin: where its vee, hole, starter kerfs, groove, slit and guide lie, and what wood they must leave.

Frame: millimetres on the top face; x from the side of the hand that holds the coil, y from the front edge to the
back. So the plan is that of a right-handed pin seen from above with its front towards the reader; `across` turns
an x over for the left hand.

Every figure here is common practice, no source, unless it says that it follows from the geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigs.stock.blade import Blade
from layouts.errors import OutOfRange, UnknownName
from layouts.units import positive

CLAMP_MM = 50.0  # left whole at the back for the clamp
LEAST_WOOD_MM = 8.0  # no finger narrower, and no wood thinner under the groove
USUAL_THICKNESS_MM = 19.0  # hardwood of this or more
VEE_MOUTH_MM = 22.0  # 20 to 25 is usual
VEE_DEPTH_MM = 50.0  # 40 to 60
HOLE_MM = 6.0  # 5 to 8, at the apex
KERF_LENGTH_MM = 10.0  # 10 to 15
MOST_KERFS = 3
GROOVE_DEPTH_SHARE = 0.65  # of the coil's outside diameter; 0.6 to 0.7
SLIT_LENGTH_MM = 12.0  # 10 to 15, in from the front edge along the middle of the groove
LEAST_LIP_MM = 2.5  # of wood at the top face beside the groove
SAW_DEG = 45.0  # between the blade and the axis of the coil
LEAST_COIL_MM = 2.0  # a smaller groove is lost between its own lines

HANDS = ("left", "right")
LAYOUTS = ("full", "vee", "vee-hole", "kerfs", "groove", "guide")
_FULL = ("vee-hole", "kerfs", "groove", "guide")

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Groove:
    """A 90 degree vee along which a coil of `coil_outside_mm` lies; all heights from the top face.

    The coil of radius r touches both sides at r/sqrt(2) above the bottom, and its centre is r sqrt(2) above it
    (geometry of a circle in a right angle).

    >>> groove = Groove(coil_outside_mm=8.0)
    >>> round(groove.depth_mm, 3), round(groove.width_mm, 3), round(groove.proud_mm, 3)
    (5.2, 10.4, 4.457)
    """

    coil_outside_mm: float

    def __post_init__(self) -> None:
        if positive(self.coil_outside_mm, "the outside of the coil") < LEAST_COIL_MM:
            raise OutOfRange(
                f"a groove for a coil of {self.coil_outside_mm:g} mm is too small to saw to a line",
                f"give a coil of {LEAST_COIL_MM:g} mm outside or more",
            )

    @property
    def depth_mm(self) -> float:
        """From the top face to the bottom: 0.65 of the coil's outside."""
        return GROOVE_DEPTH_SHARE * self.coil_outside_mm

    @property
    def width_mm(self) -> float:
        """At the top face: twice the depth, since the angle is 90 degrees."""
        return 2 * self.depth_mm

    @property
    def centre_mm(self) -> float:
        """The coil's axis above the top face (below it when negative): OD / sqrt(2) - depth."""
        return self.coil_outside_mm / math.sqrt(2) - self.depth_mm

    @property
    def proud_mm(self) -> float:
        """How far the coil stands above the top face: OD (1/sqrt(2) + 1/2) - depth."""
        return self.centre_mm + self.coil_outside_mm / 2

    @property
    def touch_mm(self) -> float:
        """How far under the top face the coil touches the sides: depth - OD / (2 sqrt(2))."""
        return self.depth_mm - self.coil_outside_mm / (2 * math.sqrt(2))


def coil_in_front_mm(inside_mm: float, angle_deg: float = SAW_DEG) -> float:
    """How much coil may stand in front of the blade, in mm: inside / tan(angle between the blade and the axis).

    Measured along the coil, from where the blade leaves the upper wall to the open end, cut rings that have not
    fallen included. With more, a straight blade reaches the lower wall before the open end and cuts it too (plane
    geometry). Refuses an angle that is not between 0 and 90 degrees (`OutOfRange`).

    >>> [round(coil_in_front_mm(3.6, angle), 1) for angle in (30, 45, 60)]
    [6.2, 3.6, 2.1]
    """
    if not 0 < angle_deg < 90:
        raise OutOfRange(f"a blade at {angle_deg:g}° to the axis", "give an angle over 0° and under 90°")
    return positive(inside_mm, "the inside of the coil") / math.tan(math.radians(angle_deg))


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """A bench pin of the given wood, with the parts named in `layouts`.

    Refuses (`OutOfRange`) wood that would leave a finger under 8 mm, less than 8 mm under the groove, or less than
    50 mm whole for the clamp; `UnknownName` for a hand or a layout that it does not know.
    """

    length_mm: float
    width_mm: float
    thickness_mm: float
    coil_outside_mm: float
    blade: Blade
    hand: str = "right"
    layouts: tuple[str, ...] = ("full",)

    def __post_init__(self) -> None:
        for value, name in (
            (self.length_mm, "the length of the pin"),
            (self.width_mm, "the width of the pin"),
            (self.thickness_mm, "the thickness of the pin"),
            (self.coil_outside_mm, "the outside of the coil"),
        ):
            positive(value, name)
        if self.hand not in HANDS:
            raise UnknownName("hand", self.hand, HANDS)
        for name in self.layouts:
            if name not in LAYOUTS:
                raise UnknownName("layout", name, LAYOUTS)
        if not self.layouts:
            raise OutOfRange("a bench pin without a layout", f"name one or more of {', '.join(LAYOUTS)}")
        self._fingers_hold()
        self._groove_holds()
        self._clamp_holds()

    # --- what it has

    @property
    def parts(self) -> frozenset[str]:
        """The layouts, with `full` spelled out."""
        return frozenset(self.layouts) - {"full"} | (frozenset(_FULL) if "full" in self.layouts else frozenset())

    @property
    def has_vee(self) -> bool:
        """A vee, with or without a hole."""
        return bool(self.parts & {"vee", "vee-hole"})

    @property
    def has_hole(self) -> bool:
        """A hole at the vee's apex."""
        return "vee-hole" in self.parts

    @property
    def groove(self) -> Groove | None:
        """The coil groove, when there is one."""
        return Groove(coil_outside_mm=self.coil_outside_mm) if "groove" in self.parts else None

    # --- where it lies

    def across(self, x: float) -> float:
        """An x of the right-handed frame as it lies for this pin's hand, from the left."""
        return x if self.hand == "right" else self.width_mm - x

    @property
    def finger_mm(self) -> float:
        """Width of each finger at the front; of each half, without a vee."""
        return (self.width_mm - (VEE_MOUTH_MM if self.has_vee else 0.0)) / 2

    @property
    def apex(self) -> Point:
        """Where the sides of the vee would meet: the centre of the hole."""
        return self.width_mm / 2, VEE_DEPTH_MM

    def vee_side(self, y: float) -> float:
        """The x of the vee's side next to the holding hand, at y from the front."""
        return self.width_mm / 2 - VEE_MOUTH_MM / 2 * (1 - y / VEE_DEPTH_MM)

    @property
    def vee_end(self) -> Point:
        """Where the saw's line along that side ends: at the apex, or where it meets the hole."""
        if not self.has_hole:
            return self.apex
        half, slope = VEE_MOUTH_MM / 2, math.hypot(VEE_MOUTH_MM / 2, VEE_DEPTH_MM)
        x, y = self.apex
        return x - HOLE_MM / 2 * half / slope, y - HOLE_MM / 2 * VEE_DEPTH_MM / slope

    @property
    def groove_x(self) -> float:
        """The middle of the groove and of its slit: halfway across the holding hand's finger."""
        return self.finger_mm / 2

    @property
    def groove_length_mm(self) -> float:
        """From the front edge to the clamp: the longest coil that it holds whole; 0 without a groove."""
        return self.length_mm - CLAMP_MM if "groove" in self.parts else 0.0

    @property
    def kerf_xs(self) -> tuple[float, ...]:
        """The middles of the starter kerfs, even over the saw hand's finger: as many as 8 mm allow, up to 3."""
        if "kerfs" not in self.parts:
            return ()
        spaces = math.floor(self.finger_mm / (LEAST_WOOD_MM + self.blade.kerf_mm) + 1e-9)
        count = min(MOST_KERFS, max(1, spaces - 1))
        start = self.width_mm - self.finger_mm
        return tuple(start + self.finger_mm * i / (count + 1) for i in range(1, count + 1))

    @property
    def guide_mm(self) -> float:
        """How far behind the front edge the 45 degree line starts at the top of the holding hand's side face; or 0.

        It falls forward to the foot of the front edge, parallel to the blade: as far as the wood is thick.
        """
        return self.thickness_mm if "guide" in self.parts else 0.0

    # --- what it must leave

    @property
    def narrowest_mm(self) -> float:
        """The narrowest strip of wood at the front edge, between cuts and sides."""
        kerf = self.blade.kerf_mm
        cuts = [(x - kerf / 2, x + kerf / 2) for x in self.kerf_xs]
        if self.groove:
            cuts.append((self.groove_x - kerf / 2, self.groove_x + kerf / 2))
        if self.has_vee:
            cuts.append((self.finger_mm, self.width_mm - self.finger_mm))
        edges = [0.0, *(edge for cut in sorted(cuts) for edge in cut), self.width_mm]
        return min(far - near for near, far in zip(edges[::2], edges[1::2], strict=True))

    def _fingers_hold(self) -> None:
        split = "kerfs" in self.parts or "groove" in self.parts
        finger = 2 * LEAST_WOOD_MM + self.blade.kerf_mm if split else LEAST_WOOD_MM
        needs = 2 * finger + (VEE_MOUTH_MM if self.has_vee else 0.0)
        if self.width_mm < needs - 1e-9:
            less = " or leave out kerfs and groove" if split and self.has_vee else ""
            raise OutOfRange(
                f"{self.width_mm:g} mm of width leaves fingers narrower than {LEAST_WOOD_MM:g} mm",
                f"make the pin {_up(needs)} mm wide or more{less}",
            )

    def _groove_holds(self) -> None:
        groove = self.groove
        if groove is None:
            return
        left = self.thickness_mm - groove.depth_mm
        lip = (self.finger_mm - groove.width_mm) / 2
        thin, narrow = left < LEAST_WOOD_MM - 1e-9, lip < LEAST_LIP_MM - 1e-9
        if not (thin or narrow):
            return
        sizes = [f"{_up(groove.depth_mm + LEAST_WOOD_MM)} mm thick"] if thin else []
        sizes += [f"{_up(self.width_mm + 4 * (LEAST_LIP_MM - lip))} mm wide"] if narrow else []
        coil = min(
            (self.thickness_mm - LEAST_WOOD_MM) / GROOVE_DEPTH_SHARE,
            (self.finger_mm - 2 * LEAST_LIP_MM) / (2 * GROOVE_DEPTH_SHARE),
        )
        down = math.floor(coil * 10 + 1e-6) / 10
        smaller = f", or a coil up to {down:g} mm" if coil >= LEAST_COIL_MM else ""
        problem = (
            f"a groove {groove.width_mm:.1f} mm wide leaves {lip:.1f} mm beside it on a finger of {self.finger_mm:.1f}"
            f" mm; {LEAST_LIP_MM:g} mm must stay"
        )
        if thin:
            deep, wood = f"a groove {groove.depth_mm:.1f} mm deep", f"{self.thickness_mm:g} mm of wood"
            problem = f"{deep} leaves {left:.1f} mm of {wood}" if left > 0 else f"{deep} goes right through {wood}"
            problem += f"; {LEAST_WOOD_MM:g} mm must stay"
        raise OutOfRange(problem, f"take wood {' and '.join(sizes)} or more{smaller}")

    def _clamp_holds(self) -> None:
        reaches = [SLIT_LENGTH_MM if self.groove else 0.0]
        reaches += [KERF_LENGTH_MM] if self.kerf_xs else []
        reaches += [VEE_DEPTH_MM + (HOLE_MM / 2 if self.has_hole else 0.0)] if self.has_vee else []
        needs = max(reaches) + LEAST_WOOD_MM + CLAMP_MM
        if self.length_mm < needs - 1e-9:
            raise OutOfRange(
                f"{self.length_mm:g} mm of length does not leave {CLAMP_MM:g} mm whole for the clamp",
                f"make the pin {_up(needs)} mm long or more",
            )


def _up(mm: float) -> str:
    """A bound in words, rounded up to 0.1 mm."""
    return f"{math.ceil(mm * 10 - 1e-6) / 10:g}"
