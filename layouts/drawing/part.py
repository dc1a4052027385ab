"""What is to be cut out of a drawing: closed outlines with holes, in millimetres, without a page."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from layouts.drawing.marks import Circle, Drawing, Mark, Point
from layouts.drawing.marks.mark import on_circle
from layouts.drawing.outline import Closed, Corner, Outline, Piece, Round
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange

_SAME_MM = 1e-6  # ends of strokes that are nearer meet
_LOOKS_MM = 0.01  # how near a polygon follows an outline where it only tells what lies in what


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """An outline and the holes in it, each counter-clockwise; mm in the drawing's own frame.

    depth: how many holes of other parts it lies in, one within the other.
    """

    outline: Closed
    holes: tuple[Closed, ...] = ()
    name: str = "part"
    depth: int = 0


def parts(drawing: Drawing) -> tuple[Part, ...]:
    """The parts of a drawing in the order of their outlines: what its cut lines enclose, less what lies inside.

    Cut lines that meet end to end make one outline; circles and arcs stay so. A cut outline within another, and the
    outline of a hole, is a hole in it; one within such a hole is a part again. Refuses (`OutOfRange`) a cut line that
    encloses nothing, and a hole outside every part.
    """
    cuts = [(one, one.points(_LOOKS_MM)) for one in _closed(drawing, Role.CUT)]
    holes = [(one, one.points(_LOOKS_MM)) for one in _closed(drawing, Role.HOLE)]
    depths = [sum(_holds(other, polygon) for _, other in cuts if other is not polygon) for _, polygon in cuts]
    inner = [(*cut, depth - 1) for cut, depth in zip(cuts, depths, strict=True) if depth % 2]
    outer = [(*cut, depth) for cut, depth in zip(cuts, depths, strict=True) if depth % 2 == 0]
    owned: list[list[Closed]] = [[] for _ in outer]
    for closed, polygon, wanted in (*inner, *((*hole, None) for hole in holes)):
        around = [place for place, (_, edge, _) in enumerate(outer) if _holds(edge, polygon)]
        if not around:
            raise OutOfRange(f"a hole outside every outline of {drawing.name}", "draw the outline that it is in")
        place = max(around, key=lambda place: outer[place][2])
        if wanted is not None and outer[place][2] != wanted:
            raise OutOfRange(f"outlines of {drawing.name} that cross", "draw each clear of the others")
        owned[place].append(closed)
    return tuple(
        Part(outline=closed, holes=tuple(held), name=drawing.name, depth=depth // 2)
        for (closed, _, depth), held in zip(outer, owned, strict=True)
    )


def runs(mark: Mark) -> tuple[tuple[Piece, ...], ...]:
    """All that a mark traces, as pieces that are joined in order; words trace nothing here."""
    path = _Pieces()
    mark.trace(path)
    path.end()
    return tuple(path.runs)


def _closed(drawing: Drawing, role: Role) -> list[Closed]:
    """The closed outlines of a role, counter-clockwise. Crosses, which mark the middle of a hole, are left out."""
    found, strokes = list[Closed](), list[tuple[Piece, ...]]()
    for mark in drawing.marks:
        if mark.role is not role:
            continue
        if isinstance(mark, Circle):
            found.append(Round(x=mark.x, y=mark.y, r=mark.r))
            continue
        for run in runs(mark):
            if len(run) > 1 and _meet(run[0].start, run[-1].end):
                found.append(_outline(run))
            else:
                strokes.append(run)
    for run in _joined(strokes):
        if _meet(run[0].start, run[-1].end) and len(run) > 1:
            found.append(_outline(run))
        elif role is Role.CUT:
            x, y = run[0].start
            problem = f"a cut line of {drawing.name} that encloses nothing, from {x:.2f}, {y:.2f} mm"
            raise OutOfRange(problem, "close it, or draw it in another role")
    return found


def _outline(run: Sequence[Piece]) -> Outline:
    outline = Outline(corners=tuple(Corner(*piece.start, piece.sweep_deg) for piece in run))
    return outline if outline.area_mm2 > 0 else outline.turned_round()


def _joined(strokes: Sequence[tuple[Piece, ...]]) -> list[tuple[Piece, ...]]:
    """Strokes that meet end to end, joined; each goes on until it is back where it began, or meets no other."""
    left, done = list(strokes), []
    while left:
        run = list(left.pop(0))
        while not _meet(run[0].start, run[-1].end):
            here = run[-1].end
            reached = next(
                (n for n, one in enumerate(left) if _meet(here, one[0].start) or _meet(here, one[-1].end)), -1
            )
            if reached < 0:
                break
            other = left.pop(reached)
            run += other if _meet(here, other[0].start) else [_back(piece) for piece in reversed(other)]
        done.append(tuple(run))
    return done


def _back(piece: Piece) -> Piece:
    return Piece(start=piece.end, end=piece.start, sweep_deg=-piece.sweep_deg)


def _meet(one: Point, other: Point) -> bool:
    return math.dist(one, other) <= _SAME_MM


def _holds(polygon: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether a polygon holds the first corner of another, by the even-odd rule."""
    x, y = other[0]
    inside = False
    for (x0, y0), (x1, y1) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            inside = not inside
    return inside


class _Pieces:
    """Takes a path and keeps it as runs of pieces."""

    def __init__(self) -> None:
        self.runs: list[tuple[Piece, ...]] = []
        self.pieces: list[Piece] = []
        self.first = self.here = (0.0, 0.0)

    def end(self) -> None:
        if self.pieces:
            self.runs.append(tuple(self.pieces))
        self.pieces = []

    def move(self, x: float, y: float) -> None:
        self.end()
        self.first = self.here = (x, y)

    def line(self, x: float, y: float) -> None:
        if not _meet(self.here, (x, y)):
            self.pieces.append(Piece(start=self.here, end=(x, y)))
            self.here = (x, y)

    def arc(self, x: float, y: float, r: float, start_deg: float, sweep_deg: float) -> None:
        # In halves at most: an arc is kept by its ends, which say nothing of a whole turn.
        count = math.ceil(abs(sweep_deg) / 180)
        for step in range(1, count + 1):
            end = on_circle(x, y, r, start_deg + sweep_deg * step / count)
            self.pieces.append(Piece(start=self.here, end=end, sweep_deg=sweep_deg / count))
            self.here = end

    def close(self) -> None:
        self.line(*self.first)
        self.end()

    def words(self, text: object) -> None:
        """Words are drawn by whoever writes the file."""
