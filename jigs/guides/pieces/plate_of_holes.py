"""The plate of holes as a solid: a ring or a rod is tried in hole after hole, and its outside is judged."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, partial
from typing import TYPE_CHECKING

from jigs.guides.jobs import SolidJob
from jigs.guides.pieces.solid_leaf import (
    CAUTIONS,
    ENGRAVED_MM,
    FIRST_SPREADS_MM,
    LETTERS_MM,
    finer_than_trust,
    good_for,
    in_the_hand,
    leaf_drawings,
    made_for,
    refuse_alike,
    size_table,
    trust_note,
)
from layouts.drawing import lettering
from layouts.drawing.marks import Drawing
from layouts.errors import OutOfRange
from layouts.lengths import bare_short, sized_short, unit_said
from layouts.pages.page import Content, Field
from layouts.units import positive

if TYPE_CHECKING:
    from layouts.machines.machine import Machine
    from layouts.solids.body import Solid

THICK_MM = 4.0
BETWEEN_MM = 3.0  # of plastic between holes, and around all of them
EDGE_MM = 4.0
CORNER_MM = 3.0
LEAST_MM, MOST_MM = 1.5, 60.0  # holes that print as holes, and sizes that rings have
MOST_HOLES = 40
WIDEST_MM = 150.0  # a plate that lies in a hand; and any bed takes it
DEEPEST_MM = 200.0
_CAPITALS_MM = lettering.CAP_HEIGHT * LETTERS_MM
_HEAD_MM = _CAPITALS_MM + 3.0

Place = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class HolePlate:
    """A plate with a hole for each size [mm], the smallest first, row under row; corrected for a machine if given.

    Refuses (`OutOfRange`) holes too small or too large, the same one twice, and a plate larger than 150 x 200 mm.
    """

    sizes_mm: tuple[float, ...]
    machine: Machine | None = None

    def __post_init__(self) -> None:
        if not 1 <= len(self.sizes_mm) <= MOST_HOLES:
            raise OutOfRange(f"a plate of {len(self.sizes_mm)} holes", f"give 1 to {MOST_HOLES} sizes")
        refuse_alike(self.sizes_mm)
        for size in self.sizes_mm:
            if not LEAST_MM <= positive(size, "a hole") <= MOST_MM:
                said = f"a hole of {sized_short(size, 3)} in a plate"
                raise OutOfRange(said, f"give {sized_short(LEAST_MM)} to {sized_short(MOST_MM)}")
        if self.height_mm > DEEPEST_MM:
            raise OutOfRange(
                f"a plate of {in_the_hand((self.width_mm, self.height_mm))}",
                "give fewer sizes, or two plates",
            )

    def drawn_mm(self, size_mm: float) -> float:
        """The hole to draw so that it comes out as wanted."""
        return self.machine.drawn_mm("hole", size_mm) if self.machine else size_mm

    @property
    def heading(self) -> str:
        """What is engraved above the holes: what it judges, in which unit, and how well."""
        worst = max(self.sizes_mm)
        return f"OUTSIDE {unit_said()}  {good_for(self.machine, 'hole', worst)}"

    @property
    def rows(self) -> tuple[tuple[float, ...], ...]:
        """The sizes in rows as wide as a plate may be at most."""
        rows: list[list[float]] = [[]]
        for size in sorted(self.sizes_mm):
            longer = [*rows[-1], size]
            if rows[-1] and sum(map(_cell_mm, longer)) > WIDEST_MM - 2 * EDGE_MM:
                rows.append([])
            rows[-1].append(size)
        return tuple(map(tuple, rows))

    @property
    def width_mm(self) -> float:
        """As wide as the widest row, or as the heading where that is wider."""
        heading = lettering.width_mm(self.heading, LETTERS_MM, bold=True)
        return max(heading, *(sum(map(_cell_mm, row)) for row in self.rows)) + 2 * EDGE_MM

    @property
    def height_mm(self) -> float:
        """From front to back."""
        return _HEAD_MM + sum(map(_row_mm, self.rows)) + 2 * EDGE_MM - BETWEEN_MM

    @property
    def places(self) -> tuple[tuple[float, Place, Place], ...]:
        """Each size with the middle of its hole, and the middle of its words on their baseline; mm from the corner."""
        found, top = [], self.height_mm - EDGE_MM - _HEAD_MM
        rows, width = self.rows, self.width_mm
        for row in rows:
            spare = (width - 2 * EDGE_MM - sum(map(_cell_mm, row))) / 2 if row is rows[0] else 0.0
            x, middle = EDGE_MM + spare, top - max(row) / 2 - FIRST_SPREADS_MM
            for size in row:
                x += _cell_mm(size) / 2
                found.append((size, (x, middle), (x, top - _row_mm(row) + BETWEEN_MM)))
                x += _cell_mm(size) / 2
            top -= _row_mm(row)
        return tuple(found)

    def solid(self) -> Solid:
        """The plate as a body that lies on its face without words."""
        from layouts.solids import need_mesh_library

        need_mesh_library()
        from layouts.solids import outlines
        from layouts.solids.body import Solid
        from layouts.solids.layers import chamfered, stacked, upright
        from layouts.solids.outlines import Polygon

        width, height = self.width_mm, self.height_mm
        edge = outlines.rounded(0.0, 0.0, width, height, CORNER_MM)
        holes, feet, letters = list[Polygon](), list[Polygon](), list[Polygon]()
        for size, (x, y), (at, baseline) in self.places:
            hole = outlines.around(self.drawn_mm(size) / 2, x, y)
            holes.append(hole)
            feet.append(outlines.grown(hole, (x, y), FIRST_SPREADS_MM))
            letters += outlines.words(bare_short(size, 2, 1), at, baseline, LETTERS_MM)
        letters += outlines.words(self.heading, width / 2, height - EDGE_MM - _CAPITALS_MM, LETTERS_MM)
        floor = THICK_MM - ENGRAVED_MM
        layers = (
            chamfered(edge, edge, list(zip(feet, holes, strict=True)), 0.0, FIRST_SPREADS_MM),
            upright(FIRST_SPREADS_MM, floor, edge, holes),
            upright(floor, THICK_MM, edge, [*holes, *letters]),
        )
        low, high = min(self.sizes_mm), max(self.sizes_mm)
        title = f"Plate of {len(self.sizes_mm)} holes, {sized_short(low)} to {sized_short(high)} outside"
        return Solid(title=title, bodies=(stacked("plate of holes", layers),))


def _cell_mm(size_mm: float) -> float:
    """How wide a hole and its words are, with the plastic beside them."""
    words = lettering.width_mm(bare_short(size_mm, 2), LETTERS_MM, bold=True)
    return max(size_mm + 2 * FIRST_SPREADS_MM, words) + BETWEEN_MM


def _row_mm(row: Sequence[float]) -> float:
    """How high a row is: the largest hole, the words under it, and the plastic between."""
    return max(row) + 2 * FIRST_SPREADS_MM + 1.5 + _CAPITALS_MM + BETWEEN_MM


USE = (
    "Close the ring, and check that it has no burr.",
    "Lay it on a hole, flat. The smallest hole that it drops through by its own weight is its outside.",
    "Turn it by a quarter and try again: a ring that goes through one way only is not round.",
    "A rod or a dowel is tried the same way; it turns in its hole without rocking.",
)


def hole_plate_job(sizes_mm: Sequence[float], machine: Machine | None, use: Sequence[str] = USE) -> SolidJob:
    """A plate with holes of these sizes [mm] for a machine, with its leaf. Refuses what `HolePlate` does."""
    plate = HolePlate(sizes_mm=tuple(sizes_mm), machine=machine)
    solid = cache(partial(HolePlate.solid, plate))
    return SolidJob(
        solid=solid,
        leaf=_leaf(plate, solid, use),
        warnings=finer_than_trust(machine, "hole", plate.sizes_mm),
    )


def _leaf(plate: HolePlate, solid: Callable[[], Solid], use: Sequence[str]) -> Content:
    """Its sizes and what they are good for, how to print it, how to use it."""

    def draw(field: Field) -> Sequence[Drawing]:
        sizes = partial(size_table, plate.machine, "hole", sorted(plate.sizes_mm), "Holes")
        return leaf_drawings(field, solid, sizes, use)

    size = in_the_hand((plate.width_mm, plate.height_mm, THICK_MM))
    return Content(
        title="Plate of holes",
        facts=(
            ("judges", "the outside"),
            ("sizes", f"{len(plate.sizes_mm)}"),
            ("plate", size),
            ("for", made_for(plate.machine, "hole")),
        ),
        draw=draw,
        notes=(trust_note(plate.machine, "hole"),),
        cautions=CAUTIONS,
    )
