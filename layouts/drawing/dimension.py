"""Dimension lines: quiet arrows outside a shape, with the figure beside them and lines out from what is measured.

Figures stand upright everywhere. A span too short for two arrows inside gets them from outside; a figure too wide
for its span stands beyond the far end.
"""

from __future__ import annotations

from layouts.drawing import lettering
from layouts.drawing.marks import Draft
from layouts.drawing.pens import Role
from layouts.drawing.words import WORDS

ARROW = 1.7  # length of an arrow head
_HALF = 0.32  # half the width of an arrow head
_CLEAR = 0.8  # from what is measured to its extension line
_PAST = 0.9  # an extension line runs on past the dimension line
_TAIL = 1.6  # an arrow from outside has a tail of this length


def across(draft: Draft, x1: float, x2: float, y: float, words: str, *, out_from: float | None = None) -> None:
    """A dimension from x1 to x2 (x1 < x2) at height y, its figure above the line; mm.

    `out_from` is the height of what is measured: extension lines run from there to the dimension line.
    """
    _extensions(draft, (x1, x2), out_from, y, upright=True)
    _arrows(draft, x1, x2, y, upright=False)
    if lettering.width_mm(words, WORDS) <= x2 - x1:
        draft.text((x1 + x2) / 2, y + 0.6, words, WORDS, anchor="middle")
    else:
        draft.text(x2 + ARROW + _TAIL + 0.6, y - 0.9, words, WORDS)


def along(
    draft: Draft, y1: float, y2: float, x: float, words: str, *, out_from: float | None = None, left: bool = True
) -> None:
    """A dimension from y1 to y2 (y1 < y2) at x, its figure upright to the left of the line, or to its right; mm.

    `out_from` is the x of what is measured: extension lines run from there to the dimension line.
    """
    _extensions(draft, (y1, y2), out_from, x, upright=False)
    _arrows(draft, y1, y2, x, upright=True)
    off = -0.9 if left else 0.9
    draft.text(x + off, (y1 + y2) / 2 - 0.36 * WORDS, words, WORDS, anchor="end" if left else "start")


def _extensions(draft: Draft, ends: tuple[float, float], start: float | None, stop: float, *, upright: bool) -> None:
    if start is None:
        return
    way = 1.0 if stop > start else -1.0
    for end in ends:
        a, b = start + way * _CLEAR, stop + way * _PAST
        draft.line(*((end, a, end, b) if upright else (a, end, b, end)), Role.AID)


def _arrows(draft: Draft, low: float, high: float, at: float, *, upright: bool) -> None:
    """The dimension line with its heads: inside the span, or from outside when it is short."""
    inside = high - low >= 2.4 * ARROW
    reach = 0.0 if inside else ARROW + _TAIL
    start, end = low - reach, high + reach
    draft.line(*((at, start, at, end) if upright else (start, at, end, at)), Role.AID)
    for tip, way in ((low, 1.0), (high, -1.0)):
        back = tip + (way if inside else -way) * ARROW
        head = (tip, at), (back, at + _HALF), (back, at - _HALF)
        draft.patch(((y, x) for x, y in head) if upright else head, Role.AID)
