"""Outlines: areas and offsets by hand (C: plane geometry), and offsets of any polygon by what they keep."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from layouts.drawing.outline import Corner, Outline, Round
from layouts.errors import OutOfRange


def polygon(*points: tuple[float, float]) -> Outline:
    return Outline(corners=tuple(Corner(x, y) for x, y in points))


def slot(length: float, width: float) -> Outline:
    """Two straight sides and two half circles."""
    half, r = (length - width) / 2, width / 2
    return Outline(corners=(Corner(-half, -r), Corner(half, -r, 180), Corner(half, r), Corner(-half, r, 180)))


SQUARE = polygon((0, 0), (10, 0), (10, 10), (0, 10))
# an L: 10 x 10 less 6 x 6 at its upper right
ELL = polygon((0, 0), (10, 0), (10, 4), (4, 4), (4, 10), (0, 10))


def test_areas_by_hand() -> None:
    assert SQUARE.area_mm2 == pytest.approx(100)
    assert ELL.area_mm2 == pytest.approx(64)
    assert slot(20, 6).area_mm2 == pytest.approx(14 * 6 + math.pi * 9)
    assert Round(x=1, y=2, r=3).area_mm2 == pytest.approx(math.pi * 9)
    assert SQUARE.turned_round().area_mm2 == pytest.approx(-100)


def test_lengths_by_hand() -> None:
    assert slot(20, 6).length_mm == pytest.approx(28 + 6 * math.pi)
    assert Round(x=0, y=0, r=2).length_mm == pytest.approx(4 * math.pi)


def test_a_slot_grown_is_a_longer_and_wider_slot() -> None:
    grown = slot(20, 6).grown(0.1)
    assert [corner.sweep_deg for corner in grown.corners] == pytest.approx([0, 180, 0, 180])
    assert grown.box == pytest.approx((-10.1, -3.1, 10.1, 3.1))
    assert grown.area_mm2 == pytest.approx(slot(20.2, 6.2).area_mm2)


def test_corners_move_to_where_the_sides_now_meet() -> None:
    assert ELL.grown(0.5).corners == tuple(
        Corner(*point) for point in ((-0.5, -0.5), (10.5, -0.5), (10.5, 4.5), (4.5, 4.5), (4.5, 10.5), (-0.5, 10.5))
    )
    assert ELL.grown(-0.5).area_mm2 == pytest.approx(9 * 9 - 6 * 6)


def test_a_sharp_corner_is_rounded_about_where_it_was() -> None:
    spike = polygon((0, 0), (10, 1), (0, 2))
    grown = spike.grown(0.2)
    (sweep,) = [corner.sweep_deg for corner in grown.corners if corner.sweep_deg]
    assert sweep == pytest.approx(180 - 2 * math.degrees(math.atan(0.1)))
    rounding = next(piece for piece in grown.pieces if piece.is_arc)
    assert rounding.centre == pytest.approx((10, 1))
    assert rounding.radius == pytest.approx(0.2)


def test_where_a_side_meets_an_arc_they_are_cut_where_they_cross() -> None:
    # half a disc of radius 5 over a straight side: grown by 1, radius 6 over a side 1 lower, at x = sqrt(35)
    dome = Outline(corners=(Corner(-5, 0), Corner(5, 0, 180)))
    grown = dome.grown(1.0)
    assert grown.corners[0][:2] == pytest.approx((-math.sqrt(35), -1))
    assert grown.box[3] == pytest.approx(6)
    assert grown.pieces[1].radius == pytest.approx(6)


@pytest.mark.parametrize(
    ("outline", "by"),
    [(slot(20, 6), -3.0), (polygon((0, 0), (10, 0), (10, 0.2), (0, 0.2)), -0.1), (Round(x=0, y=0, r=0.1), -0.1)],
)
def test_what_the_kerf_would_eat_is_refused(outline: Outline | Round, by: float) -> None:
    with pytest.raises(OutOfRange, match="within the kerf; make it wider"):
        outline.grown(by)


def test_a_notch_narrower_than_the_kerf_is_refused() -> None:
    notched = polygon((0, 0), (4.9, 0), (4.9, 5), (5.1, 5), (5.1, 0), (10, 0), (10, 10), (0, 10))
    assert notched.grown(0.09).area_mm2 > notched.area_mm2
    with pytest.raises(OutOfRange, match=r"a cut 0\.20 mm wide"):
        notched.grown(0.11)


def test_a_stretched_circle_stays_one_and_an_arc_keeps_its_angle() -> None:
    assert Round(x=10, y=20, r=5).stretched(1.01, 0.99) == Round(x=10.1, y=19.8, r=5)
    assert slot(20, 6).stretched(1.01, 1.01).area_mm2 == pytest.approx(slot(20, 6).area_mm2 * 1.01**2)


@given(st.integers(3, 12), st.lists(st.floats(3, 10), min_size=12, max_size=12), st.floats(0.01, 0.2))
def test_a_star_that_grows_and_shrinks_again_is_what_it_was(count: int, radii: list[float], by: float) -> None:
    """Every corner is rounded or comes back to itself; what it gains is its length times the way, and the corners."""
    star = polygon(
        *(
            (radii[at] * math.cos(math.tau * at / count), radii[at] * math.sin(math.tau * at / count))
            for at in range(count)
        )
    )
    grown = star.grown(by)
    assert grown.area_mm2 - star.area_mm2 == pytest.approx(by * (star.length_mm + grown.length_mm) / 2, rel=1e-6)
    for x, y in grown.points(0.001):
        away = min(_distance((x, y), piece.start, piece.end) for piece in star.pieces)
        assert by - 1e-6 <= away <= 2.5 * by + 1e-6


def _distance(point: tuple[float, float], start: tuple[float, float], end: tuple[float, float]) -> float:
    (x, y), (x0, y0), (x1, y1) = point, start, end
    length = math.dist(start, end)
    share = ((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / length**2
    share = min(1.0, max(0.0, share))
    return math.dist(point, (x0 + share * (x1 - x0), y0 + share * (y1 - y0)))
