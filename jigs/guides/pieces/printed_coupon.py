"""The coupon as a solid: holes and slots to try with shanks, pins and tabs to read, crosses to measure between. mm.

Holes and slots are a vernier to shanks in steps of 0.1 mm, as on the coupon that is cut: each lies on another place of
a step. It is printed as drawn, since it shows what there is to correct.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from typing import TYPE_CHECKING

from jigs.guides.jobs import SolidJob
from jigs.guides.pieces.solid_leaf import (
    CAUTIONS,
    ENGRAVED_MM,
    FIRST_SPREADS_MM,
    LETTERS_MM,
    in_the_hand,
    leaf_drawings,
)
from layouts.drawing.marks import Drawing
from layouts.drawing.table import Table, TableColumn
from layouts.errors import LeaveOut, OutOfRange
from layouts.machines.coupon import ACROSS_MM, ALONG_MM, HOLES_MM
from layouts.pages.page import Content, Field

if TYPE_CHECKING:
    from layouts.machines.machine import Machine
    from layouts.solids.body import Solid
    from layouts.solids.outlines import Polygon

SLOTS_MM = (3.0, 4.025, 6.05)
PINS_MM = (4.0, 6.0, 10.0)
TABS_MM = (3.0, 6.0)
LONG_MM = 12.0  # a slot or a tab
WIDTH_MM, HEIGHT_MM, THICK_MM = 116.0, 74.0, 4.0
STANDS_MM = 8.0  # a pin or a tab over the plate
CORNER_MM = 3.0
LOW_MM, HIGH_MM = 24.0, 50.0  # the middles of the two rows
HOLES_AT, SLOTS_AT, PINS_AT, TABS_AT = (24.0, 40.0, 55.5, 71.0), (24.0, 40.0, 55.5), (75.0, 88.0, 102.0), (88.0, 102.0)
CROSS = (8.0, 7.0)  # the first; the others lie across and along of it
_ARM_MM, _LINE_MM = 4.0, 0.6
_SIZE_UNDER_MM, _NAME_BEFORE_MM = 11.8, 3.5  # words of a row: from its middle down, from its first to the left
_HEADING_AT = 16.0, 65.6


def coupon_solid() -> Solid:
    """The coupon as it lies on the bed."""
    from layouts.solids import need_mesh_library

    need_mesh_library()
    from layouts.solids import outlines
    from layouts.solids.body import Solid
    from layouts.solids.layers import Layer, chamfered, stacked, upright

    edge = outlines.rounded(0.0, 0.0, WIDTH_MM, HEIGHT_MM, CORNER_MM)
    inside: list[Polygon] = []
    feet: list[Polygon] = []
    for size, x in zip(HOLES_MM, HOLES_AT, strict=True):
        inside.append(outlines.around(size / 2, x, HIGH_MM))
        feet.append(outlines.grown(inside[-1], (x, HIGH_MM), FIRST_SPREADS_MM))
    for size, x in zip(SLOTS_MM, SLOTS_AT, strict=True):
        inside.append(_upright(x, LOW_MM, size, LONG_MM))
        feet.append(_upright(x, LOW_MM, size + 2 * FIRST_SPREADS_MM, LONG_MM + 2 * FIRST_SPREADS_MM))
    # a caliper reads two sides of a pin: each is half as far off
    pins = [
        outlines.within(size / 2, x, LOW_MM, within_mm=outlines.CHORD_MM / 2)
        for size, x in zip(PINS_MM, PINS_AT, strict=True)
    ]
    tabs = [_upright(x, HIGH_MM, size, LONG_MM) for size, x in zip(TABS_MM, TABS_AT, strict=True)]
    floor = THICK_MM - ENGRAVED_MM
    layers = (
        chamfered(edge, edge, list(zip(feet, inside, strict=True)), 0.0, FIRST_SPREADS_MM),
        upright(FIRST_SPREADS_MM, floor, edge, inside),
        upright(floor, THICK_MM, edge, [*inside, *_engraved()]),
        Layer(low_mm=THICK_MM, high_mm=THICK_MM + STANDS_MM, outlines=(*pins, *tabs)),
    )
    return Solid(title="Coupon for a 3D printer", bodies=(stacked("coupon", layers),))


def _upright(x: float, y: float, wide: float, long: float) -> Polygon:
    return (
        (x - wide / 2, y - long / 2),
        (x + wide / 2, y - long / 2),
        (x + wide / 2, y + long / 2),
        (x - wide / 2, y + long / 2),
    )


def _engraved() -> list[Polygon]:
    """Words and crosses."""
    from layouts.solids import outlines

    x, y = CROSS
    found = [_cross(x, y), _cross(x + ACROSS_MM, y), _cross(x, y + ALONG_MM)]
    for name, sizes, places, row in (
        ("HOLES", HOLES_MM, HOLES_AT, HIGH_MM),
        ("TABS", TABS_MM, TABS_AT, HIGH_MM),
        ("SLOTS", SLOTS_MM, SLOTS_AT, LOW_MM),
        ("PINS", PINS_MM, PINS_AT, LOW_MM),
    ):
        left = places[0] - sizes[0] / 2 - _NAME_BEFORE_MM
        found += outlines.words_along(name, left, row - outlines.words_mm(name, LETTERS_MM) / 2, LETTERS_MM)
        for size, at in zip(sizes, places, strict=True):
            found += outlines.words(f"{size:g}", at, row - _SIZE_UNDER_MM, LETTERS_MM)
    found += outlines.words(f"{ACROSS_MM:g}", x + ACROSS_MM / 2, y - 1.8, LETTERS_MM)
    found += outlines.words_along(f"{ALONG_MM:g}", x + 1.8, y + ALONG_MM / 2 - 3.0, LETTERS_MM)
    found += outlines.words("COUPON mm, AS DRAWN", *_HEADING_AT, LETTERS_MM, anchor=0.0)
    return found


def _cross(x: float, y: float) -> Polygon:
    a, b = _ARM_MM, _LINE_MM / 2
    corners = (a, -b), (a, b), (b, b), (b, a), (-b, a), (-b, b), (-a, b), (-a, -b), (-b, -b), (-b, -a), (b, -a), (b, -b)
    return tuple((x + at, y + up) for at, up in corners)


USE = (
    "Try each hole and slot with drill shanks in steps of 0.1 mm: write down the thickest that goes in without force, "
    "and the next that does not.",
    "Read pins and tabs with a caliper or a micrometer, half-way up, across and along; write down the mean. With "
    "neither, leave them: a plug is then not a gauge.",
    f"Lay a rule on the crosses: {ACROSS_MM:g} mm across, {ALONG_MM:g} mm along, middle to middle.",
    "Record the machine with what you read, once for each plastic. What you make for it is then corrected.",
)


def _to_write(width_mm: float) -> Table:
    rows = [(f"hole {size:g}", "", "") for size in HOLES_MM]
    rows += [(f"slot {size:g}", "", "") for size in SLOTS_MM]
    rows += [(f"pin {size:g}", "", "—") for size in PINS_MM]
    rows += [(f"tab {size:g}", "", "—") for size in TABS_MM]
    rows += [(f"across {ACROSS_MM:g}", "", "—"), (f"along {ALONG_MM:g}", "", "—")]
    columns = TableColumn("drawn, mm", 1, bold=True), TableColumn("goes in, or reads", 1), TableColumn("stays out", 1)
    return Table(columns=columns, rows=tuple(rows), width_mm=width_mm, heading="To write in")


def coupon_job(machine: Machine | None) -> SolidJob:
    """The coupon with its leaf. Refuses (`OutOfRange`) to be corrected for a machine."""
    if machine is not None:
        said = "a coupon that was corrected for a machine would show nothing to correct"
        raise OutOfRange(said, remedies=(LeaveOut(fields=("machine",)),))
    solid = cache(coupon_solid)
    return SolidJob(solid=solid, leaf=_leaf(solid))


def _leaf(solid: Callable[[], Solid]) -> Content:
    def draw(field: Field) -> Sequence[Drawing]:
        return leaf_drawings(field, solid, _to_write, USE)

    return Content(
        title="Coupon for a 3D printer",
        facts=(("coupon", in_the_hand((WIDTH_MM, HEIGHT_MM, THICK_MM + STANDS_MM))), ("corrected", "no, as drawn")),
        draw=draw,
        notes=(
            "Print it with the plastic, nozzle, layers and speed that you will use: it measures all of them at once.",
        ),
        cautions=CAUTIONS,
    )
