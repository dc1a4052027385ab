"""A block with a groove that holds a coil under the saw, printed as a solid and clamped on the bench pin."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, partial
from typing import TYPE_CHECKING

from jigs.guides.catalogue import Asked, AskedKind, Sheet
from jigs.guides.jobs import SolidJob
from jigs.guides.pieces.solid_leaf import CAUTIONS, ENGRAVED_MM, LETTERS_MM, in_the_hand, leaf_drawings
from jigs.making.pin import SLIT_LENGTH_MM, Groove
from layouts.drawing import lettering
from layouts.drawing.marks import Drawing
from layouts.drawing.table import Table, TableColumn
from layouts.errors import OutOfRange
from layouts.lengths import bare_short, sized, sized_short
from layouts.pages.page import Content, Field
from layouts.units import positive

if TYPE_CHECKING:
    from jigs.stock.blade import Blade
    from layouts.machines.machine import Machine
    from layouts.solids.body import Solid

FLOOR_MM = 5.0  # under the groove
LEAST_RIDGE_MM = 9.0  # high: the coil lies above the jaws of the clamp's foot
LAND_MM = 4.0  # of the ridge beside the groove
FLANGE_MM, WING_MM = 6.0, 24.0  # thick, and wide on either side: a clamp's foot stands on it
SHORTEST_MM, USUAL_MM, LONGEST_MM = 50.0, 60.0, 150.0
MOST_COIL_MM = 30.0
SLIT_PLAY_MM, LEAST_SLIT_MM = 0.4, 0.8  # a narrower slit closes up as it is printed
EDGE_MM = 16.0  # from the front to the line that goes on the pin's front edge: the slit is free of the wood
LINE_MM = 0.8
_CAPITALS_MM = lettering.CAP_HEIGHT * LETTERS_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class CoilGroove:
    """A block for a coil of that outside [mm], sawn with that blade. Frame: x from the middle, y from the front.

    Refuses (`OutOfRange`) a coil too thin or too thick for it, and a block too short for a clamp or too long for a bed.
    """

    coil_outside_mm: float
    blade: Blade
    length_mm: float = USUAL_MM
    machine: Machine | None = None

    def __post_init__(self) -> None:
        if self.groove.coil_outside_mm > MOST_COIL_MM:
            said = f"a printed groove for a coil of {sized(self.coil_outside_mm, 2)}"
            raise OutOfRange(said, f"give a coil of at most {sized_short(MOST_COIL_MM)}")
        if not SHORTEST_MM <= positive(self.length_mm, "the length of a block") <= LONGEST_MM:
            said = f"a block {sized_short(self.length_mm)} long"
            raise OutOfRange(said, f"give {sized_short(SHORTEST_MM)} to {sized_short(LONGEST_MM)}")

    @property
    def groove(self) -> Groove:
        """The groove in section, a right angle."""
        return Groove(coil_outside_mm=self.coil_outside_mm)

    @property
    def ridge_mm(self) -> float:
        """How high the ridge with the groove is."""
        return max(LEAST_RIDGE_MM, FLOOR_MM + self.groove.depth_mm)

    @property
    def ridge_half_mm(self) -> float:
        """Half of how wide it is."""
        return self.groove.depth_mm + LAND_MM

    @property
    def half_mm(self) -> float:
        """Half of how wide all of it is."""
        return self.ridge_half_mm + WING_MM

    @property
    def slit_mm(self) -> float:
        """How wide the slit is to be, in which the blade runs."""
        return max(LEAST_SLIT_MM, self.blade.thickness_mm + SLIT_PLAY_MM)

    def solid(self) -> Solid:
        """The block as it lies on the bed, its groove up."""
        from layouts.solids import need_mesh_library

        need_mesh_library()
        from layouts.solids.body import Solid
        from layouts.solids.outlines import rectangle, words_along
        from layouts.solids.shape import PAST_MM, along_y, engraved, prism

        deep, high, ridge, half = self.groove.depth_mm, self.ridge_mm, self.ridge_half_mm, self.half_mm
        right = (half, 0.0), (half, FLANGE_MM), (ridge, FLANGE_MM), (ridge, high), (deep, high)
        left = tuple((-x, z) for x, z in reversed(right))
        body = along_y((*right, (0.0, high - deep), *left), 0.0, self.length_mm)
        slit = (self.machine.drawn_mm("slot", self.slit_mm) if self.machine else self.slit_mm) / 2
        body -= prism(rectangle(-slit, -PAST_MM, slit, SLIT_LENGTH_MM), -PAST_MM, high + PAST_MM)
        lines = [
            rectangle(min(a, b), EDGE_MM - LINE_MM / 2, max(a, b), EDGE_MM + LINE_MM / 2)
            for a, b in ((half + PAST_MM, ridge + 1.0), (-ridge - 1.0, -half - PAST_MM))
        ]
        middle, front = ridge + WING_MM / 2, EDGE_MM + 4.0
        coil = words_along(self.words[0], _CAPITALS_MM / 2 - middle, front, LETTERS_MM)
        edge = words_along(self.words[1], _CAPITALS_MM / 2 + middle, front, LETTERS_MM)
        body -= engraved((*lines, *coil, *edge), FLANGE_MM, ENGRAVED_MM)
        title = f"Groove for a coil of {sized(self.coil_outside_mm, 2)}"
        return Solid(title=title, bodies=(body.moved(x=half).body("coil groove"),))

    @property
    def words(self) -> tuple[str, str]:
        """What is engraved on the two wings."""
        return f"COIL {bare_short(self.coil_outside_mm, 2, 1)}", "PIN EDGE"


def _use(block: CoilGroove) -> tuple[str, ...]:
    return (
        "Lay it on the bench pin with the two engraved lines on the pin's front edge, so that the slit is free, or put "
        "the slit over the vee.",
        "Clamp both wings to the pin. Hold the coil with your fingers, never the block.",
        "Lay the coil in the groove with its open end over the slit, a few rings in front of the blade.",
        f"Saw with blade {block.blade.name}: along the groove, the blade at about 45° to the coil, until it runs in "
        "the slit. Push the coil on as the rings fall.",
        "The saw widens the slit in time. When the blade wanders in it, print another.",
    )


def _sizes(block: CoilGroove, width_mm: float) -> Table:
    rows = (
        ("coil outside", sized(block.coil_outside_mm, 2)),
        ("groove", f"90°, {sized(block.groove.depth_mm, 2)} deep"),
        ("coil stands proud by", sized(block.groove.proud_mm, 2)),
        ("slit", f"{sized(block.slit_mm, 2)} wide, {sized(SLIT_LENGTH_MM)} long"),
        ("blade", f"{block.blade.name}, {sized(block.blade.thickness_mm, 2)} thick"),
    )
    columns = TableColumn("", 1), TableColumn("", 1, bold=True)
    return Table(columns=columns, rows=rows, width_mm=width_mm, heading="Sizes")


def _leaf(block: CoilGroove, solid: Callable[[], Solid]) -> Content:
    def draw(field: Field) -> Sequence[Drawing]:
        return leaf_drawings(field, solid, partial(_sizes, block), _use(block))

    return Content(
        title="Groove for a coil",
        facts=(
            ("coil outside", sized(block.coil_outside_mm, 2)),
            ("blade", block.blade.name),
            ("block", in_the_hand((2 * block.half_mm, block.length_mm, block.ridge_mm))),
        ),
        draw=draw,
        notes=("It holds the coil and measures nothing. A thinner coil lies deeper in it, a thicker one higher.",),
        cautions=(
            "clamp it before you saw; ends of wire and broken blades fly: protect your eyes (EN 166, ANSI Z87.1).",
            *CAUTIONS,
        ),
    )


def _solid(machine: Machine | None, coil_outside: float, blade: Blade, length: float) -> SolidJob:
    block = CoilGroove(coil_outside_mm=coil_outside, blade=blade, length_mm=length, machine=machine)
    solid = cache(partial(CoilGroove.solid, block))
    return SolidJob(solid=solid, leaf=_leaf(block, solid))


SHEET = Sheet(
    name="coil-groove",
    summary="A groove to clamp on the bench pin, that holds a coil under the saw.",
    about=(
        "A block to clamp on the bench pin: a groove of 90 degrees along which the coil lies, and a slit at its end in"
        " which the blade runs. A wing on either side takes the clamp, for either hand.",
    ),
    fields=(
        Asked(key="coil_outside", kind=AskedKind.LENGTH, help="Of the coil to hold.", default="8 mm"),
        Asked(key="blade", kind=AskedKind.BLADE, help="The piercing-saw blade.", default="2"),
        Asked(key="length", kind=AskedKind.LENGTH, help="Of the block, front to back.", default="60 mm"),
    ),
    solid=_solid,
    solid_examples=(
        {"coil_outside": "7.6 mm", "format": "3mf,pdf"},
        {"coil_outside": "12 mm", "blade": "2/0", "length": "80 mm"},
    ),
    place=42,
    use="clamp it on the bench pin, and saw the coil in it",
)
