"""A stand for the mandrels of one's bench, printed as a solid: each has its hole, its name and its size in front."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, partial
from typing import TYPE_CHECKING

from jigs.guides.catalogue import Asked, AskedKind, Sheet
from jigs.guides.jobs import SolidJob
from jigs.guides.pieces.solid_leaf import CAUTIONS, ENGRAVED_MM, LETTERS_MM, in_the_hand, leaf_drawings
from layouts.drawing import lettering
from layouts.drawing.marks import Drawing
from layouts.drawing.table import Table, TableColumn
from layouts.errors import Give, OutOfRange, QuantityRefused, shown
from layouts.lengths import bare, sized, sized_short, unit_said
from layouts.pages.page import Content, Field
from layouts.units import positive

if TYPE_CHECKING:
    from layouts.machines.machine import Machine
    from layouts.solids.body import Body, Solid

PLAY_MM = 0.6  # a hole is wider than its mandrel: holes that come out small take it too
FLOOR_MM, LEDGE_MM, HIGH_MM = 3.0, 6.0, 26.0  # under the holes, of the front with the words, of the back
MOUTH_MM = 0.8  # the mouth is wider by so much, at 45 degrees
BETWEEN_MM = 4.0  # of plastic between holes
EDGE_MM, INSET_MM, CORNER_MM = 4.0, 2.0, 3.0  # around all of them; the back stands in from the foot by so much
LEAST_MM, MOST_MM = 1.0, 40.0
WIDEST_MM, DEEPEST_MM = 180.0, 200.0  # of one stand, and of all that lie on the bed
MOST_NAME_MM = 60.0
APART_MM = 6.0
_CAPITALS_MM = lettering.CAP_HEIGHT * LETTERS_MM
_LINE_MM = _CAPITALS_MM + 2.2

Named = tuple[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Mandrels that stand side by side, by name and diameter [mm]: one body. Frame: from its left front corner."""

    mandrels: tuple[Named, ...]
    machine: Machine | None = None

    @property
    def words_mm(self) -> float:
        """How long the longest of the words is, which run from front to back."""
        return max(max(_wide_mm(name), _wide_mm(bare(size, 2))) for name, size in self.mandrels)

    @property
    def width_mm(self) -> float:
        """From the left to the right."""
        return sum(_cell_mm(size) for _, size in self.mandrels) + 2 * EDGE_MM

    @property
    def back_mm(self) -> tuple[float, float]:
        """From where to where the part with the holes goes, front to back."""
        front = EDGE_MM + self.words_mm + EDGE_MM
        widest = max(size for _, size in self.mandrels) + PLAY_MM
        return front, front + widest + 2 * (MOUTH_MM + EDGE_MM)

    @property
    def depth_mm(self) -> float:
        """Of the foot, front to back."""
        return self.back_mm[1] + INSET_MM

    @property
    def places(self) -> tuple[tuple[Named, tuple[float, float]], ...]:
        """Each mandrel, and the middle of its hole."""
        found, x = [], EDGE_MM
        middle = sum(self.back_mm) / 2
        for mandrel in self.mandrels:
            x += _cell_mm(mandrel[1]) / 2
            found.append((mandrel, (x, middle)))
            x += _cell_mm(mandrel[1]) / 2
        return tuple(found)

    def body(self, name: str, y: float) -> Body:
        """The body, its front at y."""
        from layouts.solids import outlines
        from layouts.solids.layers import chamfered, stacked, upright
        from layouts.solids.outlines import Polygon

        foot = outlines.rounded(0.0, y, self.width_mm, y + self.depth_mm, CORNER_MM)
        front, rear = (y + at for at in self.back_mm)
        back = outlines.rounded(INSET_MM, front, self.width_mm - INSET_MM, rear, CORNER_MM)
        holes, mouths, letters = list[Polygon](), list[Polygon](), list[Polygon]()
        for (words, size), (x, at) in self.places:
            wide = size + PLAY_MM
            drawn = self.machine.drawn_mm("hole", wide) if self.machine else wide
            holes.append(outlines.around(drawn / 2, x, y + at))
            mouths.append(outlines.grown(holes[-1], (x, y + at), MOUTH_MM))
            first = x - _LINE_MM / 2 + _CAPITALS_MM / 2
            letters += outlines.words_along(words, first, y + EDGE_MM, LETTERS_MM)
            letters += outlines.words_along(bare(size, 2), first + _LINE_MM, y + EDGE_MM, LETTERS_MM)
        return stacked(
            name,
            (
                upright(0.0, FLOOR_MM, foot),
                upright(FLOOR_MM, LEDGE_MM - ENGRAVED_MM, foot, holes),
                upright(LEDGE_MM - ENGRAVED_MM, LEDGE_MM, foot, [*holes, *letters]),
                upright(LEDGE_MM, HIGH_MM - MOUTH_MM, back, holes),
                chamfered(back, back, list(zip(holes, mouths, strict=True)), HIGH_MM - MOUTH_MM, HIGH_MM),
            ),
        )


def _wide_mm(words: str) -> float:
    return lettering.width_mm(words, LETTERS_MM, bold=True)


def _cell_mm(size_mm: float) -> float:
    """How wide a hole is with the plastic beside it, or its two lines of words where they are wider."""
    return max(size_mm + PLAY_MM + 2 * MOUTH_MM, 2 * _LINE_MM) + BETWEEN_MM


def rows_of(mandrels: Sequence[Named], machine: Machine | None = None) -> tuple[Row, ...]:
    """The mandrels from the thinnest to the thickest, in rows as wide as a bed is.

    Refuses (`OutOfRange`) a mandrel too thin or too thick for a hole, a name too long to be engraved, the same one
    twice, and more than lie on a bed; `QuantityRefused` none at all.
    """
    if not mandrels:
        raise QuantityRefused(
            "no mandrel is given, and none is kept at the bench", remedies=(Give(field="mandrel", example="6.02 mm"),)
        )
    rows: list[list[Named]] = [[]]
    for name, size in sorted(mandrels, key=lambda mandrel: (mandrel[1], mandrel[0])):
        if not LEAST_MM <= positive(size, "a mandrel") <= MOST_MM:
            what = f"{shown(name)}, {sized_short(size)}," if name else sized_short(size)
            said = f"a mandrel of {what} in a stand"
            raise OutOfRange(said, f"name the others: those of {sized_short(LEAST_MM)} to {sized_short(MOST_MM)}")
        lettering.check(name)
        if _wide_mm(name) > MOST_NAME_MM:
            remedy = f'give it a shorter one here, such as "rod 7 = {sized_short(size)}"'
            raise OutOfRange(f"the name {shown(name)} is too long to be engraved", remedy)
        if rows[-1] and sum(_cell_mm(each) for _, each in (*rows[-1], (name, size))) > WIDEST_MM - 2 * EDGE_MM:
            rows.append([])
        rows[-1].append((name, size))
    if len(set(mandrels)) < len(mandrels):
        raise OutOfRange("a mandrel that comes twice", "name each once")
    found = tuple(Row(mandrels=tuple(row), machine=machine) for row in rows)
    if sum(row.depth_mm + APART_MM for row in found) - APART_MM > DEEPEST_MM:
        raise OutOfRange(f"a stand for {len(mandrels)} mandrels", "name fewer of them, and make a second stand")
    return found


def stand_solid(rows: Sequence[Row]) -> Solid:
    """A stand for each row, one behind the other on the bed."""
    from layouts.solids import need_mesh_library

    need_mesh_library()
    from layouts.solids.body import Solid

    bodies, y = [], 0.0
    for number, row in enumerate(rows, 1):
        bodies.append(row.body("stand" if len(rows) == 1 else f"stand {number}", y))
        y += row.depth_mm + APART_MM
    count = sum(len(row.mandrels) for row in rows)
    return Solid(title=f"Stand for {count} mandrel{'s' if count > 1 else ''}", bodies=tuple(bodies))


USE = (
    "Each mandrel stands in its own hole; its name and its size are in front of it.",
    "A mandrel that sticks: turn its drill, or sandpaper on a thinner rod, in the hole by hand.",
    "A tall rod tips it: screw the stand down through its foot, or set it against a wall.",
)


def _sizes(rows: Sequence[Row], width_mm: float) -> Table:
    named = [(name or "no name", bare(size, 2), bare(size + PLAY_MM, 2)) for row in rows for name, size in row.mandrels]
    unit = unit_said()
    columns = (
        TableColumn("mandrel", 1.5, bold=True),
        TableColumn(f"size, {unit}", 1, right=True),
        TableColumn(f"hole, {unit}", 1, right=True),
    )
    return Table(columns=columns, rows=tuple(named), width_mm=width_mm, heading="Mandrels")


def _leaf(rows: Sequence[Row], solid: Callable[[], Solid]) -> Content:
    def draw(field: Field) -> Sequence[Drawing]:
        return leaf_drawings(field, solid, partial(_sizes, rows), USE)

    sizes = [size for row in rows for _, size in row.mandrels]
    across = max(row.width_mm for row in rows), max(row.depth_mm for row in rows), HIGH_MM
    return Content(
        title="Stand for mandrels",
        facts=(
            ("mandrels", str(len(sizes))),
            ("sizes", f"{bare(min(sizes), 2)} to {sized(max(sizes), 2)}"),
            ("each stand at most" if len(rows) > 1 else "stand", in_the_hand(across)),
        ),
        draw=draw,
        notes=(f"Holes are {sized(PLAY_MM)} wider than the mandrels: it keeps them and measures nothing.",),
        cautions=CAUTIONS,
    )


def _solid(machine: Machine | None, mandrel: tuple[Named, ...]) -> SolidJob:
    rows = rows_of(mandrel, machine)
    solid = cache(partial(stand_solid, rows))
    return SolidJob(solid=solid, leaf=_leaf(rows, solid))


SHEET = Sheet(
    name="mandrel-stand",
    summary="A stand for your mandrels, with their names and sizes.",
    about=(
        "A stand for the mandrels that you keep at your bench: each has a hole, and in front of it its name and its"
        " measured size.",
        'Without names it takes all of them. One that is not kept there is given by its size, or as "pen = 8.1 mm".',
    ),
    fields=(
        Asked(
            key="mandrel",
            kind=AskedKind.MANDREL,
            help="Its name at your bench, its size, or both.",
            otherwise="all of your bench",
            repeatable=True,
        ),
    ),
    solid=_solid,
    solid_examples=(
        {"mandrel": ("rod 5 = 5.02 mm", "rod 6 = 6.01 mm", "pen = 8.1 mm"), "format": "3mf,pdf"},
        {"mandrel": ("3 mm", "1/4 in")},
    ),
    place=60,
    use="keep your mandrels in it",
)
