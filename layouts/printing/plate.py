"""The plate of the printer check: its long base lines, and the markers that a scan finds, on every field. All mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

from layouts.errors import DoesNotFit, OutOfRange
from layouts.pages.page import Field
from layouts.scanning import bank_card
from layouts.units import positive

MARKER_MM, MARKER_HOLE_MM = 6.0, 2.0

_SIDE = 10.0  # least space between a base and the sides of the field: a marker, and air
_BEDS_MM = (216.0, 297.0)  # short sides of the glass of A4 and A3 scanners; common practice, no source
_INNER = 0.57  # of the shorter over the longer side: how far from an end of its side the third marker stands
_LIES_OFF_MM = 20.0  # of a bed: markers stay so far in all from its sides, for a sheet that lies turned and shifted


@dataclass(frozen=True, slots=True, kw_only=True)
class Base:
    """The long base lines: two sides of a rectangle and its diagonals, all true to 0.01 mm, and the space around."""

    across_mm: float
    along_mm: float
    diagonal_mm: float
    margin_mm: float  # above and below, to the edge of the plate

    def __post_init__(self) -> None:
        for size in (self.across_mm, self.along_mm, self.diagonal_mm, self.margin_mm):
            positive(size, "a base line")
        if abs(math.hypot(self.across_mm, self.along_mm) - self.diagonal_mm) > 1e-9:
            raise OutOfRange(
                f"a diagonal of {self.diagonal_mm:g} mm on {self.across_mm:g} x {self.along_mm:g} mm",
                "give sides whose squares add up to its square",
            )

    @property
    def plate_mm(self) -> float:
        """Height of the plate: the base and the margins above and below."""
        return self.along_mm + 2 * self.margin_mm

    @property
    def lines(self) -> tuple[tuple[str, str, float], ...]:
        """Each base line: its corners, its way, its length in mm."""
        return (
            ("A–B", "across", self.across_mm),
            ("A–D", "along", self.along_mm),
            ("A–C", "diagonal", self.diagonal_mm),
            ("B–D", "diagonal", self.diagonal_mm),
        )


def _base(across: float, along: float, diagonal: float, margin: float) -> Base:
    return Base(across_mm=across, along_mm=along, diagonal_mm=diagonal, margin_mm=margin)


# Whole-number right triangles, the longest diagonal first.
_BASES = (
    _base(360, 192, 408, 17),
    _base(240, 320, 400, 14.5),
    _base(300, 125, 325, 10),
    _base(154, 247.5, 291.5, 18),
    _base(225, 120, 255, 9.5),
    _base(150, 200, 250, 13),
    _base(144, 192, 240, 8.5),
    _base(151.2, 63, 163.8, 7.25),
    _base(84, 112, 140, 10),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Marker:
    """A filled disc for a scan to find: its centre, its diameter, and that of its white middle (0: none), mm."""

    x_mm: float
    y_mm: float
    diameter_mm: float = MARKER_MM
    hole_mm: float = 0.0

    def __post_init__(self) -> None:
        positive(self.diameter_mm, "a marker's diameter")
        if not (math.isfinite(self.x_mm + self.y_mm) and 0 <= self.hole_mm < self.diameter_mm):
            raise OutOfRange("a marker whose white middle is not the smaller", "give the diameter of the ink first")


def base_for(field: Field) -> Base:
    """The base with the longest diagonal that fits the field. Refuses (`DoesNotFit`) a field too small for any."""
    for base in _BASES:
        if base.across_mm + 2 * _SIDE <= field.width_mm and base.plate_mm <= field.height_mm:
            return base
    least = _BASES[-1]
    needs = least.across_mm + 2 * _SIDE, least.plate_mm
    raise DoesNotFit("the printer check", needs, (field.width_mm, field.height_mm), "try a5 or a larger paper")


def markers(field: Field) -> tuple[Marker, ...]:
    """The eight markers of the plate in a field, in mm from the field's lower left corner.

    Four on each of the plate's longer sides, counter-clockwise from the lower left; the first is a ring. They are
    spread no further than a scanner's glass is wide, so that the sheet can also be scanned turned by a quarter. On an
    upright sheet they leave room for a rule of 30 mm that lies on the dashes from side to side. The ring tells which
    way up a scan is, and, as they are not alike on all sides, whether it is mirrored.
    """
    base, low, width = base_for(field), MARKER_MM / 2, field.width_mm
    height = base.plate_mm
    bed = next((bed for bed in _BEDS_MM if min(width, height) <= bed - _LIES_OFF_MM), _BEDS_MM[-1])
    longer = max(width, height)
    first = max(low, (longer - bed + _LIES_OFF_MM) / 2)
    third = _INNER * min(width, height) / longer  # another for each paper, so that no sheet is taken for another
    if base.across_mm < bank_card.WIDTH_MM:
        shares = (0.0, 1 - third, 1 - third / 2, 1.0)
    else:
        shares = (0.0, third / 2, third, 1.0) if height >= width else (0.0, 1 / 3, 1 / 3 + third, 1.0)
    steps = [first + (longer - 2 * first) * share for share in shares]
    if height >= width:
        ring, places = (low, first), [(width - low, y) for y in steps] + [(low, y) for y in reversed(steps[1:])]
    else:
        ring, places = (first, low), [(x, low) for x in steps[1:]] + [(x, height - low) for x in reversed(steps)]
    return Marker(x_mm=ring[0], y_mm=ring[1], hole_mm=MARKER_HOLE_MM), *(Marker(x_mm=x, y_mm=y) for x, y in places)
