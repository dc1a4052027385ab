"""A usual case of every sheet."""

from __future__ import annotations

import pytest
from every_sheet import SHEETS, Case

from layouts.drawing.marks import Line
from layouts.drawing.pens import Role

SVG = "{http://www.w3.org/2000/svg}"
every_sheet = pytest.mark.parametrize("sheet", SHEETS)


def case_of(sheet: str) -> Case:
    return Case(sheet=sheet, variant="every-mark" if sheet == "frame" else "usual", paper="a4")


BLACK = Line(x1=10, y1=50, x2=90, y2=50, role=Role.CUT)
