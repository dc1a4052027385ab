"""Ink spread undone: which shapes shrink, by how much, and what is refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from layouts.drawing.ink import compensated
from layouts.drawing.marks import Annulus, Circle, Draft, Drawing, Point, Polyline
from layouts.drawing.marks.insets import inset
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange


def drawn(fill: str) -> Drawing:
    draft = Draft()
    draft.disc(5, 5, 2)
    draft.annulus(15, 5, 4, 3)
    draft.patch(((20, 0), (30, 0), (30, 5), (20, 5)))
    draft.disc(40, 5, 2, Role.TINT if fill == "tint" else Role.LABEL)
    draft.circle(50, 5, 2, Role.CUT)
    draft.text(0, 9, "words", 2.5)
    return draft.drawing(60, 12)


def test_filled_gauges_shrink_and_nothing_else_changes() -> None:
    before, after = drawn("tint").marks, compensated(drawn("tint"), 0.1).marks
    disc, ring, patch = after[:3]
    assert isinstance(disc, Circle)
    assert isinstance(ring, Annulus)
    assert isinstance(patch, Polyline)
    assert disc.r == pytest.approx(1.9)
    assert (ring.r_outer, ring.r_inner) == (pytest.approx(3.9), pytest.approx(3.1))
    assert patch.box == pytest.approx((20.1, 0.1, 29.9, 4.9))
    assert after[3:] == before[3:]


def test_ink_that_shrinks_makes_gauges_grow() -> None:
    disc, ring, patch, *_ = compensated(drawn("tint"), -0.1).marks
    assert isinstance(disc, Circle)
    assert isinstance(ring, Annulus)
    assert (disc.r, ring.r_outer, ring.r_inner) == (pytest.approx(2.1), pytest.approx(4.1), pytest.approx(2.9))
    assert patch.box == pytest.approx((19.9, -0.1, 30.1, 5.1))


def test_without_spread_or_gauges_the_drawing_is_the_same_one() -> None:
    drawing = drawn("tint")
    assert compensated(drawing, 0.0) is drawing
    draft = Draft()
    draft.circle(5, 5, 2, Role.CUT)
    plain = draft.drawing(10, 10)
    assert compensated(plain, 0.1) is plain


@pytest.mark.parametrize("spread", [0.5, 0.6, -3.0])
def test_a_shape_that_would_vanish_is_refused(spread: float) -> None:
    with pytest.raises(OutOfRange, match=r"vanishes when an ink spread of .* an edge is undone; leave it out"):
        compensated(drawn("tint"), spread)


def test_a_disc_no_larger_than_the_spread_is_refused() -> None:
    draft = Draft()
    draft.disc(1, 1, 0.1)
    with pytest.raises(OutOfRange, match=r"a disc of 0\.2 mm vanishes"):
        compensated(draft.drawing(2, 2), 0.1)


SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
ELL = ((0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (4.0, 4.0), (4.0, 10.0), (0.0, 10.0))


def test_an_inset_corner_turned_inwards_stays_at_its_distance() -> None:
    # Worked by hand: the inner corner (4, 4) of an L moves to (3, 3).
    assert inset(ELL, 1.0) == ((1, 1), (9, 1), (9, 3), (3, 3), (3, 9), (1, 9))


def test_which_way_round_a_polygon_runs_does_not_matter() -> None:
    assert set(inset(ELL[::-1], 1.0)) == set(inset(ELL, 1.0))


def test_points_that_repeat_or_lie_on_a_side_do_no_harm() -> None:
    square = (SQUARE[0], SQUARE[0], (5.0, 0.0), *SQUARE[1:], SQUARE[0])
    assert set(inset(square, 1.0)) == {(1, 1), (5, 1), (9, 1), (9, 9), (1, 9)}


def test_a_narrow_wedge_keeps_its_sides_at_their_distance() -> None:
    wedge: tuple[Point, ...] = ((0.0, 0.0), (100.0, 5.0), (100.0, 6.0), (0.0, 0.4))
    moved = inset(wedge, 0.05)
    for (x0, y0), (x1, y1), (u, v) in zip(wedge, (*wedge[1:], wedge[0]), moved, strict=True):
        distance = ((x1 - x0) * (v - y0) - (y1 - y0) * (u - x0)) / math.hypot(x1 - x0, y1 - y0)
        assert distance == pytest.approx(0.05, abs=1e-12)


@pytest.mark.parametrize("by", [2.0, 2.1, 6.0])
def test_an_inset_that_turns_a_side_over_is_refused(by: float) -> None:
    with pytest.raises(OutOfRange, match="vanishes"):
        inset(ELL, by)


@given(st.floats(-0.2, 0.2), st.integers(3, 12), st.floats(0, 6.28))
def test_what_was_moved_in_comes_back_when_it_is_moved_out(by: float, corners: int, start: float) -> None:
    angles = [start + math.tau * corner / corners for corner in range(corners)]
    polygon = tuple((5 * math.cos(angle), 5 * math.sin(angle)) for angle in angles)
    back = inset(inset(polygon, by), -by)
    assert [number for point in back for number in point] == pytest.approx(
        [number for point in polygon for number in point], abs=1e-9
    )
