"""Drawings turned by a quarter, counter-clockwise."""

from __future__ import annotations

from dataclasses import replace

from layouts.drawing.marks import Annulus, Arc, Circle, Drawing, Line, Mark, Polyline


def quarter_turned(drawing: Drawing) -> Drawing:
    """The drawing turned by 90 degrees counter-clockwise, its frame again with the origin at the lower left."""
    marks = tuple(_turned(mark, drawing.height_mm) for mark in drawing.marks)
    return Drawing(marks=marks, width_mm=drawing.height_mm, height_mm=drawing.width_mm, name=drawing.name)


def _turned(mark: Mark, height: float) -> Mark:
    """(x, y) goes to (height - y, x)."""
    if isinstance(mark, Line):
        return Line(x1=height - mark.y1, y1=mark.x1, x2=height - mark.y2, y2=mark.x2, role=mark.role)
    if isinstance(mark, Polyline):
        return replace(mark, points=tuple((height - y, x) for x, y in mark.points))
    x, y = height - mark.y, mark.x
    if isinstance(mark, Arc):
        return replace(mark, x=x, y=y, start_deg=mark.start_deg + 90)
    if isinstance(mark, Circle | Annulus):
        return replace(mark, x=x, y=y)
    return replace(mark, x=x, y=y, angle_deg=mark.angle_deg + 90)
