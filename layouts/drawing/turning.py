"""Drawings turned by a quarter, counter-clockwise."""

from __future__ import annotations

from layouts.affine import Affine
from layouts.drawing.marks import Drawing


def quarter_turned(drawing: Drawing) -> Drawing:
    """The drawing turned by 90 degrees counter-clockwise, its frame again with the origin at the lower left."""
    turn = Affine(a=0.0, b=1.0, c=-1.0, d=0.0, e=drawing.height_mm)
    marks = tuple(mark.under(turn) for mark in drawing.marks)
    return Drawing(marks=marks, width_mm=drawing.height_mm, height_mm=drawing.width_mm, name=drawing.name)
