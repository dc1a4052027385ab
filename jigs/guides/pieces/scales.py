"""Scales of sizes along a line, in millimetres or inches: how finely they are ruled, their ticks and figures."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

from layouts.drawing import lettering
from layouts.drawing.marks import Draft
from layouts.drawing.words import FIGURE
from layouts.lengths import are_inches
from layouts.unit_tables import INCH_MM

CLOSEST_MM = 0.8  # ticks closer than this run together (common practice, no source)
_BETWEEN_MM = 1.3  # from figure to figure
_TICK_MM, _HALF_MM, _LONG_MM = 1.2, 1.8, 2.6
HEIGHT_MM = _LONG_MM + 0.6 + lettering.ASCENT * FIGURE
"""From the base line to the top of the figures."""


class Ruling(NamedTuple):
    """Ticks every 1/per_unit of a unit; longer every `half`, with a figure every `label` ticks or a multiple of it."""

    unit_mm: float
    per_unit: int
    half: int
    label: int
    places: int

    @property
    def step_mm(self) -> float:
        """From tick to tick, of the size."""
        return self.unit_mm / self.per_unit

    def figure(self, tick: int) -> str:
        """What a tick says."""
        return f"{tick / self.per_unit:.{self.places}f}"


_MM = (
    Ruling(1.0, 50, 5, 10, 1),
    Ruling(1.0, 20, 2, 10, 1),
    Ruling(1.0, 10, 5, 5, 1),
    Ruling(1.0, 5, 5, 5, 0),
    Ruling(1.0, 2, 2, 2, 0),
    Ruling(1.0, 1, 5, 5, 0),
)
_INCH = (
    Ruling(INCH_MM, 1000, 5, 10, 2),
    Ruling(INCH_MM, 500, 5, 5, 2),
    Ruling(INCH_MM, 200, 2, 2, 2),
    Ruling(INCH_MM, 100, 5, 10, 1),
    Ruling(INCH_MM, 50, 5, 5, 1),
    Ruling(INCH_MM, 20, 2, 2, 1),
)


def ruling_for(travel: float) -> Ruling:
    """The finest ruling whose ticks stand apart, where a millimetre of size is `travel` millimetres of scale."""
    rulings = _INCH if are_inches() else _MM
    return next((ruling for ruling in rulings if ruling.step_mm * travel >= CLOSEST_MM - 1e-9), rulings[-1])


def draw_scale(
    draft: Draft, ruling: Ruling, low_mm: float, high_mm: float, at: Callable[[float], float], y: float
) -> None:
    """Ticks up from a base line at height y for every size from low to high, a size at x = at(size), with figures."""
    draft.line(at(low_mm), y, at(high_mm), y)
    first, last = math.ceil(low_mm / ruling.step_mm - 1e-9), math.floor(high_mm / ruling.step_mm + 1e-9)
    widest = max(lettering.width_mm(ruling.figure(tick), FIGURE) for tick in (first, last))
    travel = (at(high_mm) - at(low_mm)) / (high_mm - low_mm)
    room = math.ceil((widest + _BETWEEN_MM) / (ruling.label * ruling.step_mm * travel) - 1e-9)
    labelled = ruling.label * max(1, room)
    for tick in range(first, last + 1):
        x, has_figure = at(tick * ruling.step_mm), tick % labelled == 0
        length = _LONG_MM if has_figure else _HALF_MM if tick % ruling.half == 0 else _TICK_MM
        draft.line(x, y, x, y + length)
        if has_figure:
            draft.text(x, y + _LONG_MM + 0.6, ruling.figure(tick), FIGURE, anchor="middle")
