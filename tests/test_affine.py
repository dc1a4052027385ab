"""Property: a transform can be undone, follows another as it should, and refuses what cannot be used."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from layouts.affine import IDENTITY, Affine
from layouts.errors import OutOfRange

numbers = st.floats(-3, 3)
places = st.floats(-400, 400)
points = st.tuples(places, places)


@st.composite
def affines(draw: st.DrawFn) -> Affine:
    a, b, c, d = (draw(numbers) for _ in range(4))
    assume(abs(a * d - b * c) > 0.05)
    return Affine(a=a, b=b, c=c, d=d, e=draw(places), f=draw(places))


few = settings(max_examples=150, deadline=None)


def near(point: tuple[float, float]) -> object:
    return pytest.approx(point, abs=1e-7)


@few
@given(affines(), points)
def test_the_inverse_brings_a_point_back(transform: Affine, point: tuple[float, float]) -> None:
    assert near(point) == transform.inverse().apply(*transform.apply(*point))
    assert near(point) == transform.apply(*transform.inverse().apply(*point))


@few
@given(affines(), affines(), points)
def test_after_does_the_first_then_this(one: Affine, other: Affine, point: tuple[float, float]) -> None:
    assert near(one.apply(*other.apply(*point))) == one.after(other).apply(*point)


@few
@given(affines(), affines(), affines(), points)
def test_order_of_joining_does_not_matter(a: Affine, b: Affine, c: Affine, point: tuple[float, float]) -> None:
    assert pytest.approx(a.after(b).after(c).apply(*point), abs=1e-6) == a.after(b.after(c)).apply(*point)


@few
@given(affines(), affines())
def test_area_factors_multiply(one: Affine, other: Affine) -> None:
    assert one.after(other).determinant == pytest.approx(one.determinant * other.determinant, abs=1e-9)


@few
@given(affines(), points)
def test_about_a_point_keeps_that_point(transform: Affine, point: tuple[float, float]) -> None:
    turned = Affine(a=transform.a, b=transform.b, c=transform.c, d=transform.d)
    assert near(point) == turned.about(*point).apply(*point)


@given(affines())
@few
def test_the_identity_changes_nothing(transform: Affine) -> None:
    assert transform == IDENTITY.after(transform) == transform.after(IDENTITY)


def test_a_quarter_turn_by_hand() -> None:
    quarter = Affine(a=0, b=1, c=-1, d=0)  # counter-clockwise, y up
    assert quarter.apply(3, 0) == (0, 3)
    assert quarter.about(1, 1).apply(1, 0) == (2, 1)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize("name", list("abcdef"))
def test_a_coefficient_that_is_not_finite_is_refused(name: str, bad: float) -> None:
    with pytest.raises(OutOfRange, match="a coefficient that is not finite; give six finite numbers"):
        Affine(**{name: bad})


def test_a_transform_that_flattens_is_refused() -> None:
    with pytest.raises(OutOfRange, match="flattens the page to a line; give one that can be undone"):
        Affine(a=1, b=2, c=2, d=4)
