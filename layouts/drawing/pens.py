"""What a mark is for, and the line width and shade that this gives it on paper."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple


class Role(StrEnum):
    """What a mark is for. A reader of the sheet tells the roles apart by weight, shade and dash."""

    CUT = "cut"  # cut or saw along the middle of the line
    FOLD = "fold"  # fold, wrap or align along it
    TICK = "tick"  # scales and base lines; the middle of the line counts
    HOLE = "hole"  # crosses and outlines of what is drilled
    LABEL = "label"  # words, leaders and boxes to write in
    GAUGE = "gauge"  # ink whose edge counts
    AID = "aid"  # dimensions, centre lines and other quiet help
    TINT = "tint"  # a pale fill that shows a body of wood or metal


class Pen(NamedTuple):
    """Line width in mm, shade from 0 (black) to 1 (white), dash lengths in mm (empty: solid)."""

    width_mm: float
    shade: float = 0.0
    dash_mm: tuple[float, ...] = ()


# Home printers hold a line of 0.1 mm; thinner ones break up (common practice, no source).
PENS: dict[Role, Pen] = {
    Role.CUT: Pen(width_mm=0.25),
    Role.FOLD: Pen(width_mm=0.2, dash_mm=(2.0, 1.0)),
    Role.TICK: Pen(width_mm=0.15),
    Role.HOLE: Pen(width_mm=0.15),
    Role.LABEL: Pen(width_mm=0.12, shade=0.0),
    Role.GAUGE: Pen(width_mm=0.1),
    Role.AID: Pen(width_mm=0.12, shade=0.45),
    Role.TINT: Pen(width_mm=0.1, shade=0.88),
}
