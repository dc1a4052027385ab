"""A ruler of a length of one's own: millimetres above, inches below, in an outline to cut out."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.guides.catalogue import Asked, AskedKind, Made, Sheet
from layouts.drawing import rulers
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange
from layouts.lengths import sized_short
from layouts.pages.page import Content, Field
from layouts.showing import inches_of, show_mm, show_number
from layouts.units import positive

SHORTEST_MM, LONGEST_MM = 20.0, 3000.0
_SIDE_MM, _EDGE_MM = 6.0, 1.5  # from the ends and from the scales to the outline

_NOTES = (
    "Cut out along the outline and glue on a lath or a bench edge. Zero is the first tick, not the end of the paper. "
    "Paper moves with the weather: hold it against a steel rule before you trust it over its whole length.",
)


def ruler_sheet(length_mm: float) -> Content:
    """A sheet with one ruler whose scales end at a length in mm, 20 mm to 3 m.

    Longer than the paper, it is for tiles to be joined.
    """
    if not SHORTEST_MM <= positive(length_mm, "the length of a ruler") <= LONGEST_MM:
        raise OutOfRange(
            f"{show_mm(length_mm)} is too {'short' if length_mm < SHORTEST_MM else 'long'} for a ruler",
            f"give it {SHORTEST_MM:g} to {LONGEST_MM:g} mm, which is 3 m",
        )

    def draw(field: Field) -> Sequence[Drawing]:
        draft, scales = Draft(), rulers.ruler_to(length_mm)
        width, height = length_mm + 2 * _SIDE_MM, scales.height_mm + 2 * _EDGE_MM
        draft.add(scales.marks, _SIDE_MM, _EDGE_MM)
        draft.rectangle(0.0, 0.0, width, height, Role.CUT)
        return [draft.drawing(width, height, f"a ruler of {sized_short(length_mm)}")]

    facts = (("length", f"{sized_short(length_mm)}, {show_number(inches_of(length_mm, 1), 1)} in"),)
    return Content(title="Ruler", facts=facts, draw=draw, notes=_NOTES)


SHEET = Sheet(
    name="ruler",
    summary="A ruler to cut out, as long as you like: what is longer than the paper goes over several pages.",
    about=(
        "A ruler to cut out, millimetres above and inches below.",
        "One that is longer than the paper can be split over several pages that are joined by hand.",
    ),
    fields=(Asked(key="length", kind=AskedKind.LENGTH, help="Of its scales; up to 3 m.", default="150 mm"),),
    build=lambda length: Made(content=ruler_sheet(length)),
    examples=(
        {},
        {"length": "500 mm", "tile": True},
        {"length": "1 m", "tile": True, "paper": "a3", "landscape": True},
    ),
    place=50,
)
