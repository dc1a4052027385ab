"""Outlines that parts share, drawn as the lines and arcs that they are."""

from __future__ import annotations

from layouts.drawing.marks import Draft
from layouts.drawing.pens import Role


def rounded(draft: Draft, box: tuple[float, float, float, float], r: float, role: Role = Role.CUT) -> None:
    """A rectangle (left, bottom, right, top) with round corners of radius r, mm."""
    left, bottom, right, top = box
    draft.line(left + r, bottom, right - r, bottom, role)
    draft.arc(right - r, bottom + r, r, 270.0, 90.0, role)
    draft.line(right, bottom + r, right, top - r, role)
    draft.arc(right - r, top - r, r, 0.0, 90.0, role)
    draft.line(right - r, top, left + r, top, role)
    draft.arc(left + r, top - r, r, 90.0, 90.0, role)
    draft.line(left, top - r, left, bottom + r, role)
    draft.arc(left + r, bottom + r, r, 180.0, 90.0, role)


def slot_upright(draft: Draft, x: float, low: float, high: float, width: float, role: Role = Role.CUT) -> None:
    """A slot along y with round ends, from end to end `low` to `high`, mm."""
    r = width / 2
    draft.line(x + r, low + r, x + r, high - r, role)
    draft.arc(x, high - r, r, 0.0, 180.0, role)
    draft.line(x - r, high - r, x - r, low + r, role)
    draft.arc(x, low + r, r, 180.0, 180.0, role)
