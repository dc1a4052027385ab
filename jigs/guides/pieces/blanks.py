"""Blanks to write in: boxes with a name each, and lines under the titles of columns."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.words import FIGURE, HAIR_MM, HEADING, HEADING_MM, WORDS, rule_under


class Blank(NamedTuple):
    """A box to write in: its name, and what is expected in it."""

    name: str
    planned: str = ""


def boxes(blanks: Sequence[Blank], width_mm: float, heading: str, columns: int, tall_mm: float) -> Drawing:
    """Boxes of a height in mm under a heading, so many in a row."""
    rows = math.ceil(len(blanks) / columns)
    head = HEADING_MM if heading else 0.0
    height = head + rows * tall_mm + 2 * HAIR_MM
    draft, wide = Draft(), (width_mm - 2 * HAIR_MM) / columns
    if heading:
        draft.text(0.0, height - lettering.ASCENT * HEADING, heading, HEADING, bold=True)
    for number, blank in enumerate(blanks):
        row, column = divmod(number, columns)
        x, top = HAIR_MM + column * wide, height - head - HAIR_MM - row * tall_mm
        draft.rectangle(x, top - tall_mm, wide, tall_mm, Role.AID)
        draft.text(x + 1.0, top - 2.7, blank.name, FIGURE, bold=True)
        if blank.planned:
            words = lettering.width_mm(blank.name, FIGURE, bold=True) + lettering.width_mm(blank.planned, FIGURE) + 3.0
            low = 0.0 if words <= wide else 2.9  # under the name where the two have no room side by side
            draft.text(x + wide - 1.0, top - 2.7 - low, blank.planned, FIGURE, anchor="end")
    return draft.drawing(width_mm, height, heading.lower() or "boxes to fill in", origin=(0.0, height))


def lines_to_write_on(
    heading: str, shares: Mapping[str, float], width_mm: float, count: int, line_mm: float
) -> Drawing:
    """So many lines under a heading and the titles of columns, each a share of the width."""
    head = HEADING_MM + 3.3
    height = head + count * line_mm
    draft, x = Draft(), 0.0
    draft.text(0.0, height - lettering.ASCENT * HEADING, heading, HEADING, bold=True)
    for name, share in shares.items():
        draft.text(x + (1.2 if x else 0.0), height - head + 1.2, name, WORDS, bold=True)
        if x:
            draft.line(x, 2 * HAIR_MM, x, height - head, Role.AID)
        x += share * width_mm
    for line in range(count + 1):
        rule_under(draft, width_mm, max(height - head - line * line_mm, HAIR_MM))
    return draft.drawing(width_mm, height, heading.lower(), origin=(0.0, height))
