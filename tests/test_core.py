"""The wooden core for the saw."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.making.core import core_for
from layouts.errors import OutOfRange
from layouts.units import INCH_MM


@pytest.mark.parametrize(
    ("inside", "name"),
    [
        (5.39, "13/64 in"),  # by hand: 5.29 and less: 5.0 mm, 13/64 in = 5.159
        (5.10, "5.0 mm"),  # 5.00; 13/64 in is too thick
        (5.09, "3/16 in"),  # 4.99: 4.5 mm, 3/16 in = 4.7625
        (8.2, "8.0 mm"),  # 8.10: 8.0 mm, 5/16 in = 7.938
        (3.1, "3.0 mm"),
        (3.09, None),  # under 3 mm: tape and groove
        (1.0, None),
    ],
)
def test_the_core_is_the_next_size_a_tenth_under_the_coil(inside: float, name: str | None) -> None:
    core = core_for(inside)
    assert (core.name if core else None) == name


@given(st.floats(3.2, 60))
def test_a_core_is_never_closer_than_a_tenth_nor_a_64th_thinner_than_need_be(inside: float) -> None:
    core = core_for(inside)
    assert core is not None
    assert max(3.0, inside - 0.1 - INCH_MM / 64) - 1e-9 <= core.diameter_mm <= inside - 0.1 + 1e-9


@pytest.mark.parametrize("bad", [math.nan, math.inf, 0.0, -1.0])
def test_a_coil_without_a_size_is_refused(bad: float) -> None:
    with pytest.raises(OutOfRange, match="coil inside"):
        core_for(bad)
