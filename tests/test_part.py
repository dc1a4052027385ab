"""Parts: what is cut out of a drawing, with its holes."""

from __future__ import annotations

import math

import pytest

from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.outline import Outline, Round
from layouts.drawing.part import Part, parts
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange


def plate() -> Draft:
    draft = Draft()
    draft.rectangle(0, 0, 40, 30, Role.CUT)
    draft.circle(10, 10, 3, Role.HOLE)
    draft.cross(10, 10, 4)
    draft.text(20, 20, "keep", 2.5)
    draft.line(0, 15, 40, 15, Role.FOLD)
    return draft


def made(draft: Draft) -> tuple[Part, ...]:
    return parts(draft.drawing(100, 100, "plate"))


def test_an_outline_has_its_hole_and_a_circle_stays_one() -> None:
    (part,) = made(plate())
    assert part.outline.area_mm2 == 1200
    assert part.holes == (Round(x=10, y=10, r=3),)
    assert part.name == "plate"


@pytest.mark.parametrize("way", [1, -1])
def test_outlines_run_counter_clockwise_whichever_way_they_are_drawn(way: int) -> None:
    draft = Draft()
    draft.polyline(((0, 0), (40, 0), (40, 30))[::way], Role.CUT, closed=True)
    (part,) = made(draft)
    assert part.outline.area_mm2 == 600


def test_lines_and_arcs_that_meet_are_one_outline() -> None:
    """A rounded rectangle drawn stroke by stroke, some of them backwards: 20 x 10 less the corners of radius 2."""
    draft = Draft()
    draft.line(2, 0, 18, 0, Role.CUT)
    draft.line(18, 10, 2, 10, Role.CUT)
    draft.line(0, 8, 0, 2, Role.CUT)
    draft.line(20, 8, 20, 2, Role.CUT)
    for x, y, start in ((18, 8, 0), (2, 8, 90), (2, 2, 180), (18, 2, 270)):
        draft.arc(x, y, 2, start, 90, Role.CUT)
    (part,) = made(draft)
    assert part.outline.area_mm2 == pytest.approx(200 - (4 - math.pi) * 4)
    assert isinstance(part.outline, Outline)
    assert sorted(corner.sweep_deg for corner in part.outline.corners) == pytest.approx([0, 0, 0, 0, 90, 90, 90, 90])


def test_a_cut_within_a_part_is_a_hole_and_one_within_that_a_part() -> None:
    draft = plate()
    draft.rectangle(20, 5, 15, 20, Role.CUT)
    draft.rectangle(25, 10, 5, 5, Role.CUT)
    whole, island = made(draft)
    assert [round(hole.area_mm2) for hole in whole.holes] == [300, 28]
    assert (island.outline.area_mm2, island.holes) == (25, ())
    assert (whole.depth, island.depth) == (0, 1)


def test_parts_stand_side_by_side() -> None:
    draft = plate()
    draft.circle(70, 50, 5, Role.CUT)
    assert [len(part.holes) for part in made(draft)] == [1, 0]


def test_nothing_to_cut_is_no_part() -> None:
    assert parts(Drawing(marks=(), width_mm=1, height_mm=1)) == ()


def test_a_cut_that_encloses_nothing_and_a_hole_outside_are_refused() -> None:
    draft = plate()
    draft.line(50, 50, 60, 50, Role.CUT)
    with pytest.raises(
        OutOfRange, match=r"a cut line of plate that encloses nothing, from 50\.00, 50\.00 mm; close it"
    ):
        made(draft)
    draft = plate()
    draft.circle(60, 60, 3, Role.HOLE)
    with pytest.raises(OutOfRange, match="a hole outside every outline of plate"):
        made(draft)
