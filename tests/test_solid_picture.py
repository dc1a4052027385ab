"""The picture of a solid: which of its edges are seen, and what covers them."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from solids import job

from layouts.drawing.marks import Polyline
from layouts.pages.page import Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.solids import outlines
from layouts.solids.body import Solid
from layouts.solids.layers import stacked, upright
from layouts.solids.picture import FROM_ABOVE, View, picture, visible_lines

FROM_THE_FRONT = View(turn_deg=0.0, tilt_deg=0.0)


def box(x0: float, y0: float, x1: float, y1: float, high: float, name: str = "box") -> Solid:
    return Solid(title=name, bodies=(stacked(name, [upright(0, high, outlines.rectangle(x0, y0, x1, y1))]),))


def length(solid: Solid, view: View) -> float:
    return sum(math.dist(one, other) for line in visible_lines(solid, view) for one, other in pairwise(line))


def together(*solids: Solid) -> Solid:
    return Solid(title="together", bodies=tuple(body for solid in solids for body in solid.bodies))


def test_of_a_cube_nine_edges_are_seen_and_three_are_behind() -> None:
    """C: edges of 10 mm along x, y and z look as long as their axes from the eye; three of each are seen."""
    view = View()
    right, up, _ = view.axes
    seen = sum(3 * 10 * math.hypot(right[n], up[n]) for n in range(3))
    assert length(box(0, 0, 10, 10, 10), view) == pytest.approx(seen, abs=1e-3)


def test_from_above_and_from_the_front_a_box_is_a_rectangle() -> None:
    for view, wanted in ((FROM_ABOVE, 2 * (20 + 8)), (FROM_THE_FRONT, 2 * (20 + 5))):
        assert length(box(0, 0, 20, 8, 5), view) == pytest.approx(wanted, abs=1e-3)


def test_what_stands_in_front_covers_just_what_is_behind_it() -> None:
    """C: a wall 4 wide and 6 high before one 20 x 10: of the hinder one 4 mm of its foot are lost, no more."""
    raised = stacked("behind", [upright(1, 11, outlines.rectangle(0, 10, 20, 12))])
    behind, before = Solid(title="behind", bodies=(raised,)), box(3, 0, 7, 2, 6)
    both = length(together(behind, before), FROM_THE_FRONT)
    alone = 2 * (20 + 10) + 2 * (4 + 6)
    assert both == pytest.approx(alone - 4, abs=0.05)


def test_an_edge_of_the_lower_rim_is_seen_through_a_hole() -> None:
    """C: from straight above the rims of an upright hole are one circle, drawn once."""
    hole = outlines.around(4, 10, 10)
    plate = Solid(title="plate", bodies=(stacked("plate", [upright(0, 3, outlines.rectangle(0, 0, 20, 20), [hole])]),))
    assert length(plate, FROM_ABOVE) == pytest.approx(80 + 2 * math.pi * 4, abs=0.1)
    # C: tilted, the top is 20 by 20 sin 60, the front 3 cos 60 high; of the lower rim less than its far half is seen.
    sin, cos = math.sin(math.radians(60)), 0.5
    sides = 40 + 40 * sin + 20 + 6 * cos
    low, high = 4, 4 * sin
    ellipse = math.pi * (3 * (low + high) - math.sqrt((3 * low + high) * (low + 3 * high)))  # Ramanujan
    rim = length(plate, View(turn_deg=0.0, tilt_deg=60.0)) - sides - ellipse
    assert 0.2 * ellipse < rim < 0.5 * ellipse


def test_lines_that_meet_are_drawn_as_one() -> None:
    lines = list(visible_lines(box(0, 0, 10, 10, 10), FROM_ABOVE))
    assert len(lines) == 1
    assert lines[0][0] == lines[0][-1]


def test_a_picture_is_as_large_as_its_scale_and_trimmed() -> None:
    whole, half = (picture(box(5, 5, 25, 13, 5), "box", scale, FROM_ABOVE) for scale in (1.0, 0.5))
    assert (whole.width_mm, whole.height_mm) == pytest.approx((20.12, 8.12))
    assert (half.width_mm, half.height_mm) == pytest.approx((10.12, 4.12))
    assert all(isinstance(mark, Polyline) for mark in whole.marks)


@pytest.mark.parametrize("name", ["plug", "hole-plate"])
@pytest.mark.parametrize("paper", ["a4", "a5", "letter"])
def test_the_leaf_of_a_solid_shows_it_and_fits_the_paper(name: str, paper: str) -> None:
    pages = compose(job(name).leaf, Setup(paper=find_paper(paper)))
    assert "the picture" in [placed.drawing.name for placed in pages[0].placed]
    assert len(pages) <= 2
