"""Steps that read the inside of rings laid over them: each is as high as it says, from the straight foot to its top."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jigs.guides.pieces.ring_wedge import row_name
from jigs.stock.wire import Wire
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.words import FIGURE
from layouts.lengths import are_inches, bare_short, unit_said
from layouts.unit_tables import INCH_MM

NAMES_MM = 17.0  # the column of names at the left
_BAND_MM = 1.4  # the black along foot and tops; a step lower than both is black
_ROW_MM = 3.3
_RIGHT_MM = 1.5  # half of the last figure
_SERIES_MM = ((0.1, 20, 60), (0.2, 30, 60), (0.5, 24, 50))  # step, and the first and last as so many steps
_SERIES_INCH = ((0.005, 16, 48), (0.01, 24, 48), (0.02, 24, 50))


@dataclass(frozen=True, slots=True, kw_only=True)
class Stair:
    """Steps of insides in ascending order, side by side over a width; mm."""

    insides_mm: tuple[float, ...]
    width_mm: float

    @property
    def step_mm(self) -> float:
        """Along the foot, from one step to the next."""
        return (self.width_mm - NAMES_MM - _RIGHT_MM) / len(self.insides_mm)

    def x(self, number: int) -> float:
        """Where a step begins, from the left side."""
        return NAMES_MM + number * self.step_mm

    def drawing(self, wires: Sequence[Wire] = ()) -> Drawing:
        """The stair with its figures under the foot, and under them for each wire the outside of those rings."""
        draft = Draft()
        foot = 1.0 + _ROW_MM * (len(wires) + 1)
        tops = [point for n, mm in enumerate(self.insides_mm) for point in ((self.x(n), mm), (self.x(n + 1), mm))]
        under = [(x, max(mm - _BAND_MM, _BAND_MM)) for x, mm in tops]
        draft.patch([(x, foot + mm) for x, mm in (*tops, *reversed(under))])
        draft.bar(NAMES_MM, foot, self.x(len(self.insides_mm)) - NAMES_MM, _BAND_MM)
        rows = [
            (f"ID {unit_said()}", True, 0.0),
            *((f"OD, {row_name(wire)}", False, 2 * wire.diameter_mm) for wire in wires),
        ]
        every = self._every([more for _, _, more in rows])
        for row, (name, bold, more) in enumerate(rows):
            y = foot - 0.6 - lettering.ASCENT * FIGURE - row * _ROW_MM
            draft.text(0.0, y, name, FIGURE, bold=bold)
            for number, inside in enumerate(self.insides_mm):
                if number % every == 0:
                    draft.text(self.x(number) + self.step_mm / 2, y, _figure(inside + more), FIGURE, anchor="middle")
        first, last = (bare_short(self.insides_mm[place]) for place in (0, -1))
        return draft.drawing(
            self.width_mm, foot + max(self.insides_mm), f"the steps from {first} to {last} {unit_said()}"
        )

    def _every(self, more_mm: Sequence[float]) -> int:
        """Every which step has room for its figure in every row; a row's figures are so much more than the insides."""
        figures = (_figure(inside + more) for inside in self.insides_mm for more in more_mm)
        widest = max(lettering.width_mm(figure, FIGURE) for figure in figures) + 0.8
        return next(every for every in (1, 2, 5, 10, 20, 50) if every * self.step_mm >= widest)


def stairs(width_mm: float) -> tuple[Stair, ...]:
    """The steps from 2 to 25 mm, or from 0.08 to 1 in: by tenths of a millimetre, then coarser as rings grow."""
    unit, series = (INCH_MM, _SERIES_INCH) if are_inches() else (1.0, _SERIES_MM)
    return tuple(
        Stair(insides_mm=tuple(unit * step * n for n in range(first, last + 1)), width_mm=width_mm)
        for step, first, last in series
    )


def _figure(mm: float) -> str:
    return f"{mm / INCH_MM:.3f}".lstrip("0") if are_inches() else f"{mm:.2f}".rstrip("0").rstrip(".")
