"""The marks: what each refuses, and the boxes that the layout rests on."""

from __future__ import annotations

import cmath
import math
from dataclasses import fields

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layouts.drawing.marks import Annulus, Arc, Circle, Draft, Drawing, Line, Mark, Polyline, Text, union
from layouts.drawing.pens import PENS, Role
from layouts.errors import OutOfRange, Refusal, Unprintable

EACH: tuple[Mark, ...] = (
    Line(x1=1, y1=2, x2=3, y2=4, role=Role.CUT),
    Circle(x=1, y=2, r=3, role=Role.CUT),
    Annulus(x=1, y=2, r_outer=4, r_inner=3, role=Role.GAUGE),
    Arc(x=1, y=2, r=3, start_deg=10, sweep_deg=20, role=Role.CUT),
    Text(x=1, y=2, string="abc", size_mm=3, angle_deg=10),
)
NUMBERS = [
    (mark, field.name)
    for mark in EACH
    for field in fields(mark)
    if isinstance(getattr(mark, field.name), int | float) and not isinstance(getattr(mark, field.name), bool)
]
LINE = Polyline(points=((0, 0), (1, 1)), role=Role.CUT)


def _with(mark: Mark, name: str, value: float) -> Mark:
    given = {field.name: getattr(mark, field.name) for field in fields(mark)}
    return type(mark)(**{**given, name: value})


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize(("mark", "name"), NUMBERS, ids=lambda value: getattr(value, "__class__", value).__name__)
def test_a_number_that_is_not_finite_is_refused_by_every_mark(mark: Mark, name: str, bad: float) -> None:
    with pytest.raises(Unprintable, match="a mark has a coordinate that is not finite; give finite millimetres"):
        _with(mark, name, bad)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize("place", [0, 1, 2])
@pytest.mark.parametrize("axis", [0, 1])
def test_a_polyline_refuses_a_point_that_is_not_finite(bad: float, place: int, axis: int) -> None:
    points = [[0.0, 0.0], [1.0, 1.0], [2.0, 0.0]]
    points[place][axis] = bad
    with pytest.raises(Unprintable, match="not finite"):
        Polyline(points=tuple((x, y) for x, y in points), role=Role.CUT)


def test_two_infinities_of_opposite_sign_do_not_pass() -> None:
    with pytest.raises(Unprintable, match="not finite"):
        Line(x1=math.inf, y1=-math.inf, x2=0, y2=0, role=Role.CUT)


@pytest.mark.parametrize("mark", [*EACH, LINE])
def test_moving_a_mark_to_nowhere_is_refused(mark: Mark) -> None:
    with pytest.raises(Refusal, match="not finite"):
        mark.moved(math.nan, 0)


@pytest.mark.parametrize("r", [0, -1, -0.0])
def test_a_circle_without_a_radius_is_refused(r: float) -> None:
    for name in ("r", "r_inner"):
        mark = EACH[2] if name == "r_inner" else EACH[1]
        with pytest.raises(OutOfRange, match="cannot be drawn; give a radius over zero"):
            _with(mark, name, r)


@pytest.mark.parametrize("outer", [3, 2.9])
def test_a_ring_without_a_width_is_refused(outer: float) -> None:
    with pytest.raises(OutOfRange, match="outer radius is not the larger"):
        Annulus(x=0, y=0, r_outer=outer, r_inner=3, role=Role.GAUGE)


@pytest.mark.parametrize("sweep", [0, 360.1, -361])
def test_an_arc_of_no_sweep_or_over_a_turn_is_refused(sweep: float) -> None:
    with pytest.raises(OutOfRange, match=r"an arc of .* degrees"):
        Arc(x=0, y=0, r=1, start_deg=0, sweep_deg=sweep, role=Role.CUT)


def test_a_polyline_of_one_point_is_refused() -> None:
    with pytest.raises(OutOfRange, match="a polyline of 1 points; give two or more"):
        Polyline(points=((0, 0),), role=Role.CUT)


@pytest.mark.parametrize("size", [(0, 1), (1, 0), (-1, 1), (math.nan, 1), (1, math.inf)])
def test_a_drawing_without_a_size_is_refused(size: tuple[float, float]) -> None:
    with pytest.raises(OutOfRange, match="has no size; give a width and a height over zero"):
        Drawing(marks=(), width_mm=size[0], height_mm=size[1])


@pytest.mark.parametrize("mark", [*EACH, LINE])
def test_marks_are_frozen(mark: Mark) -> None:
    with pytest.raises(AttributeError):
        mark.role = Role.AID  # type: ignore[misc]
    assert not hasattr(mark, "__dict__")


places, radii = st.floats(-300, 300), st.floats(0.01, 150)
sweeps = st.floats(0.01, 360) | st.floats(-360, -0.01)


@settings(max_examples=200, deadline=None)
@given(places, places, radii, st.floats(-1000, 1000), sweeps)
def test_the_box_of_an_arc_is_that_of_its_points(x: float, y: float, r: float, start: float, sweep: float) -> None:
    """Against a thousand points of the arc: outside by nothing, inside by their sagitta at most."""
    arc = Arc(x=x, y=y, r=r, start_deg=start, sweep_deg=sweep, role=Role.CUT)
    xs, ys = zip(*(arc.at(step / 1000) for step in range(1001)), strict=True)
    measured = min(xs), min(ys), max(xs), max(ys)
    sagitta = r * (1 - math.cos(math.radians(sweep) / 2000)) + 1e-9
    left, bottom, right, top = (box - found for box, found in zip(arc.box, measured, strict=True))
    assert -sagitta <= left <= 1e-9
    assert -sagitta <= bottom <= 1e-9
    assert -1e-9 <= right <= sagitta
    assert -1e-9 <= top <= sagitta


@settings(max_examples=100, deadline=None)
@given(places, places, radii, st.floats(-1000, 1000), sweeps, st.floats(0, 1))
def test_every_point_of_an_arc_is_at_its_radius(
    x: float, y: float, r: float, start: float, sweep: float, share: float
) -> None:
    at = Arc(x=x, y=y, r=r, start_deg=start, sweep_deg=sweep, role=Role.CUT).at(share)
    assert math.dist(at, (x, y)) == pytest.approx(r, rel=1e-9)


def test_the_box_of_a_quarter_by_hand() -> None:
    quarter = Arc(x=10, y=20, r=5, start_deg=45, sweep_deg=90, role=Role.CUT)
    half = 5 / math.sqrt(2)
    assert quarter.box == pytest.approx((10 - half, 20 + half, 10 + half, 25))


@settings(max_examples=60, deadline=None)
@given(st.sampled_from([*EACH, LINE]), places, places)
def test_a_moved_mark_has_a_moved_box(mark: Mark, dx: float, dy: float) -> None:
    left, bottom, right, top = mark.box
    assert mark.moved(dx, dy).box == pytest.approx((left + dx, bottom + dy, right + dx, top + dy), abs=1e-9)


@settings(max_examples=80, deadline=None)
@given(st.sampled_from(["start", "middle", "end"]), st.floats(-400, 400), st.text("abcdØ½gp", min_size=1, max_size=20))
def test_words_are_anchored_where_they_say(anchor: str, angle: float, string: str) -> None:
    text = Text(x=30, y=40, string=string, size_mm=3, anchor=anchor, angle_deg=angle)  # type: ignore[arg-type]
    turn = cmath.exp(1j * math.radians(angle))
    back = {"start": 0, "middle": 0.5, "end": 1}[anchor]
    assert complex(*text.start) + back * text.width_mm * turn == pytest.approx(30 + 40j)
    left, bottom, right, top = text.box
    middle = complex(*text.start) + (text.width_mm / 2) * turn
    assert left <= middle.real <= right
    assert bottom <= middle.imag <= top


def test_ink_is_half_a_line_over_the_middle_and_none_over_an_edge() -> None:
    half = PENS[Role.CUT].width_mm / 2
    assert Circle(x=0, y=0, r=3, role=Role.CUT).inked == (-3 - half, -3 - half, 3 + half, 3 + half)
    assert Circle(x=0, y=0, r=3, role=Role.GAUGE, filled=True).inked == (-3, -3, 3, 3)
    assert EACH[2].inked == EACH[2].box
    assert EACH[4].inked == EACH[4].box


def test_union_is_the_smallest_box_around_all() -> None:
    assert union([(0, 1, 2, 3), (-1, 2, 1, 5)]) == (-1, 1, 2, 5)


def test_a_trimmed_drawing_starts_at_its_ink() -> None:
    draft = Draft()
    draft.disc(50, 60, 5)
    draft.line(40, 60, 70, 60, Role.CUT)
    drawing = draft.trimmed()
    assert drawing.extent[:2] == pytest.approx((0, 0))
    assert drawing.extent[2:] == pytest.approx((drawing.width_mm, drawing.height_mm))
    assert (drawing.width_mm, drawing.height_mm) == pytest.approx((30.25, 10))


def test_a_draft_makes_the_marks_that_it_is_asked_for() -> None:
    draft = Draft()
    draft.cross(5, 5, 2)
    draft.rectangle(0, 0, 3, 4, Role.LABEL)
    draft.bar(0, 0, 3, 4)
    draft.add([Line(x1=0, y1=0, x2=1, y2=0, role=Role.AID)], dx=2, dy=3)
    across, along, outline, bar, moved = draft
    assert (across.box, along.box) == ((3, 5, 7, 5), (5, 3, 5, 7))
    assert outline == Polyline(points=((0, 0), (3, 0), (3, 4), (0, 4)), role=Role.LABEL, closed=True)
    assert bar == Polyline(points=((0, 0), (3, 0), (3, 4), (0, 4)), role=Role.GAUGE, closed=True, filled=True)
    assert moved.box == (2, 3, 3, 3)


def test_every_role_has_a_pen() -> None:
    assert set(PENS) == set(Role)
    assert all(0.1 <= pen.width_mm <= 0.3 and 0 <= pen.shade < 1 for pen in PENS.values())
