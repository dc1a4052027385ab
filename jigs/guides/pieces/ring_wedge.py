"""A wedge that reads the outside of rings, with a scale under it for each wire that gives the inside."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from jigs.stock.wire import Wire
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.wedge import Wedge, draw_wedge
from layouts.drawing.words import FIGURE, WORDS, listing
from layouts.lengths import are_inches, bare, bare_short, sized, unit_said
from layouts.pages.page import Field
from layouts.unit_tables import INCH_MM

NAMES_MM = 17.0  # the column of names at the left
ROW_MM = 3.65
_BESIDE_MM = 3.5  # room for half a numeral at each end of the wedge


Row = tuple[Wire, Sequence[float]]
"""A wire, and the insides [mm] of its rings in ascending order."""


def wedges_for(rows: Sequence[Row], field: Field) -> list[Drawing]:
    """The wedge with a row for each wire; more than one when the rows do not fit one."""
    outsides = sorted(inside + 2 * wire.diameter_mm for wire, insides_mm in rows for inside in insides_mm)
    wedge = wedge_for(outsides, field.width_mm - NAMES_MM - 2 * _BESIDE_MM)
    words = (
        "Slide the ring flat towards the narrow end until its outside just touches both black edges: no white between,"
        " no black hidden. Where it touches, read OD above, and below it ID for each wire."
        f" {sized(wedge.travel / 10, 1)} of travel is {sized(0.1)} of OD."
    )
    intro = listing((words,), field.width_mm, "Wedge for the outside")
    bare = intro.height_mm + wedge.above_mm + wedge.below_mm + 1.5
    most = max(1, math.floor((field.height_mm - bare) / ROW_MM))
    drawings, x = [], NAMES_MM + _BESIDE_MM
    for first in range(0, len(rows), most):
        part = rows[first : first + most]
        height = bare + ROW_MM * len(part)
        draft = Draft()
        draft.add(intro.drawing().marks, 0.0, height - intro.height_mm)
        axis = height - intro.height_mm - wedge.above_mm
        draft.text(0, axis - 0.9, f"OD {unit_said()}", WORDS, bold=True)
        draw_wedge(draft, wedge, x, axis)
        for number, row in enumerate(part):
            draw_row(draft, wedge, (x, axis - wedge.below_mm - 1.5 - number * ROW_MM), row)
        drawings.append(draft.drawing(intro.width_mm, height, "the wedge of the ring card"))
    return drawings


def wedge_for(outsides_mm: Sequence[float], length_mm: float) -> Wedge:
    """A wedge for outside diameters in ascending order, with about a millimetre to spare at both ends."""
    # to whole half millimetres, where the scale has its longer ticks
    per_mm = 100 / INCH_MM if are_inches() else 10  # in inches to whole twentieths
    spare = 0.8 * per_mm
    low = 5 * math.floor((per_mm * outsides_mm[0] - spare) / 5)
    high = 5 * math.ceil((per_mm * outsides_mm[-1] + spare) / 5)
    # the slot is open at its narrow end
    per_numeral = 100 if are_inches() else 10
    return Wedge(low_tenths=max(low, 2), high_tenths=high, length_mm=length_mm, per_mm=per_mm, per_numeral=per_numeral)


def draw_row(draft: Draft, wedge: Wedge, at: tuple[float, float], row: Row) -> None:
    """A tick where each ring of the wire sits in the wedge; its inside is written where there is room."""
    (x, y), (wire, insides_mm) = at, row
    draft.text(0, y - 3.0, f"ID, {row_name(wire)}", FIGURE)
    draft.line(x, y, x + wedge.length_mm, y, Role.AID)
    figures = [bare_short(inside) for inside in insides_mm]
    if are_inches():  # as many places for all
        places = max(len(figure.partition(".")[2]) for figure in figures)
        figures = [f"{float(figure):.{places}f}" for figure in figures]
    touched = (x + wedge.touch(inside + 2 * wire.diameter_mm)[0] for inside in insides_mm)
    ticks = list(zip(touched, figures, strict=True))
    for tick, _ in ticks:
        draft.line(tick, y, tick, y - 1.1)
    # Every inside in figures, or every second, third, ... one: as many as can be written side by side.
    for step in range(1, len(ticks)):
        chosen = ticks[::step]
        ends = [lettering.width_mm(string, FIGURE) / 2 for _, string in chosen]
        room = (b[0] - a[0] - 0.8 for a, b in pairwise(chosen))  # figures closer than 0.8 mm read as one
        if all(left + right <= gap for left, right, gap in zip(ends, ends[1:], room, strict=False)):
            break
    else:
        chosen = ticks[:1]
    for tick, string in chosen:
        draft.text(tick, y - 3.0, string, FIGURE, anchor="middle")


def row_name(wire: Wire) -> str:
    """'16 AWG', or the diameter without the other unit: a row has no room for both."""
    return str(wire.gauge) if wire.gauge else f"{bare(wire.diameter_mm, 3)} {unit_said()}"


def in_full(wire: Wire) -> str:
    """'16 AWG, 1.291 mm'; millimetres alone when the wire was given so."""
    mm = sized(wire.diameter_mm, 3)
    return f"{wire.gauge}, {mm}" if wire.gauge else mm


def in_short(wire: Wire) -> str:
    """'16 AWG', or millimetres."""
    return str(wire.gauge) if wire.gauge else sized(wire.diameter_mm, 3)
