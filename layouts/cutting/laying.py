"""Drawings laid out on sheets of material, their kerf undone, each line once and in the order in which it is cut."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from layouts.affine import Affine
from layouts.cutting.board import Board, CutSheet, Layer, Shape, Stroke, Trail, mapped, shape_of
from layouts.cutting.gains import AS_DRAWN, Gains
from layouts.drawing.marks import Drawing, Mark, Point
from layouts.drawing.marks.outlines import chains
from layouts.drawing.outline import Closed, Piece, Round
from layouts.drawing.part import parts, runs
from layouts.drawing.pens import Role
from layouts.errors import DoesNotFit, Remedy
from layouts.pages.nesting import Piece as Nested
from layouts.pages.nesting import nest
from layouts.pages.page import Field

LAYERS = {
    Role.CUT: Layer.CUT,
    Role.HOLE: Layer.CUT,
    Role.TICK: Layer.ENGRAVE,
    Role.FOLD: Layer.ENGRAVE,
    Role.GAUGE: Layer.ENGRAVE,
    Role.LABEL: Layer.MARK,
    Role.AID: Layer.MARK,
}  # a tint is for paper alone

_SAME_MM = 1e-6
_LETTERS_MM = 0.04  # how near the chords of a letter follow it: nobody measures words


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """A drawing to be cut out, how often, and whether it may be turned by a quarter (not where there is grain)."""

    drawing: Drawing
    count: int = 1
    may_turn: bool = True


def laid_out(
    blanks: Sequence[Blank], board: Board, gains: Gains = AS_DRAWN, *, title: str = "", said: Sequence[str] = ()
) -> tuple[CutSheet, ...]:
    """As few sheets as the blanks go on. What outlines gain by the cut is undone, and the machine's scale in all lines.

    Refuses (`DoesNotFit`) a blank larger than the sheet within its margins, and (`OutOfRange`) what the kerf would eat.
    """
    room = gains.widest_mm  # parts keep their gap beside the cuts
    framed = {id(blank.drawing): _framed(blank.drawing, room / 2) for blank in blanks}
    pieces = [
        Nested(drawing=framed[id(blank.drawing)], may_turn=blank.may_turn)
        for blank in blanks
        for _ in range(blank.count)
    ]
    margin = board.margin_mm
    field = Field(board.width_mm - 2 * margin, board.height_mm - 2 * margin)
    known: dict[int, tuple[Stroke, ...]] = {}
    sheets = []
    try:
        nested = nest(pieces, field, board.gap_mm)
    except DoesNotFit as large:  # what it says of paper is not for a sheet of material
        remedies = (Remedy.LARGER_BOARD,)
        raise DoesNotFit(large.what, large.needs_mm, large.has_mm, remedies=remedies) from None
    for spots in nested:
        strokes = list[Stroke]()
        for spot in sorted(spots, key=lambda spot: (spot.y, spot.x)):
            drawing = spot.drawing
            if id(drawing) not in known:
                known[id(drawing)] = tuple(_strokes(drawing, gains))
            move = spot.x + margin, spot.y + margin
            strokes += (replace(stroke, shape=mapped(stroke.shape, move=move)) for stroke in known[id(drawing)])
        ordered = [stroke for layer in Layer for stroke in strokes if stroke.layer is layer]
        sheets.append(CutSheet(board=board, title=title, strokes=tuple(ordered), said=tuple(said)))
    return tuple(sheets)


def _framed(drawing: Drawing, by_mm: float) -> Drawing:
    """The drawing in a frame that is wider all round, so that no two share a cut: each has its own kerf to undo."""
    by = max(by_mm, 1e-3)
    return Drawing(
        marks=tuple(mark.under(Affine(e=by, f=by)) for mark in drawing.marks),
        width_mm=drawing.width_mm + 2 * by,
        height_mm=drawing.height_mm + 2 * by,
        name=drawing.name,
    )


def _strokes(drawing: Drawing, gains: Gains) -> Iterator[Stroke]:
    """What is done to a drawing: marks, engraved lines, then the cuts from the inside out."""
    undone = 1 / gains.across, 1 / gains.along
    for layer in (Layer.MARK, Layer.ENGRAVE):
        for mark in drawing.marks:
            if LAYERS.get(mark.role) is layer:
                for shape in _shapes(mark):
                    yield Stroke(layer=layer, shape=mapped(shape, undone))
    for part in sorted(parts(drawing), key=lambda part: -part.depth):  # what lies in a hole comes out before the hole
        for hole in _in_turn(part.holes):
            yield Stroke(layer=Layer.CUT, shape=shape_of(gains.drawn(hole, inside=True)))
        yield Stroke(layer=Layer.CUT, shape=shape_of(gains.drawn(part.outline, inside=False)))


def _shapes(mark: Mark) -> Iterator[Shape]:
    """The lines of a mark; of words, the outlines of their letters."""
    if strokes := runs(mark):
        yield from (_round_or(run) for run in strokes)
        return
    for points, closed in chains(mark, _LETTERS_MM):
        found = [point for point, last in zip(points, (None, *points), strict=False) if not last or _apart(last, point)]
        if closed and len(found) > 1 and not _apart(found[0], found[-1]):  # some letters end where they began
            found.pop()
        if len(found) > 1:
            yield Trail(tuple(found), closed)


def _apart(one: Point, other: Point) -> bool:
    return abs(one[0] - other[0]) + abs(one[1] - other[1]) > _SAME_MM


def _round_or(run: tuple[Piece, ...]) -> Shape:
    """A circle where a run is one: two halves about one centre."""
    if len(run) == 2 and all(abs(piece.sweep_deg) == 180 for piece in run) and run[0].sweep_deg == run[1].sweep_deg:
        (x, y), r = run[0].centre, run[0].radius
        return Round(x=x, y=y, r=r)
    return run


def _in_turn(holes: Sequence[Closed]) -> Iterator[Closed]:
    """The holes, each the nearest to the one before."""
    left, here = list(holes), (0.0, 0.0)
    while left:
        nearest = min(left, key=lambda hole: math.dist(here, _middle(hole)))
        left.remove(nearest)
        here = _middle(nearest)
        yield nearest


def _middle(closed: Closed) -> Point:
    left, bottom, right, top = closed.box
    return (left + right) / 2, (bottom + top) / 2
