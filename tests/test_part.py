"""Parts: what is cut out of a drawing, with its holes."""

from __future__ import annotations

import math

import pytest

from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.part import Part, parts
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange


def area(points: tuple[tuple[float, float], ...]) -> float:
    ends = (*points[1:], points[0])
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, ends, strict=True)) / 2


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


def test_an_outline_runs_counter_clockwise_and_its_holes_clockwise() -> None:
    (part,) = made(plate())
    assert area(part.outline) == 1200
    (hole,) = part.holes
    assert area(hole) == pytest.approx(-9 * math.pi, abs=2 * math.pi * 3 * 0.01)
    assert part.name == "plate"


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
    assert area(part.outline) == pytest.approx(200 - (4 - math.pi) * 4, abs=0.1)


def test_a_cut_within_a_part_is_a_hole_and_one_within_that_a_part() -> None:
    draft = plate()
    draft.rectangle(20, 5, 15, 20, Role.CUT)
    draft.rectangle(25, 10, 5, 5, Role.CUT)
    whole, island = made(draft)
    assert [round(area(hole)) for hole in whole.holes] == [-300, -28]
    assert (area(island.outline), island.holes) == (25, ())


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
