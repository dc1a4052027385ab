"""A block of two halves that guides a drill through the middle of a dowel, printed as a solid."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache, partial
from typing import TYPE_CHECKING

from jigs.guides.catalogue import Asked, AskedKind, Sheet
from jigs.guides.jobs import SolidJob
from jigs.guides.pieces.solid_leaf import CAUTIONS, ENGRAVED_MM, LETTERS_MM, in_the_hand, leaf_drawings
from jigs.making.drill_block import MOUTH_MM, POST_MM, POST_PLAY_MM, STOP_MM, DrillBlock
from jigs.making.drilled_dowel import DRILL_SERIES, Dowel, DrilledDowel
from layouts.drawing import lettering
from layouts.drawing.marks import Drawing
from layouts.drawing.table import Table, TableColumn
from layouts.lengths import bare_short, named, sized
from layouts.pages.page import Content, Field

if TYPE_CHECKING:
    from jigs.stock.wire import Wire
    from layouts.machines.machine import Machine
    from layouts.solids.body import Solid
    from layouts.solids.outlines import Polygon
    from layouts.solids.shape import Shape

APART_MM = 8.0  # between base and cap on the bed
WORDS_FROM_MM = 7.0  # words begin so far behind the stop: a picture shows all of them
_CAPITALS_MM = lettering.CAP_HEIGHT * LETTERS_MM
_PAST_MM, _TURN_DEG = 0.2, 0.37


def drill_block_solid(block: DrillBlock, machine: Machine | None) -> Solid:
    """Base and cap, both with their vee up; what is to come out true is corrected for a machine, if there is one."""
    from layouts.solids import need_mesh_library

    need_mesh_library()
    from layouts.solids.body import Solid

    def drawn_mm(size_mm: float) -> float:
        return machine.drawn_mm("hole", size_mm) if machine else size_mm

    half, dowel = block.half_width_mm, sized(block.drilled.dowel.mean_mm, 2)
    base = _base(block, drawn_mm(block.pin_hole_mm)).moved(x=half)
    cap = _cap(block, drawn_mm(block.guide_hole_mm)).moved(x=3 * half + APART_MM, y=STOP_MM)
    return Solid(title=f"Drill block for a dowel of {dowel}", bodies=(base.body("base"), cap.body("cap")))


def _base(block: DrillBlock, pin_hole_mm: float) -> Shape:
    """The base, its stop at the front; the axis of the dowel is over x = 0, and y runs from the outside of the stop."""
    from layouts.solids.outlines import around, rectangle
    from layouts.solids.shape import PAST_MM, along_y, engraved, prism

    half, high, long = block.half_width_mm, block.base_mm, STOP_MM + block.long_mm
    body = along_y(_section(block, high), 0.0, long)
    body += prism(rectangle(-half, 0.0, half, STOP_MM), 0.0, high + block.stop_rise_mm)
    for x in (-block.post_x_mm, block.post_x_mm):
        body += prism(_post(x, STOP_MM + block.post_y_mm, 0.0), high / 2, high + block.post_rise_mm)
    body -= prism(around(pin_hole_mm / 2, 0.0, STOP_MM + block.guide_y_mm), -PAST_MM, high + PAST_MM)
    left = f"DOWEL {bare_short(block.drilled.dowel.mean_mm, 2, 1)}"
    right = f"END {bare_short(block.guide_y_mm, 1, 1)}"
    return body - engraved(_lands(block, left, right, STOP_MM), high, ENGRAVED_MM)


def _cap(block: DrillBlock, guide_hole_mm: float) -> Shape:
    """The cap as it is printed, its vee up; its front, which goes against the stop, is at y = 0."""
    from layouts.solids.outlines import around, within
    from layouts.solids.shape import PAST_MM, along_y, cone, engraved, prism

    high, y, r = block.cap_mm, block.guide_y_mm, guide_hole_mm / 2
    body = along_y(_section(block, high), 0.0, block.long_mm)
    for x in (-block.post_x_mm, block.post_x_mm):
        body -= prism(_post(x, block.post_y_mm, POST_PLAY_MM), high - block.pocket_mm, high + PAST_MM)
    body -= prism(around(r, 0.0, y), -PAST_MM, high + PAST_MM)
    # Past the hole's wall at both ends, and turned a little: no corner of the cone lies on a corner of the hole.
    past = min(_PAST_MM, r / 2)
    mouth = cone(within(r + MOUTH_MM + _PAST_MM), -_PAST_MM, MOUTH_MM + past, -MOUTH_MM - _PAST_MM - past)
    body -= mouth.turned(about_z_deg=_TURN_DEG).moved(y=y)
    drill = f"DRILL {bare_short(block.drill.diameter_mm, 2, 1)}"
    guide = f"TUBE {bare_short(block.tube_mm, 2, 1)}" if block.tube_mm else "STOP"
    return body - engraved(_lands(block, guide, drill, 0.0), high, ENGRAVED_MM)


def _section(block: DrillBlock, high: float) -> Polygon:
    """Across and up: a block with a vee in its upper face."""
    half, vee = block.half_width_mm, block.vee_half_mm
    return (-half, 0.0), (half, 0.0), (half, high), (vee, high), (0.0, high - block.vee_mm), (-vee, high), (-half, high)


def _post(x: float, y: float, play: float) -> Polygon:
    from layouts.solids.outlines import rectangle

    across, along = POST_MM[0] / 2 + play, POST_MM[1] / 2 + play
    return rectangle(x - across, y - along, x + across, y + along)


def _lands(block: DrillBlock, left: str, right: str, front_mm: float) -> tuple[Polygon, ...]:
    """Words along both sides of the vee, read from the right, from a front on."""
    from layouts.solids import outlines

    middle, front = (block.vee_half_mm + block.half_width_mm) / 2, front_mm + WORDS_FROM_MM
    return (
        *outlines.words_along(left, _CAPITALS_MM / 2 - middle, front, LETTERS_MM),
        *outlines.words_along(right, _CAPITALS_MM / 2 + middle, front, LETTERS_MM),
    )


# --- the leaf


def _use(block: DrillBlock) -> tuple[str, ...]:
    drill = named(block.drill.name, block.drill.diameter_mm)
    if block.tube_mm is None:
        first = (
            f"Open the guide once with the {drill} drill, turned by hand or slowly. Plastic wears: try the guide on "
            "scrap now and then, and print a new cap when the drill has play in it."
        )
    else:
        first = (
            f"Press a metal tube of {sized(block.tube_mm, 2)} outside, {sized(block.guide_mm, 1)} long, into the "
            "guide, with a drop of glue; where it is tight, open the hole with a drill of that size first. "
            f"The {drill} drill must run in the tube freely."
        )
    pin = block.base_mm + block.gap_mm - 1.0
    return (
        first,
        f"Mark the drill with tape {sized(block.reach_mm, 1)} from its point: the middle of the dowel.",
        "Lay the dowel in the vee with its end on the stop. Put the cap on, and push it to the stop too.",
        "Clamp cap, dowel and base to the bench with one clamp, behind the guide. Never hold them by hand.",
        "Drill to the tape, and lift the drill often so that chips come out.",
        f"Turn the dowel over by half a turn. A pin as thick as the drill, {sized(pin, 0)} long, pushed up through the "
        "base, enters the hole that you drilled, which lies just opposite. Clamp it, and drill until the holes meet.",
    )


def _sizes(block: DrillBlock, width_mm: float) -> Table:
    dowel = block.drilled.dowel
    rows = (
        ("dowel", sized(dowel.mean_mm, 2)),
        ("takes dowels from", sized(block.thinnest_mm, 1)),
        ("hole from the dowel's end", sized(block.guide_y_mm, 1)),
        ("drill", f"{named(block.drill.name, block.drill.diameter_mm)}, flute {sized(block.flute, 1)} or more"),
        ("guide", f"{sized(block.guide_mm, 1)} long, drawn {sized(block.guide_hole_mm, 2)} wide"),
        ("from its top to the dowel's middle", sized(block.reach_mm, 1)),
    )
    columns = TableColumn("", 1.2), TableColumn("", 1, bold=True)
    return Table(columns=columns, rows=rows, width_mm=width_mm, heading="Sizes")


def _leaf(block: DrillBlock, solid: Callable[[], Solid]) -> Content:
    def draw(field: Field) -> Sequence[Drawing]:
        return leaf_drawings(field, solid, partial(_sizes, block), _use(block))

    closed = block.base_mm + 2 * block.gap_mm + block.cap_mm
    size = in_the_hand((2 * block.half_width_mm, STOP_MM + block.long_mm, closed))
    return Content(
        title="Drill block",
        facts=(
            ("dowel", sized(block.drilled.dowel.mean_mm, 2)),
            ("wire", block.drilled.wire.in_words),
            ("drill", named(block.drill.name, block.drill.diameter_mm)),
            ("closed", size),
        ),
        draw=draw,
        notes=("It guides the drill and measures nothing: drill one dowel, and look where the hole comes out.",),
        cautions=(
            "clamp it before you drill; a drill that catches turns what it holds. Protect your eyes (EN 166, "
            "ANSI Z87.1); no gloves, loose sleeves or hair near the drill (EN 510).",
            *CAUTIONS,
        ),
    )


def _solid(
    machine: Machine | None,
    diameter: float,
    second_diameter: float | None,
    wire: Wire,
    from_end: float,
    drills: str,
    flute: float | None,
    tube: float | None,
) -> SolidJob:
    dowel = Dowel(diameter_mm=diameter, second_diameter_mm=second_diameter)
    drilled = DrilledDowel(dowel=dowel, wire=wire, series=drills, from_end_mm=from_end)
    block = DrillBlock(drilled=drilled, tube_mm=tube, flute_mm=flute)
    solid = cache(partial(drill_block_solid, block, machine))
    return SolidJob(solid=solid, leaf=_leaf(block, solid), warnings=drilled.warnings)


SHEET = Sheet(
    name="drill-block",
    summary="A block that guides the drill through the middle of a dowel.",
    about=(
        "A base and a cap, each with a vee: the dowel lies between them, its end on a stop, and the cap guides the "
        "drill through its middle, as far from the end as you say. One clamp holds all of it.",
        "The guide is opened with the drill itself, which wears it, or takes a metal tube. Measure the dowel; it may "
        "be a little thinner than that, or thicker.",
    ),
    fields=(
        Asked(
            key="diameter",
            kind=AskedKind.ROD,
            help="Measured diameter of the dowel, or its name at your bench.",
            needed=True,
            example="8 mm",
        ),
        Asked(key="second_diameter", kind=AskedKind.LENGTH, help="Measured again at right angles; the mean is used."),
        Asked(
            key="wire",
            kind=AskedKind.WIRE,
            help='The wire whose tail the hole takes, such as "16 AWG".',
            needed=True,
            example="16 AWG",
        ),
        Asked(
            key="from_end",
            kind=AskedKind.LENGTH,
            help="From the dowel's end to the middle of the hole.",
            default="10 mm",
        ),
        Asked(
            key="drills",
            kind=AskedKind.CHOICE,
            help="The set that the drill is chosen from.",
            default="metric",
            choices=DRILL_SERIES,
        ),
        Asked(key="flute", kind=AskedKind.LENGTH, help="Of your drill.", otherwise="that of a jobber drill"),
        Asked(
            key="tube",
            kind=AskedKind.LENGTH,
            help="Outside of a metal tube for the guide.",
            otherwise="a hole that the drill opens",
        ),
    ),
    solid=_solid,
    solid_examples=(
        {"diameter": "7.9 mm", "second_diameter": "8.0 mm", "wire": "16 AWG", "format": "3mf,pdf"},
        {"diameter": "6 mm", "wire": "1 mm", "tube": "3 mm", "from_end": "12 mm"},
    ),
    place=32,
    use="clamp the dowel in it, and drill through its middle",
)
