"""Scales that read a wire by close turns laid on them: a row for each number of turns, and the gauges by name."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.guides.pieces.scales import HEIGHT_MM, draw_scale, ruling_for
from jigs.making.likely_gauge import Size, gauge_sizes
from jigs.making.measuring import turns_length_mm
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.words import FIGURE, NAME

TURNS = (10, 20, 40)
THINNEST_MM, THICKEST_MM = 0.4, 3.0
ZERO_MM = 15.0  # from the left side to where the turns begin
_RIGHT_MM = 3.0
_ROW_MM = HEIGHT_MM + 2.4
_STUB_MM, _LEADER_MM, _APART_MM = 1.6, 5.0, 2.9  # of the gauges' marks, and from name to name


def mark_mm(wire_mm: float, turns: int) -> float:
    """Where so many close turns of a wire end, from the left side: the helix of a usual rod and its gaps are in it."""
    return ZERO_MM + turns_length_mm(wire_mm, turns)


def thickest_mm(turns: int, width_mm: float) -> float:
    """The thickest wire that a row of a width takes, to a whole step of its scale."""
    room = width_mm - ZERO_MM - _RIGHT_MM
    step = ruling_for(turns).step_mm
    most = THICKEST_MM
    while turns_length_mm(most, turns) > room:
        most -= step
    return most


def turns_strip(width_mm: float) -> Drawing:
    """A row for 10, 20 and 40 turns, one under another from one zero line; under the last the gauges, fanned out."""
    sizes = [size for size in gauge_sizes(THINNEST_MM, THICKEST_MM) if size.diameter_mm <= thickest_mm(40, width_mm)]
    fan_mm = _STUB_MM + _LEADER_MM + 0.6 + max(lettering.width_mm(size.name, FIGURE) for size in sizes)
    draft, y = Draft(), fan_mm
    for turns in reversed(TURNS):
        draft.text(0.0, y, f"{turns}", NAME, bold=True)
        draft.text(lettering.width_mm(f"{turns} ", NAME, bold=True), y, "turns", FIGURE)
        draw_scale(
            draft,
            ruling_for(turns),
            THINNEST_MM,
            thickest_mm(turns, width_mm),
            lambda mm, turns=turns: mark_mm(mm, turns),  # type: ignore[misc]
            y,
        )
        draft.line(ZERO_MM, y, mark_mm(THINNEST_MM, turns), y)
        y += _ROW_MM
    height = y - _ROW_MM + HEIGHT_MM + 0.4
    draft.line(ZERO_MM, fan_mm - _STUB_MM, ZERO_MM, height)
    draft.text(ZERO_MM - 0.8, height - lettering.ASCENT * FIGURE, "0", FIGURE, anchor="end", bold=True)
    _fan(draft, sizes, fan_mm)
    return draft.drawing(width_mm, height, "the strip for wire")


def _fan(draft: Draft, sizes: Sequence[Size], base: float) -> None:
    """A mark down from the row of 40 for each gauge, led to its name, which stands upright beside the others."""
    marks = [mark_mm(size.diameter_mm, 40) for size in sizes]
    for size, mark, name in zip(sizes, marks, spread(marks, _APART_MM, ZERO_MM + 1.0), strict=True):
        foot = base - _STUB_MM - _LEADER_MM
        draft.line(mark, base, mark, base - _STUB_MM)
        draft.line(mark, base - _STUB_MM, name, foot, Role.AID)
        draft.text(name + 0.75, foot - 0.6, size.name, FIGURE, anchor="end", angle_deg=90, bold=size.is_shared)


def spread(places: Sequence[float], apart: float, least: float) -> list[float]:
    """Places in ascending order moved as little as may be (least squares) to stand apart, none below `least`.

    Less their own share of the room they are to rise: runs that fall are pooled to their mean.
    """
    pools: list[tuple[float, int]] = []
    for number, place in enumerate(places):
        pools.append((place - number * apart, 1))
        while len(pools) > 1 and pools[-1][0] < pools[-2][0]:
            (one, n), (other, m) = pools.pop(), pools.pop()
            pools.append(((one * n + other * m) / (n + m), n + m))
    even = [max(least, mean) for mean, count in pools for _ in range(count)]
    return [place + number * apart for number, place in enumerate(even)]
