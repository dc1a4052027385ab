"""A tapered slot that reads the outside diameter of round things laid flat in it, with its scale.

The slot is white between two black edges. Its axis runs along x, the narrow end at the left. Something round that
is slid towards the narrow end stops where it touches both edges; the scale's tick for a diameter stands at the
two points of touch, just outside the edges, where nothing hides it.

With half angle a, a circle of diameter D that touches both edges has its centre (D/2) / sin a from the apex; it
touches them (D/2) cos2 a / sin a along the axis and (D/2) cos a to either side (plane geometry).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from layouts.drawing import lettering
from layouts.drawing.marks import Draft
from layouts.drawing.pens import Role
from layouts.drawing.words import FIGURE
from layouts.errors import OutOfRange
from layouts.units import positive

BAND_MM = 0.5  # the black edge; its inner side counts
_RUN_OUT_MM = 2.0  # the slot goes on past its first and last tick
_TICK_MM, _HALF_MM, _LONG_MM = 1.0, 1.5, 2.2
_CLOSEST_MM = 0.8  # between ticks
_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)  # tenths of a millimetre


@dataclass(frozen=True, slots=True, kw_only=True)
class Wedge:
    """A slot whose ticks run from one diameter to another over a length; diameters in steps, tenths of a mm.

    per_mm: steps in a millimetre; per_numeral: steps in what a numeral counts, ten tenths of a mm or 100 of an inch.
    """

    low_tenths: int
    high_tenths: int
    length_mm: float
    per_mm: float = 10
    per_numeral: int = 10

    def __post_init__(self) -> None:
        positive(self.length_mm, "length of a wedge")
        if not 0 < self.low_tenths < self.high_tenths:
            raise OutOfRange("a wedge that does not widen from above zero", "give the smaller diameter first")

    @property
    def sine(self) -> float:
        """sin a, from cos2 a / sin a = 2 length / (high - low)."""
        slope = 2 * self.per_mm * self.length_mm / (self.high_tenths - self.low_tenths)
        return 2 / (slope + math.hypot(slope, 2))

    @property
    def half_angle_deg(self) -> float:
        """Between the axis and either edge."""
        return math.degrees(math.asin(self.sine))

    @property
    def travel(self) -> float:
        """Millimetres along the scale for each millimetre of diameter."""
        return self.per_mm * self.length_mm / (self.high_tenths - self.low_tenths)

    def touch(self, diameter_mm: float) -> tuple[float, float]:
        """Where a circle touches the upper edge: along the axis from the first tick, and out from the axis."""
        along = (diameter_mm - self.low_tenths / self.per_mm) * self.travel
        return along, diameter_mm / 2 * math.sqrt(1 - self.sine**2)

    @property
    def above_mm(self) -> float:
        """From the axis to the top of the highest numeral."""
        return self._outside + _LONG_MM + 0.6 + lettering.ASCENT * FIGURE

    @property
    def below_mm(self) -> float:
        """From the axis to the foot of the lowest tick."""
        return self._outside + _LONG_MM

    @property
    def _outside(self) -> float:
        """The outer side of the black edge at the wide end."""
        return self.touch(self.high_tenths / self.per_mm)[1] + BAND_MM + _RUN_OUT_MM * self._tangent

    @property
    def _tangent(self) -> float:
        return self.sine / math.sqrt(1 - self.sine**2)

    @property
    def ends(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """The ends of the upper edge, past the first and the last tick; the narrow end stays open."""
        (x0, y0), (x1, y1) = self.touch(self.low_tenths / self.per_mm), self.touch(self.high_tenths / self.per_mm)
        before = min(_RUN_OUT_MM, y0 / self._tangent / 2)
        narrow = x0 - before, y0 - before * self._tangent
        return narrow, (x1 + _RUN_OUT_MM, y1 + _RUN_OUT_MM * self._tangent)

    @property
    def _numeral_width(self) -> float:
        return lettering.width_mm(self.numeral(self.high_tenths), FIGURE)

    def numeral(self, steps: int) -> str:
        """A diameter in figures, as many as its steps need."""
        return f"{steps / self.per_numeral:g}" if self.per_numeral == 10 else f"{steps / self.per_numeral:.2f}"

    @property
    def tick_tenths(self) -> int:
        """The step of the ticks: 0.1 mm, or the first of 0.2, 0.5, 1, ... with room between."""
        return _first_with_room(self.travel / self.per_mm, _STEPS, _CLOSEST_MM)

    @property
    def numeral_tenths(self) -> int:
        """The step of the numerals: 0.5 mm or more, as their width needs."""
        steps = [step for step in _STEPS if step >= 5 and step % self.tick_tenths == 0]
        return _first_with_room(self.travel / self.per_mm, steps or _STEPS[-1:], self._numeral_width + 1.2)

    def ticks(self) -> Iterator[tuple[int, float, bool]]:
        """Each tick: diameter in tenths of a mm, length in mm, and whether it carries a numeral."""
        step, labelled = self.tick_tenths, self.numeral_tenths
        half = labelled // 2 if labelled % (2 * step) == 0 else 5
        for tenths in range(-(-self.low_tenths // step) * step, self.high_tenths + 1, step):
            numeral = tenths % labelled == 0
            yield tenths, _LONG_MM if numeral else _HALF_MM if tenths % half == 0 else _TICK_MM, numeral


def draw_wedge(draft: Draft, wedge: Wedge, x: float, y: float) -> None:
    """The slot with its scale; the first tick's place on the axis is (x, y)."""
    (left, low), (right, high) = wedge.ends
    for side in (1, -1):
        inner = ((x + left, y + side * low), (x + right, y + side * high))
        outer = ((x + right, y + side * (high + BAND_MM)), (x + left, y + side * (low + BAND_MM)))
        draft.patch((*inner, *outer), Role.GAUGE)
    for tenths, length, numeral in wedge.ticks():
        along, out = wedge.touch(tenths / wedge.per_mm)
        at, out = x + along, out + BAND_MM
        draft.line(at, y + out, at, y + out + length)
        if numeral:
            draft.line(at, y - out, at, y - out - length)
            draft.text(at, y + out + length + 0.6, wedge.numeral(tenths), FIGURE, anchor="middle")


def _first_with_room(travel: float, steps: tuple[int, ...] | list[int], room_mm: float) -> int:
    return next((step for step in steps if step * travel >= room_mm), steps[-1])
