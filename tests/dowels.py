"""Drilled dowels for tests, and their strips read from the marks."""

from __future__ import annotations

from typing import Any

from jigs.cli.sheet import sheet_command
from jigs.guides.catalogue import find_sheet
from jigs.guides.dowel import dowel_sheet
from jigs.making.drilled_dowel import Dowel, DrilledDowel
from jigs.stock.wire import parse_wire
from layouts.drawing.marks import Box, Drawing, Line, Polyline, Text
from layouts.drawing.pens import Role
from layouts.pages.page import Field

command = sheet_command(find_sheet("dowel"))
A4 = Field(176, 225)


def drilled(diameter_mm: float = 8.0, wire: str = "1 mm", second_mm: float | None = None, **rest: Any) -> DrilledDowel:
    dowel = Dowel(diameter_mm=diameter_mm, second_diameter_mm=second_mm)
    return DrilledDowel(dowel=dowel, wire=parse_wire(wire), **rest)


def block(*dowels: DrilledDowel, field: Field = A4) -> Drawing:
    return dowel_sheet(dowels).draw(field)[-1]


class Strip:
    """The strip of a block, read from its marks: x round the dowel, y from its end."""

    def __init__(self, drawing: Drawing) -> None:
        outline = next(m for m in drawing.marks if isinstance(m, Polyline) and m.role is Role.CUT)
        x0, y0 = outline.points[0]
        self.outline = [(x - x0, y - y0) for x, y in outline.points]
        self.once_round = self.outline[1][0]
        self.right = max(x for x, _ in self.outline)
        self.top = max(y for _, y in self.outline)
        moved = [mark.moved(-x0, -y0) for mark in drawing.marks]
        self.marks = [m for m in moved if self.holds(m.box)]

    def holds(self, box: Box) -> bool:
        left, bottom, right, _ = box
        return min(left, bottom) >= -0.01 and right <= self.right

    def lines(self, role: Role) -> list[Line]:
        return [m for m in self.marks if isinstance(m, Line) and m.role is role]

    def crosses(self) -> list[tuple[float, float]]:
        """The middles of upright and level strokes that cross."""
        upright = [m for m in self.lines(Role.HOLE) if m.x1 == m.x2]
        level = [m for m in self.lines(Role.HOLE) if m.y1 == m.y2]
        middles = [((m.x1 + m.x2) / 2, m.y1) for m in level]
        return [(x, y) for x, y in middles if any(abs(v.x1 - x) < 1e-9 and v.y1 < y < v.y2 for v in upright)]


def words_of(drawing: Drawing) -> list[str]:
    return [m.string for m in drawing.marks if isinstance(m, Text)]
