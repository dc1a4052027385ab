"""Ink spread undone: black shapes whose edge counts are drawn smaller by what the ink grows."""

from __future__ import annotations

from dataclasses import replace

from layouts.drawing.marks import Drawing, Mark
from layouts.drawing.pens import Role


def compensated(drawing: Drawing, spread_mm: float) -> Drawing:
    """The drawing with every edge of its filled gauges moved into the ink by `spread_mm` (below zero: out of it).

    Refuses (`OutOfRange`) a shape that would vanish. Lines stay: their middle counts.
    """
    if not spread_mm or not any(is_gauge(mark) for mark in drawing.marks):
        return drawing
    marks = tuple(mark.inset(spread_mm) if is_gauge(mark) else mark for mark in drawing.marks)
    return replace(drawing, marks=marks)


def is_gauge(mark: Mark) -> bool:
    """Whether the edge of its ink is a size that counts."""
    return mark.filled and mark.role is Role.GAUGE
