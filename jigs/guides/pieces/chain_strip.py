"""A strip that reads rings by a chain of them pulled straight: a rule, and a scale of insides for each number of rings.

A chain is N x ID + 2 d long. Its left end is laid at the mark of its wire, 2 d left of zero, so that the right end
reads N x ID, whatever the wire.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from jigs.guides.pieces.scales import HEIGHT_MM, draw_scale, ruling_for
from layouts.drawing import lettering, rulers
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.words import FIGURE, NAME
from layouts.lengths import are_inches
from layouts.unit_tables import INCH_MM

SMALLEST_MM, LARGEST_MM = 2.0, 25.0  # insides of jump rings
ZERO_MM = 22.0  # from the left side to the zero of rule and scales
THICKEST_WIRE_MM = 3.0
_RIGHT_MM = 2.5
_ROW_MM = HEIGHT_MM + 2.2
_WIRE_ROW_MM = 7.0
_FOOT_MM = 0.6  # below the last base line: what hangs from its words


def room_mm(width_mm: float) -> float:
    """The longest chain, N x ID, that a strip of a width reads."""
    return width_mm - ZERO_MM - _RIGHT_MM


def inside_x(inside_mm: float, rings: int) -> float:
    """Where a chain of so many rings of an inside ends, from the left side, begun at the mark of its wire."""
    return ZERO_MM + rings * inside_mm


def wire_x(wire_mm: float) -> float:
    """Where a chain of a wire begins: two wires left of zero."""
    return ZERO_MM - 2 * wire_mm


def largest_mm(rings: int, width_mm: float) -> float:
    """The largest inside that a row reads, to a whole step of its scale."""
    step = ruling_for(rings).step_mm
    return min(LARGEST_MM, step * math.floor(room_mm(width_mm) / rings / step + 1e-9))


def chain_strip(width_mm: float, counts: Sequence[int]) -> Drawing:
    """The strip with a row for each number of rings, most first; the rule at the top, the marks of wires under it."""
    draft, y = Draft(), _FOOT_MM
    for rings in reversed(counts):
        draft.text(0.0, y, f"{rings}", NAME, bold=True)
        draft.text(lettering.width_mm(f"{rings} ", NAME, bold=True), y, "rings, ID", FIGURE)
        draw_scale(
            draft,
            ruling_for(rings),
            SMALLEST_MM,
            largest_mm(rings, width_mm),
            lambda mm, rings=rings: inside_x(mm, rings),  # type: ignore[misc]
            y,
        )
        y += _ROW_MM
    _wires(draft, y)
    y += _WIRE_ROW_MM
    rule = rulers.ruler(room_mm(width_mm))
    draft.text(0.0, y + rulers.BASE_MM + 0.4, "length", FIGURE)
    draft.add(rule.marks, ZERO_MM, y)
    return draft.drawing(width_mm, y + rule.height_mm, "the strip for a chain of rings")


def _wires(draft: Draft, y: float) -> None:
    """The scale of wires left of zero, thickest at the left, and an arrow along the chain."""
    unit, ticks, labelled = (INCH_MM / 50, 6, (0, 5)) if are_inches() else (0.5, 6, (0, 2, 4, 6))
    draft.line(wire_x(unit * ticks), y, ZERO_MM, y)
    for tick in range(ticks + 1):
        x, has_figure = wire_x(unit * tick), tick in labelled
        draft.line(x, y, x, y + (2.6 if has_figure else 1.6))
        if has_figure:
            figure = f"{tick / 50:.2g}".lstrip("0") or "0" if are_inches() else f"{tick // 2}"
            draft.text(x, y + 3.1, figure, FIGURE, anchor="middle")
    draft.text(0.0, y, "begin at", FIGURE)
    draft.text(0.0, y + 2.9, "the wire", FIGURE)
    tip = ZERO_MM + 13.0
    draft.line(ZERO_MM + 2.0, y + 1.2, tip, y + 1.2, Role.AID)
    draft.patch(((tip, y + 1.2), (tip - 1.8, y + 1.8), (tip - 1.8, y + 0.6)), Role.AID)
    draft.text(tip + 1.2, y + 0.4, "the chain, pulled just straight: its other end reads the inside (ID)", FIGURE)
