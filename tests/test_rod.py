"""Rods for mandrels."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.stock.rod import Rod, RodKind, nearest_rods
from layouts.errors import OutOfRange
from layouts.units import INCH_MM


@pytest.mark.parametrize(
    ("mandrel_mm", "names"),
    [
        (5.5344, ["7/32 in", "5.5 mm", "ground rod 5.6 mm", "drill #2"]),
        (6.0, ["6.0 mm", "drill B", "15/64 in", "ground rod 5.9 mm"]),
        (9.5, ["9.5 mm", "3/8 in", "drill V", "ground rod 9.4 mm"]),
        (0.3, ["drill 0.30 mm", "1/64 in", "0.5 mm", "ground rod 1.1 mm"]),
    ],
)
def test_the_four_nearest_are_one_of_each_kind_nearest_first(mandrel_mm: float, names: list[str]) -> None:
    rods = nearest_rods(mandrel_mm)
    assert [rod.name for rod in rods] == names
    assert {rod.kind for rod in rods} == set(RodKind)


def test_past_the_largest_drill_rods_alone_are_offered() -> None:
    rods = nearest_rods(30)
    assert [rod.name for rod in rods] == ["30.0 mm", "1 3/16 in", "1 11/64 in", "29.5 mm"]


def test_a_size_sold_as_rod_is_not_listed_again_as_a_shank() -> None:
    sizes = [round(rod.diameter_mm, 6) for rod in nearest_rods(6.35, count=30)]
    assert len(sizes) == len(set(sizes)) == 30


@given(st.floats(min_value=0.2, max_value=60), st.integers(min_value=1, max_value=12))
def test_rods_come_nearest_first_and_as_many_as_asked(mandrel_mm: float, count: int) -> None:
    off = [abs(rod.diameter_mm - mandrel_mm) for rod in nearest_rods(mandrel_mm, count)]
    assert len(off) == count
    assert off == sorted(off)


@given(st.floats(min_value=0.6, max_value=60))
def test_no_metric_or_inch_rod_is_more_than_half_a_step_away(mandrel_mm: float) -> None:
    rods = nearest_rods(mandrel_mm)
    for kind, half_a_step in ((RodKind.METRIC, 0.25), (RodKind.INCH, INCH_MM / 128)):
        off = min(abs(rod.diameter_mm - mandrel_mm) for rod in rods if rod.kind == kind)
        assert off <= half_a_step + 1e-9


def test_ground_rod_goes_by_tenths_and_quarters_from_1_to_13_mm() -> None:
    def ground(mm: float) -> list[float]:
        found = nearest_rods(mm, 40)
        return sorted(
            rod.diameter_mm for rod in found if rod.kind is RodKind.GROUND and abs(rod.diameter_mm - mm) < 0.4
        )

    assert ground(4.25) == [3.9, 4.1, 4.2, 4.25, 4.3, 4.4, 4.6]  # whole and half millimetres are plain rod
    assert ground(12.9)[-2:] == [12.8, 12.9]
    assert 12.7 not in ground(12.9)  # half an inch, sold as plain rod


@pytest.mark.parametrize("mm", [float("nan"), float("inf"), 0.0, -1.0])
def test_a_mandrel_that_is_no_length_is_refused(mm: float) -> None:
    with pytest.raises(OutOfRange, match=r"mandrel is"):
        nearest_rods(mm)
    with pytest.raises(OutOfRange, match=r"rod diameter is"):
        Rod(name="-", diameter_mm=mm, kind=RodKind.METRIC)


def test_no_rods_at_all_cannot_be_asked_for() -> None:
    with pytest.raises(OutOfRange, match=r"0 rods leave nothing to choose from; ask for one or more"):
        nearest_rods(5, count=0)
