"""The bench pin's geometry by hand, what wood it must leave, and its refusals."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jigs.making.pin import (
    CLAMP_MM,
    HOLE_MM,
    KERF_LENGTH_MM,
    LAYOUTS,
    LEAST_WOOD_MM,
    MOST_KERFS,
    SLIT_LENGTH_MM,
    VEE_DEPTH_MM,
    VEE_MOUTH_MM,
    Groove,
    Pin,
    coil_in_front_mm,
)
from jigs.stock.blade import find_blade
from layouts.errors import OutOfRange, Refusal, UnknownName


def pin(**given: Any) -> Pin:
    usual = {"length_mm": 120.0, "width_mm": 75.0, "thickness_mm": 19.0, "coil_outside_mm": 8.0}
    return Pin(**{**usual, "blade": find_blade("2"), **given})


# --- the groove: a circle in a right angle, plane geometry


def test_a_coil_of_8_mm_wants_a_groove_5_2_deep_and_10_4_wide() -> None:
    groove = Groove(coil_outside_mm=8)
    assert (groove.depth_mm, groove.width_mm) == (pytest.approx(5.2), pytest.approx(10.4))  # 0.65 OD; 90 degrees


def test_a_coil_of_8_mm_stands_4_457_proud() -> None:
    # by hand: the centre is 4 x 1.414214 = 5.656854 over the bottom; + 4 - 5.2 = 4.456854
    assert Groove(coil_outside_mm=8).proud_mm == pytest.approx(4.456854, abs=1e-6)


def test_a_coil_of_8_mm_touches_2_372_under_the_top() -> None:
    # by hand: 4 / 1.414214 = 2.828427 over the bottom; 5.2 - 2.828427
    assert Groove(coil_outside_mm=8).touch_mm == pytest.approx(2.371573, abs=1e-6)


@given(st.floats(2, 40))
def test_the_coil_is_tangent_to_both_sides(outside: float) -> None:
    """The side at 45 degrees through the bottom is one radius from the centre (distance of a point from a line)."""
    groove = Groove(coil_outside_mm=outside)
    over_bottom = groove.centre_mm + groove.depth_mm
    assert over_bottom * math.sin(math.radians(45)) == pytest.approx(outside / 2)
    assert 0 < groove.touch_mm < groove.depth_mm


@given(st.floats(2, 10), st.floats(1, 4))
def test_the_groove_scales_with_the_coil(outside: float, k: float) -> None:
    small, large = Groove(coil_outside_mm=outside), Groove(coil_outside_mm=k * outside)
    assert large.proud_mm == pytest.approx(k * small.proud_mm)


# --- where things lie


def test_the_usual_pin_has_fingers_of_26_5_mm() -> None:
    assert pin().finger_mm == 26.5  # (75 - 22) / 2


def test_the_saw_line_of_the_vee_ends_on_the_hole() -> None:
    x, y = pin().vee_end
    assert math.hypot(x - 37.5, y - VEE_DEPTH_MM) == pytest.approx(HOLE_MM / 2)
    assert x == pytest.approx(pin().vee_side(y))


def test_without_a_hole_it_ends_at_the_apex() -> None:
    assert pin(layouts=("vee",)).vee_end == (37.5, 50.0)


def test_the_groove_halves_the_coil_hands_finger_and_runs_from_the_front_to_the_clamp() -> None:
    assert pin().groove_x == 13.25
    assert pin().groove_length_mm == 70  # 120 - 50


@pytest.mark.parametrize(("angle", "most"), [(30, 6.2), (45, 3.6), (60, 2.1)])
def test_of_a_coil_of_3_6_mm_so_much_may_stand_in_front_of_the_blade(angle: float, most: float) -> None:
    """By hand: 3.6 / tan 30, 45, 60 degrees = 3.6 x 1.732, x 1, x 0.577."""
    assert coil_in_front_mm(3.6, angle) == pytest.approx(most, abs=0.05)


@given(st.floats(1, 30), st.floats(5, 85))
def test_a_blade_with_so_much_coil_in_front_meets_the_inner_corner_of_the_open_end(inside: float, angle: float) -> None:
    """A straight line that leaves the upper wall there falls by the inside on its way to the open end."""
    assert coil_in_front_mm(inside, angle) * math.tan(math.radians(angle)) == pytest.approx(inside)


@pytest.mark.parametrize("angle", [0.0, 90.0, -45.0, math.nan])
def test_a_blade_along_or_across_the_axis_is_refused(angle: float) -> None:
    with pytest.raises(OutOfRange, match="to the axis"):
        coil_in_front_mm(3.6, angle)


def test_two_starter_kerfs_stand_in_a_finger_of_26_5_mm() -> None:
    assert pin().kerf_xs == pytest.approx((48.5 + 26.5 / 3, 48.5 + 53 / 3))


def test_the_guide_falls_at_45_degrees_over_the_whole_thickness_of_the_wood() -> None:
    assert pin().guide_mm == 19
    assert pin(layouts=("groove",)).guide_mm == 0


def test_a_left_handed_pin_is_the_mirror_image() -> None:
    assert [pin(hand="left").across(x) for x in (0.0, 13.25, 75.0)] == [75.0, 61.75, 0.0]


def test_the_usual_figures_lie_in_the_usual_ranges() -> None:
    """Bench practice: vee 20-25 by 40-60, hole 5-8, kerfs 10-15 long, slit 10-15, groove 0.6-0.7 OD deep."""
    assert 20 <= VEE_MOUTH_MM <= 25
    assert 40 <= VEE_DEPTH_MM <= 60
    assert 5 <= HOLE_MM <= 8
    assert 10 <= KERF_LENGTH_MM <= 15
    assert 10 <= SLIT_LENGTH_MM <= 15
    assert (CLAMP_MM, LEAST_WOOD_MM) == (50, 8)


# --- what must stay

pins = st.fixed_dictionaries(
    {
        "length_mm": st.floats(60, 200),
        "width_mm": st.floats(20, 150),
        "thickness_mm": st.floats(8, 40),
        "coil_outside_mm": st.floats(2, 30),
        "blade": st.sampled_from(["8/0", "2", "8"]).map(find_blade),
        "hand": st.sampled_from(["left", "right"]),
        "layouts": st.lists(st.sampled_from(LAYOUTS), min_size=1, max_size=4).map(tuple),
    }
)


@settings(max_examples=300)
@given(pins)
def test_every_pin_that_is_not_refused_keeps_its_wood(given_values: dict[str, Any]) -> None:
    try:
        made = Pin(**given_values)
    except Refusal:
        assume(False)
        return
    assert made.narrowest_mm >= LEAST_WOOD_MM - 1e-6
    assert len(made.kerf_xs) <= MOST_KERFS
    reach = max(
        SLIT_LENGTH_MM if made.groove else 0.0,
        VEE_DEPTH_MM if made.has_vee else 0.0,
        KERF_LENGTH_MM if made.kerf_xs else 0.0,
    )
    assert made.length_mm - CLAMP_MM - reach >= LEAST_WOOD_MM - 1e-6
    assert not made.groove or made.thickness_mm - made.groove.depth_mm >= LEAST_WOOD_MM - 1e-6


@pytest.mark.parametrize("kerf_mm", [0.36, 0.5, 0.68])
def test_the_least_width_leaves_exactly_8_mm(kerf_mm: float) -> None:
    made = pin(width_mm=22 + 2 * (16 + kerf_mm), blade=find_blade("2").with_kerf(kerf_mm))
    assert made.narrowest_mm == pytest.approx(8)


REFUSED = [
    ({"width_mm": 54.0}, "54 mm of width leaves fingers narrower than 8 mm; make the pin 54.8 mm wide or more or"),
    ({"width_mm": 37.9, "layouts": ("vee",)}, "37.9 mm of width leaves .* make the pin 38 mm wide or more$"),
    ({"width_mm": 30.0, "layouts": ("kerfs",)}, "make the pin 32.8 mm wide or more$"),
    ({"length_mm": 110.0}, "110 mm of length does not leave 50 mm whole for the clamp; make the pin 111 mm long"),
    ({"length_mm": 107.0, "layouts": ("vee",)}, "make the pin 108 mm long or more"),
    ({"length_mm": 67.0, "layouts": ("kerfs",)}, "make the pin 68 mm long or more"),
    (
        {"coil_outside_mm": 18.0},
        r"11.7 mm deep leaves 7.3 mm of 19 mm of wood; 8 mm must stay; .* 19.7 mm thick and 78.8 mm wide .* 16.5 mm",
    ),
    (
        {"thickness_mm": 1.0},
        "a groove 5.2 mm deep goes right through 1 mm of wood; 8 mm must stay; take wood 13.2 mm thick",
    ),
    ({"thickness_mm": 8.5, "coil_outside_mm": 3.0}, "take wood 10 mm thick or more$"),
    (
        {"width_mm": 60.0, "coil_outside_mm": 12.0},
        "15.6 mm wide leaves 1.7 mm beside it .* take wood 63.2 mm wide or more, or a coil up to 10.7 mm",
    ),
    ({"coil_outside_mm": 1.5}, "a coil of 1.5 mm is too small to saw to a line; give a coil of 2 mm outside or more"),
    ({"length_mm": 0.0}, "the length of the pin"),
    ({"width_mm": -75.0}, "the width of the pin"),
    ({"thickness_mm": math.nan}, "the thickness of the pin"),
    ({"coil_outside_mm": math.inf}, "the outside of the coil"),
    ({"layouts": ()}, "a bench pin without a layout; name one or more of full, vee"),
]


@pytest.mark.parametrize(("given_values", "words"), REFUSED)
def test_what_leaves_too_little_wood_is_refused_with_what_to_change(given_values: dict[str, Any], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        pin(**given_values)


def test_what_a_refusal_proposes_is_accepted() -> None:
    pin(width_mm=54.8)
    pin(length_mm=111.0)
    pin(coil_outside_mm=16.5)
    pin(coil_outside_mm=18.0, thickness_mm=19.7, width_mm=78.8)


def test_a_kerf_over_twice_the_blade_is_refused_with_both() -> None:
    """Blade 2 is 0.34 mm thick."""
    words = "a kerf of 0.69 mm is over 2 times the 0.34 mm of blade 2; measure the cut again, or name the blade"
    with pytest.raises(OutOfRange, match=words):
        pin(blade=find_blade("2").with_kerf(0.69))


def test_an_unknown_hand_names_both() -> None:
    with pytest.raises(UnknownName, match="no hand is called 'rihgt'; known: right, left"):
        pin(hand="rihgt")


def test_an_unknown_layout_names_the_known_nearest_first() -> None:
    with pytest.raises(UnknownName, match="no layout is called 'kerf'; known: kerfs, "):
        pin(layouts=("kerf",))


def test_the_narrowest_wood_of_a_full_pin_worked_by_hand() -> None:
    # fingers of (75 - 22) / 2 = 26.5; two kerfs of 0.36 (blade 2) in one, a third of it apart: 8.8333, less a kerf
    # between them 8.4733; the groove's slit in the middle of the other leaves 13.25 - 0.18 on both sides
    assert pin().narrowest_mm == pytest.approx(8.4733, abs=5e-5)
    # without kerfs the slit's sides and the vee's: 13.07; without a slit the vee's alone
    assert pin(layouts=("vee", "groove")).narrowest_mm == pytest.approx(13.07)
    assert pin(layouts=("vee",)).narrowest_mm == pytest.approx(26.5)


def test_a_pin_with_a_guide_alone_needs_only_the_clamp_and_the_wood_in_front_of_it() -> None:
    # 50 mm under the clamp and 8 mm of wood
    assert pin(length_mm=58.0, layouts=("guide",)).guide_mm == 19
    with pytest.raises(OutOfRange, match="make the pin 58 mm long or more"):
        pin(length_mm=57.9, layouts=("guide",))
