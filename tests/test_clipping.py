"""Clipping: what is cut at a line adds up to the whole, lies on it, and stays on its side."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layouts.drawing.clipping import clipped
from layouts.drawing.marks import Annulus, Arc, Box, Circle, Line, Mark, Polyline, Text
from layouts.drawing.pens import Role
from layouts.errors import Refusal

INF = math.inf
place = st.floats(-50, 50).map(lambda x: round(x, 3))
point = st.tuples(place, place)
radius = st.floats(0.5, 40).map(lambda r: round(r, 3))
strokes: st.SearchStrategy[Mark] = st.one_of(
    st.builds(lambda a, b: Line(x1=a[0], y1=a[1], x2=b[0], y2=b[1], role=Role.CUT), point, point),
    st.builds(
        lambda points, closed: Polyline(points=tuple(points), role=Role.CUT, closed=closed),
        st.lists(point, min_size=2, max_size=7),
        st.booleans(),
    ),
    st.builds(lambda c, r: Circle(x=c[0], y=c[1], r=r, role=Role.CUT), point, radius),
    st.builds(
        lambda c, r, start, sweep: Arc(x=c[0], y=c[1], r=r, start_deg=start, sweep_deg=sweep, role=Role.CUT),
        point,
        radius,
        st.floats(-400, 400),
        st.one_of(st.floats(1, 360), st.floats(-360, -1)),
    ),
)


def _star(points: Sequence[tuple[float, float]]) -> Polyline:
    """A polygon that does not cross itself: the points in the order of their direction from the origin."""
    ordered = tuple(sorted(points, key=lambda p: math.atan2(p[1], p[0])))
    return Polyline(points=ordered, role=Role.GAUGE, closed=True, filled=True)


fills: st.SearchStrategy[Mark] = st.one_of(
    st.builds(lambda c, r: Circle(x=c[0], y=c[1], r=r, role=Role.GAUGE, filled=True), point, radius),
    st.builds(
        lambda c, r, share: Annulus(x=c[0], y=c[1], r_outer=r, r_inner=share * r, role=Role.GAUGE),
        point,
        radius,
        st.floats(0.1, 0.9),
    ),
    st.builds(_star, st.lists(point, min_size=3, max_size=9)),
)


def length(mark: Mark) -> float:
    if isinstance(mark, Circle):
        return 2 * math.pi * mark.r
    if isinstance(mark, Arc):
        return math.radians(abs(mark.sweep_deg)) * mark.r
    if isinstance(mark, Line):
        return math.dist((mark.x1, mark.y1), (mark.x2, mark.y2))
    assert isinstance(mark, Polyline)
    ends = (*mark.points, *mark.points[:1]) if mark.closed else mark.points
    return sum(math.dist(a, b) for a, b in pairwise(ends))


def area(mark: Mark) -> float:
    if isinstance(mark, Circle):
        return math.pi * mark.r**2
    if isinstance(mark, Annulus):
        return math.pi * (mark.r_outer**2 - mark.r_inner**2)
    assert isinstance(mark, Polyline)
    around = pairwise((*mark.points, mark.points[0]))
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in around) / 2


def holds(mark: Mark, x: float, y: float) -> bool:
    """Whether a filled mark inks a point, by the even-odd rule."""
    if isinstance(mark, Circle):
        return math.hypot(x - mark.x, y - mark.y) < mark.r
    if isinstance(mark, Annulus):
        return mark.r_inner < math.hypot(x - mark.x, y - mark.y) < mark.r_outer
    assert isinstance(mark, Polyline)
    sides = pairwise((*mark.points, mark.points[0]))
    above = [(a, b) for a, b in sides if (a[1] > y) != (b[1] > y)]
    return sum(a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]) > x for a, b in above) % 2 == 1


def halves(mark: Mark, at: float, *, upright: bool) -> tuple[tuple[Mark, ...], tuple[Mark, ...]]:
    low: Box = (-INF, -INF, at, INF) if upright else (-INF, -INF, INF, at)
    high: Box = (at, -INF, INF, INF) if upright else (-INF, at, INF, INF)
    return clipped(mark, low), clipped(mark, high)


@settings(max_examples=300, deadline=None)
@given(strokes, place, st.booleans())
def test_the_two_sides_of_a_stroke_are_as_long_as_the_whole(mark: Mark, at: float, upright: bool) -> None:
    at += 1e-5  # a stroke along the line itself would be on both sides
    parts = [part for half in halves(mark, at, upright=upright) for part in half]
    assert sum(map(length, parts)) == pytest.approx(length(mark), abs=1e-6)


@settings(max_examples=200, deadline=None)
@given(fills, place, st.booleans())
def test_the_two_sides_of_a_filled_shape_have_the_area_of_the_whole(mark: Mark, at: float, upright: bool) -> None:
    parts = [part for half in halves(mark, at, upright=upright) for part in half]
    within = 4 * math.pi * 40 * 0.0005  # curves are true within half a micrometre
    assert sum(map(area, parts)) == pytest.approx(area(mark), abs=within)


@settings(max_examples=200, deadline=None)
@given(st.one_of(strokes, fills), point, st.floats(1, 80), st.floats(1, 80))
def test_what_is_left_lies_in_the_box(mark: Mark, corner: tuple[float, float], wide: float, high: float) -> None:
    box = corner[0], corner[1], corner[0] + wide, corner[1] + high
    for part in clipped(mark, box):
        left, bottom, right, top = part.box
        assert min(left - box[0], bottom - box[1], box[2] - right, box[3] - top) >= -1e-6


@settings(max_examples=300, deadline=None)
@given(fills, point, st.floats(1, 80), st.floats(1, 80), st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1))))
def test_ink_in_the_box_stays_ink_and_paper_stays_paper(
    mark: Mark, corner: tuple[float, float], wide: float, high: float, shares: list[tuple[float, float]]
) -> None:
    box = corner[0], corner[1], corner[0] + wide, corner[1] + high
    parts = clipped(mark, box)
    for u, v in shares:
        x, y = box[0] + (0.001 + 0.998 * u) * wide, box[1] + (0.001 + 0.998 * v) * high
        if all(holds(mark, x + dx, y + dy) == holds(mark, x, y) for dx in (-0.001, 0.001) for dy in (-0.001, 0.001)):
            assert any(holds(part, x, y) for part in parts) == holds(mark, x, y)


def test_a_circle_across_a_corner_leaves_a_quarter_as_one_arc() -> None:
    (arc,) = clipped(Circle(x=0, y=0, r=10, role=Role.FOLD), (0, 0, 20, 20))
    assert isinstance(arc, Arc)
    assert (arc.start_deg % 360, arc.sweep_deg, arc.role) == (0, pytest.approx(90), Role.FOLD)


def test_the_right_half_of_a_circle_is_one_arc_through_its_start() -> None:
    (arc,) = clipped(Circle(x=0, y=0, r=10, role=Role.CUT), (0, -20, 20, 20))
    assert isinstance(arc, Arc)
    assert (arc.start_deg, arc.sweep_deg) == (pytest.approx(-90), pytest.approx(180))


def test_an_outline_cut_on_one_side_stays_in_one_part() -> None:
    square = Polyline(points=((0, 0), (10, 0), (10, 10), (0, 10)), role=Role.CUT, closed=True)
    (part,) = clipped(square, (-1, -1, 6, 11))
    assert isinstance(part, Polyline)
    assert part.points == ((6, 10), (0, 10), (0, 0), (6, 0))
    assert not part.closed


def test_what_lies_inside_is_the_mark_itself() -> None:
    for mark in (Circle(x=5, y=5, r=2, role=Role.CUT), Text(x=5, y=5, string="in", size_mm=2.5)):
        assert clipped(mark, (0, 0, 20, 20)) == (mark,)


def test_words_are_left_out_where_they_would_be_cut() -> None:
    assert clipped(Text(x=5, y=5, string="long words", size_mm=2.5), (0, 0, 8, 20)) == ()


def test_the_search_for_ink_can_fail() -> None:
    disc = Circle(x=0, y=0, r=10, role=Role.GAUGE, filled=True)
    (half,) = clipped(disc, (0, -20, 20, 20))
    assert not holds(half, -5, 0)
    assert area(half) != pytest.approx(area(disc), abs=1)


def test_no_part_is_refused_as_a_mark() -> None:
    """A sliver is still a mark, or nothing."""
    ring = Annulus(x=0, y=0, r_outer=10, r_inner=9.99, role=Role.GAUGE)
    for at in (9.999999, 10.0, -10.0, 9.99, 0.0):
        try:
            halves(ring, at, upright=True)
        except Refusal as refusal:  # pragma: no cover
            pytest.fail(str(refusal))
