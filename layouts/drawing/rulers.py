"""Scales: a ruler with millimetres above its base line and inches below it."""

from __future__ import annotations

import math

from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.words import FIGURE
from layouts.errors import OutOfRange
from layouts.units import INCH_MM

HEIGHT_MM = 10.8
BASE_MM = 5.0  # from the foot of the drawing to the base line
_CLEAR_MM = 6  # from one number to the next
_EIGHTHS = {0: 2.4, 4: 1.6, 2: 1.1, 6: 1.1}  # tick length by eighth of an inch


def ruler(longest_mm: float) -> Drawing:
    """A ruler of whole centimetres and whole inches, neither longer than `longest_mm`.

    The base line is at y = BASE_MM and zero at x = 0; ticks count at the middle of the line. A ruler of 100 mm
    carries 4 inches even so (101.6 mm): both ends can be checked.
    """
    centimetres = math.floor(longest_mm / 10 + 1e-9)
    inches = max(math.floor(longest_mm / INCH_MM + 1e-9), 4 if centimetres == 10 else 0)
    if centimetres < 1:
        raise OutOfRange(f"a ruler of {longest_mm:.1f} mm", "give it 10 mm or more")
    draft = Draft()
    draft.line(0, BASE_MM, max(10.0 * centimetres, INCH_MM * inches), BASE_MM)
    _millimetres(draft, 10 * centimetres)
    _inches(draft, 8 * inches)
    return draft.drawing(longest_mm, HEIGHT_MM, "ruler")


def ruler_to(length_mm: float) -> Drawing:
    """A ruler whose base line ends at `length_mm`, with every millimetre and every eighth of an inch up to there.

    As `ruler` otherwise. Where the last millimetre stands clear of the last number, it has its own.
    """
    millimetres, eighths = (math.floor(length_mm / step + 1e-9) for step in (1.0, INCH_MM / 8))
    draft = Draft()
    draft.line(0, BASE_MM, length_mm, BASE_MM)
    _millimetres(draft, millimetres)
    if millimetres % 10 >= _CLEAR_MM:
        draft.text(millimetres, BASE_MM + 3.8, f"{millimetres}", FIGURE, anchor="middle")
    _inches(draft, eighths)
    return draft.drawing(length_mm, HEIGHT_MM, "ruler")


def _millimetres(draft: Draft, count: int) -> None:
    for mm in range(count + 1):
        length = 3.2 if mm % 10 == 0 else 2.2 if mm % 5 == 0 else 1.4
        draft.line(mm, BASE_MM, mm, BASE_MM + length)
    for mm in range(0, count + 1, 10):
        check = mm == 100
        draft.text(mm, BASE_MM + 3.8, f"{mm} mm" if check else f"{mm}", FIGURE, anchor="middle", bold=check)


def _inches(draft: Draft, eighths: int) -> None:
    for eighth in range(eighths + 1):
        x = eighth * INCH_MM / 8
        draft.line(x, BASE_MM, x, BASE_MM - _EIGHTHS.get(eighth % 8, 0.8))
    for inch in range(eighths // 8 + 1):
        draft.text(inch * INCH_MM, BASE_MM - 4.6, f"{inch} in" if inch else "0", FIGURE, anchor="middle")
