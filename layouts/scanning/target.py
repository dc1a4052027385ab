"""What a scan is compared with: the true places of the marks on a page that is meant to be scanned."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from layouts.drawing.marks import Annulus, Arc, Box, Circle, Line, Mark, inked, union
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange
from layouts.pages.page import Page

MARKERS = 8
_LARGE_MM = 2.0  # discs of a smaller radius are no markers


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """True places in mm from the lower left corner of the paper, x to the right and y up.

    `discs` are the centres of the markers, counter-clockwise; the first is a ring. Corners are every second one.
    """

    label: str
    size_mm: tuple[float, float]
    discs: tuple[tuple[float, float], ...]
    radius_mm: float
    hole_mm: float  # radius of the white middle of the ring
    card: Box | None = None  # the outline that a bank card lies on
    rule: Line | None = None  # the line that the edge of a steel rule lies on
    ink: tuple[Box, ...] = ()  # what is printed near them

    def __post_init__(self) -> None:
        if len(self.discs) != MARKERS:
            raise OutOfRange(f"a page with {len(self.discs)} markers for a scan", f"give one with {MARKERS}")
        if not 0 < self.hole_mm < self.radius_mm:
            raise OutOfRange("a ring whose middle is not the smaller", "give the radius of the ink first")

    @property
    def span_mm(self) -> tuple[float, float]:
        """Sides of the rectangle of the markers."""
        xs, ys = zip(*self.discs, strict=True)
        return max(xs) - min(xs), max(ys) - min(ys)


def target_of(page: Page) -> Target:
    """The target that a page carries. Refuses (`OutOfRange`) a page without eight markers, one of them a ring."""
    marks = _marked(page)
    (ring,) = (mark for mark in marks if isinstance(mark, Annulus))
    discs = [(mark.x, mark.y) for mark in marks if isinstance(mark, Circle) and _is_marker(mark)]
    places = [(ring.x, ring.y), *_round_from(ring, discs)]
    card = _card(marks)
    ink = tuple(inked(mark) for mark in marks if mark.role is not Role.FOLD) if card else ()
    return Target(
        label=page.paper.label,
        size_mm=(page.paper.width_mm, page.paper.height_mm),
        discs=tuple(places),
        radius_mm=ring.r_outer,
        hole_mm=ring.r_inner,
        card=card,
        rule=_rule(marks, card) if card else None,
        ink=tuple(box for box in ink if card and _near(box, card)),
    )


def _marked(page: Page) -> list[Mark]:
    """The marks of the one drawing with a ring and discs, in page coordinates."""
    for placed in page.placed:
        marks = placed.drawing.marks
        if sum(isinstance(mark, Annulus) for mark in marks) == 1 and any(map(_is_marker, marks)):
            return [mark.moved(placed.x, placed.y) for mark in marks]
    raise OutOfRange(f"{page.title} carries no markers for a scan", "scan the printer-check sheet")


def _is_marker(mark: Mark) -> bool:
    return isinstance(mark, Circle) and mark.filled and mark.role is Role.GAUGE and mark.r > _LARGE_MM


def _round_from(ring: Annulus, discs: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """The discs counter-clockwise about their middle, from the ring on."""
    x, y = (sum(at) / (len(discs) + 1) for at in zip(*discs, (ring.x, ring.y), strict=True))
    start = math.atan2(ring.y - y, ring.x - x)
    return sorted(discs, key=lambda at: (math.atan2(at[1] - y, at[0] - x) - start) % math.tau)


def _card(marks: Sequence[Mark]) -> Box | None:
    """The box of the outline with four rounded corners."""
    arcs = [mark.box for mark in marks if isinstance(mark, Arc)]
    return union(arcs) if len(arcs) == 4 else None


def _rule(marks: Sequence[Mark], card: Box) -> Line | None:
    """The dashed line inside the outline."""
    lines = (mark for mark in marks if isinstance(mark, Line) and mark.role is Role.FOLD)
    return next((line for line in lines if _inside(line.box, card)), None)


def _inside(box: Box, other: Box) -> bool:
    return box[0] >= other[0] and box[1] >= other[1] and box[2] <= other[2] and box[3] <= other[3]


_ROOM_MM = 12.0


def _near(box: Box, card: Box) -> bool:
    apart_x = max(card[0] - box[2], box[0] - card[2])
    apart_y = max(card[1] - box[3], box[1] - card[3])
    return max(apart_x, apart_y) < _ROOM_MM
