"""A strip that reads the diameter of the rod it is wrapped round once: its end, a straight cut, over a diagonal scale.

The scale is on the first layer, near the start; the end comes to lie over it on the second (`making.wrapping`). Slanted
lines run up from each main diameter to the next, through eleven level lines: the one that goes under the end says the
diameter at its foot, and the level where it does how much more. So the end is a cursor and needs no second scale.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigs.making.wrapping import THICKEST_PART, covers_mm, once_round_mm
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.words import FIGURE, NAME, write
from layouts.errors import OutOfRange
from layouts.lengths import are_inches, bare_short, unit_said
from layouts.unit_tables import INCH_MM

LEVELS = 10  # steps from the lowest level line to the highest
TAPE_MM = 5.0  # from the start to the scale, to be taped or held
_LEVEL_MM = 1.05  # from level to level
_FOOT_MM = 4.2  # below the lowest level, for the figures
_HEAD_MM = 1.3
_LARGER_MM = 3.2  # from slanted line to slanted line in the example, twice what it is
HEIGHT_MM = _FOOT_MM + LEVELS * _LEVEL_MM + _HEAD_MM

RANGES_MM = ((3.0, 4.0), (4.0, 6.0), (6.0, 9.0), (9.0, 13.0), (13.0, 18.0), (18.0, 25.0))
"""What each strip reads: so narrow that on its thinnest rod the end does not come round to the scale again."""

_RANGES_50THS = ((6, 8), (8, 12), (12, 18), (18, 26), (26, 36), (36, 50))  # the same in fiftieths of an inch


@dataclass(frozen=True, slots=True, kw_only=True)
class WrapGauge:
    """A strip for rods from one diameter to another, cut from paper of a thickness; mm."""

    low_mm: float
    high_mm: float
    paper_mm: float

    def __post_init__(self) -> None:
        thickest = THICKEST_PART * self.low_mm
        if self.paper_mm > thickest:
            raise OutOfRange(
                f"paper of {self.paper_mm:g} mm does not wrap a rod of {self.low_mm:g} mm",
                f"print it on paper of {thickest:.2g} mm or thinner",
            )

    @property
    def main_mm(self) -> float:
        """From one slanted line to the next, of diameter: half a millimetre, or two hundredths of an inch."""
        return INCH_MM / 50 if are_inches() else 0.5

    @property
    def step_mm(self) -> float:
        """What it resolves: from level to level, of diameter."""
        return self.main_mm / LEVELS

    @property
    def length_mm(self) -> float:
        """From start to end: round the thickest rod, and over the tape."""
        over = (self.high_mm + 3 * self.paper_mm) / (self.high_mm + self.paper_mm)
        return once_round_mm(self.high_mm, self.paper_mm) + TAPE_MM * over

    def x(self, diameter_mm: float) -> float:
        """Where a rod of that diameter brings the end, from the start along the strip."""
        return covers_mm(self.length_mm, diameter_mm, self.paper_mm)

    @property
    def mains(self) -> range:
        """The slanted lines, counted in steps of `main_mm`: those whose foot is on the scale."""
        first = math.ceil(self.low_mm / self.main_mm - 1e-9)
        return range(first, math.floor(self.high_mm / self.main_mm + 1e-9) + 1)

    def level_y(self, level: int) -> float:
        """The height of a level line above the strip's lower edge."""
        return _FOOT_MM + level * _LEVEL_MM

    def drawing(self) -> Drawing:
        """The strip, to cut out."""
        draft, length = Draft(), self.length_mm
        left, right = self.x(self.high_mm), self.x(self.low_mm)
        for level in range(LEVELS + 1):
            y = self.level_y(level)
            draft.line(left, y, right, y, Role.TICK if level % 5 == 0 else Role.AID)
            draft.line(length - (1.6 if level % 2 == 0 else 1.0), y, length, y)
            if level % 2 == 0:
                added = f"{2 * level}" if are_inches() else f".{level // 2}"  # thousandths of an inch, or tenths
                draft.text(length - 2.1, y - 0.75, added, FIGURE, anchor="end")
        for main in self.mains:
            self._slant(draft, main)
        self._words(draft, right)
        draft.rectangle(0.0, 0.0, length, HEIGHT_MM, Role.CUT)
        low, high = bare_short(self.low_mm), bare_short(self.high_mm)
        return draft.drawing(length, HEIGHT_MM, f"the wrap strip from {low} to {high} {unit_said()}")

    def _slant(self, draft: Draft, main: int) -> None:
        """A slanted line from its diameter at the lowest level to the next at the highest, as far as the scale goes."""
        foot = main * self.main_mm
        top = min(LEVELS, round((self.high_mm - foot) / self.step_mm))
        points = [(self.x(foot + level * self.step_mm), self.level_y(level)) for level in range(top + 1)]
        if len(points) > 1:
            draft.polyline(points, Role.TICK)
        x, figure = self.x(foot), self._figure(main)
        draft.line(x, self.level_y(0), x, self.level_y(0) - (1.1 if figure else 0.7))
        if figure:
            draft.text(x, 1.0, figure, FIGURE, anchor="middle")

    def _figure(self, main: int) -> str:
        """Of every other line: whole millimetres, or hundredths of an inch."""
        if main % 2:
            return ""
        return f"{main // 2}" if not are_inches() else "1.0" if main == 50 else f"{2 * main}"

    def _words(self, draft: Draft, scale_end: float) -> None:
        """START and END along the cuts, and between scale and end what the strip is for, where there is room."""
        middle = HEIGHT_MM / 2
        draft.text(2.6, middle, "START", FIGURE, anchor="middle", angle_deg=90, bold=True)
        draft.text(self.length_mm - 0.9, 1.0, "END", FIGURE, anchor="end", bold=True)
        low, high = bare_short(self.low_mm), bare_short(self.high_mm)
        left, right = scale_end + 2.2, self.length_mm - 6.0
        paper = f"paper {bare_short(self.paper_mm, 3)} {unit_said()}"
        full = f"Ø {low} to {high} {unit_said()}"
        if right - left >= max(lettering.width_mm(full, NAME, bold=True), lettering.width_mm(paper, FIGURE)):
            draft.text((left + right) / 2, middle + 0.6, full, NAME, anchor="middle", bold=True)
            draft.text((left + right) / 2, middle - 3.0, paper, FIGURE, anchor="middle")
            return
        short = f"Ø {low} to {high}"
        draft.text((left + right) / 2 + 0.8, middle, short, FIGURE, anchor="middle", angle_deg=90, bold=True)


def reading_example() -> Drawing:
    """How a strip is read, drawn larger: END lies over the scale, a slanted line runs under it at the sixth level."""
    draft, level, end = Draft(), 6, 9.5
    low, high = _FOOT_MM, _FOOT_MM + LEVELS * _LEVEL_MM
    y = low + level * _LEVEL_MM
    if are_inches():
        added, figure, said = "12", "28", ("foot 0.30", "END 0.012", "reads 0.312")
    else:
        added, figure, said = ".3", "7", ("foot 7.5", "END 0.3", "reads 7.8")
    draft.bar(0.0, low - 1.2, end, high - low + 2.4, Role.TINT)
    draft.line(end, low - 1.2, end, high + 1.2, Role.LABEL)
    draft.text(1.0, high - 2.0, "END", FIGURE, bold=True)
    draft.text(end - 2.1, y - 0.75, added, FIGURE, anchor="end", bold=True)
    for number in range(LEVELS + 1):
        at = low + number * _LEVEL_MM
        draft.line(end, at, end + 3 * _LARGER_MM, at, Role.AID)
        draft.line(end - (1.6 if number % 2 == 0 else 1.0), at, end, at, Role.LABEL)
    for number in range(3):
        foot, top = end + (number + level / LEVELS) * _LARGER_MM, level if number == 0 else LEVELS
        draft.polyline(((foot, low), (foot - top / LEVELS * _LARGER_MM, low + top * _LEVEL_MM)), Role.LABEL)
        draft.line(foot, low, foot, low - 1.1, Role.LABEL)
    draft.disc(end, y, 0.45, Role.LABEL)
    draft.text(end + (1 + level / LEVELS) * _LARGER_MM, 1.0, figure, FIGURE, anchor="middle")
    right = end + 3 * _LARGER_MM + 1.6
    draft.text(right, high - 1.0, "drawn larger:", FIGURE)
    foot = write(draft, (right, high - 4.2), said[:2], FIGURE)
    draft.text(right, foot, said[2], FIGURE, bold=True)
    width = right + max(lettering.width_mm(words, FIGURE, bold=True) for words in ("drawn larger:", *said))
    return draft.drawing(width, HEIGHT_MM, "how a strip is read")


def wrap_gauges(paper_mm: float) -> tuple[WrapGauge, ...]:
    """The strips for rods from 3 to 25 mm, or from 0.12 to 1 in."""
    fiftieth = INCH_MM / 50
    in_inches = tuple((low * fiftieth, high * fiftieth) for low, high in _RANGES_50THS)
    ranges = in_inches if are_inches() else RANGES_MM
    return tuple(WrapGauge(low_mm=low, high_mm=high, paper_mm=paper_mm) for low, high in ranges)
