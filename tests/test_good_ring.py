"""What still passes as a good ring, and how a planned one lies to that."""

from __future__ import annotations

import math

import pytest

from jigs.making.good_ring import Fit, GoodRing
from jigs.making.ring import Ring
from layouts.errors import OutOfRange, QuantityRefused


def good(inside_mm: float = 4.3, **more: float) -> GoodRing:
    return GoodRing(wanted=Ring(wire_mm=1.024, inside_mm=inside_mm), **more)


def test_the_window_is_two_percent_of_the_ratio_in_whole_hundredths() -> None:
    # by hand: 2 % of 4.30 mm is 0.086, in hundredths 0.08
    assert good().tolerance_mm == 0.08
    assert good().window_mm == pytest.approx((4.22, 4.38))


def test_a_window_of_ones_own_is_narrower() -> None:
    assert good(5.0, within=0.01).window_mm == pytest.approx((4.95, 5.05))


def test_the_window_of_a_tiny_ring_is_what_a_caliper_shows() -> None:
    assert good(0.4).tolerance_mm == 0.01


@pytest.mark.parametrize(
    ("inside", "passes"), [(4.22, True), (4.38, True), (4.219, False), (4.381, False), (4.15, False)]
)
def test_the_ends_of_the_window_pass(inside: float, passes: bool) -> None:
    assert good().passes(inside) is passes


@pytest.mark.parametrize(
    ("planned", "fit"),
    [
        ((4.30,), Fit.INSIDE),
        ((4.15,), Fit.OUTSIDE),
        ((4.30, 4.25, 4.36), Fit.INSIDE),
        ((4.30, 4.20, 4.36), Fit.STRADDLES),
        ((4.30, 4.25, 4.40), Fit.STRADDLES),
        ((4.30, 4.25, None), Fit.STRADDLES),  # it may spring straight
        ((4.15, 4.10, 4.30), Fit.OUTSIDE),
    ],
)
def test_a_planned_ring_is_inside_straddles_or_is_outside(planned: tuple[float, ...], fit: Fit) -> None:
    assert good().fit(*planned) is fit


@pytest.mark.parametrize("within", [0.0, -0.01, 0.6, math.nan])
def test_a_window_that_cannot_be_is_refused(within: float) -> None:
    with pytest.raises((OutOfRange, QuantityRefused), match="AR"):
        good(within=within)
