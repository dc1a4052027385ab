"""The material that is cut from, and a sheet of it with all that is done to it, in order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from layouts.drawing.marks import Point
from layouts.drawing.outline import Outline, Piece, Round
from layouts.errors import OutOfRange
from layouts.lengths import sized_each
from layouts.units import finite, positive

LARGEST_MM = 3000.0


class Layer(StrEnum):
    """What is done along a line, in the order in which it is done."""

    MARK = "MARK"  # words: as faint as can be read
    ENGRAVE = "ENGRAVE"  # lines whose place counts, scored into the surface
    CUT = "CUT"  # right through


class Trail(NamedTuple):
    """Straight strokes through points, such as the outline of a letter: there are thousands."""

    points: tuple[Point, ...]
    closed: bool


Shape = Round | Trail | tuple[Piece, ...]
"""A circle, a trail, or pieces that are joined in order; closed where the last ends at the first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """One line: what is done along it, and where, in mm from the lower left corner of the sheet."""

    layer: Layer
    shape: Shape

    @property
    def is_closed(self) -> bool:
        """Whether it comes back to where it began."""
        if isinstance(self.shape, Trail):
            return self.shape.closed
        return isinstance(self.shape, Round) or self.shape[0].start == self.shape[-1].end

    @property
    def trail(self) -> Trail | None:
        """Its points where it has no arc and more than one piece; None otherwise."""
        if isinstance(self.shape, Trail):
            return self.shape
        if isinstance(self.shape, Round) or len(self.shape) < 2 or any(piece.is_arc for piece in self.shape):
            return None
        points = tuple(piece.start for piece in self.shape)
        return Trail(points if self.is_closed else (*points, self.shape[-1].end), self.is_closed)


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A sheet of material: its size, how far from its edges and how far apart the parts keep; mm."""

    width_mm: float
    height_mm: float
    margin_mm: float = 5.0
    gap_mm: float = 2.0

    def __post_init__(self) -> None:
        for size in (self.width_mm, self.height_mm):
            if positive(size, "a sheet") > LARGEST_MM:
                raise OutOfRange(f"a sheet of {size:g} mm", f"give at most {LARGEST_MM:g} mm")
        for space, what in ((self.margin_mm, "a margin"), (self.gap_mm, "a gap")):
            if finite(space, what) < 0:
                raise OutOfRange(f"{what} of {space:g} mm", "give 0 mm or more")
        if 2 * self.margin_mm >= min(self.width_mm, self.height_mm):
            raise OutOfRange(
                f"margins of {self.margin_mm:g} mm leave nothing of the sheet", "give less, or a larger one"
            )

    @property
    def words(self) -> str:
        """Its size: '300 x 200 mm'."""
        return sized_each("{} x {}", (self.width_mm, self.height_mm))


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSheet:
    """One sheet, complete: its size in mm, its lines in the order in which they are done, and what there is to say."""

    board: Board
    title: str
    strokes: tuple[Stroke, ...]
    said: tuple[str, ...] = ()

    def on(self, layer: Layer) -> Iterator[Stroke]:
        """The lines of a layer in order."""
        return (stroke for stroke in self.strokes if stroke.layer is layer)


def shape_of(outline: Outline | Round) -> Shape:
    """A closed outline as a shape."""
    return outline if isinstance(outline, Round) else outline.pieces


def mapped(shape: Shape, stretch: tuple[float, float] = (1.0, 1.0), move: Point = (0.0, 0.0)) -> Shape:
    """The shape stretched across and along, then moved right and up. Circles and arcs stay so (see `stretched`)."""
    (a, d), (dx, dy) = stretch, move
    if isinstance(shape, Round):
        return Round(x=shape.x * a + dx, y=shape.y * d + dy, r=shape.r * (a + d) / 2)
    if isinstance(shape, Trail):
        return Trail(tuple((x * a + dx, y * d + dy) for x, y in shape.points), shape.closed)
    return tuple(
        Piece(
            start=(piece.start[0] * a + dx, piece.start[1] * d + dy),
            end=(piece.end[0] * a + dx, piece.end[1] * d + dy),
            sweep_deg=piece.sweep_deg,
        )
        for piece in shape
    )
