"""Drills in four series."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.stock.drill import SERIES, Drill, drills, nearest_drill, next_drill
from jigs.stock.gauges import awg_diameter_mm
from layouts.errors import OutOfRange, UnknownName
from layouts.units import INCH_MM

NAMES = {series: {d.name: d for d in drills(series)} for series in SERIES}


@pytest.mark.parametrize(
    ("series", "name", "inch"),
    [
        ("number", "#1", 0.2280),  # ASME B94.11M
        ("number", "#30", 0.1285),
        ("number", "#44", 0.0860),
        ("number", "#57", 0.0430),
        ("number", "#80", 0.0135),
        ("letter", "A", 0.234),
        ("letter", "E", 0.250),
        ("letter", "Z", 0.413),
        ("inch", "1/64 in", 1 / 64),
        ("inch", "3/8 in", 0.375),
        ("inch", "1 in", 1.0),
    ],
)
def test_a_drill_named_in_inches_has_its_published_size(series: str, name: str, inch: float) -> None:
    assert NAMES[series][name].diameter_mm == pytest.approx(inch * INCH_MM, rel=1e-12)


@pytest.mark.parametrize(("series", "count"), [("number", 80), ("letter", 26), ("inch", 64)])
def test_a_series_has_all_its_drills(series: str, count: int) -> None:
    assert len(drills(series)) == count


def test_metric_drills_step_as_bs_328_has_them() -> None:
    sizes = [d.diameter_mm for d in drills("metric") if d.diameter_mm >= 1]
    by_005 = [round(1 + 0.05 * i, 2) for i in range(40)]
    by_01 = [round(3 + 0.1 * i, 1) for i in range(110)]
    by_025 = [14 + 0.25 * i for i in range(45)]
    assert sizes == by_005 + by_01 + by_025


def test_metric_drills_below_one_millimetre_step_by_two_to_five_hundredths() -> None:
    sizes = [d.diameter_mm for d in drills("metric") if d.diameter_mm <= 1]
    steps = [b - a for a, b in pairwise(sizes)]
    assert all(0.0199 < step < 0.0501 for step in steps)


@pytest.mark.parametrize("series", SERIES)
def test_every_drill_is_thicker_than_the_one_before(series: str) -> None:
    sizes = [d.diameter_mm for d in drills(series)]
    assert all(a < b for a, b in pairwise(sizes))


@pytest.mark.parametrize(
    ("awg", "number", "metric"),
    [(12, "#44", 2.20), (14, "#50", 1.75), (16, "#54", 1.40), (18, "#57", 1.10), (20, "#65", 0.88)],
)
def test_the_next_drill_for_an_anchor_hole_is_the_one_worked_out_beforehand(
    awg: int, number: str, metric: float
) -> None:
    # Computed: next drill at least 1.05 wire diameters.
    hole = 1.05 * awg_diameter_mm(awg)
    assert next_drill("number", hole).name == number
    assert next_drill("metric", hole).diameter_mm == metric


def test_a_drill_of_exactly_the_size_is_the_next_drill() -> None:
    assert next_drill("metric", 1.1).diameter_mm == 1.1
    assert next_drill("inch", 3 / 8 * INCH_MM).name == "3/8 in"
    assert next_drill("metric", 0.3 + 0.8).diameter_mm == 1.1  # 1.1 and a bit, by rounding


def test_the_nearest_drill_says_how_far_off_it_is() -> None:
    drill, off_mm = nearest_drill("number", 2.2)
    assert drill.name == "#44"
    assert off_mm == pytest.approx(0.0860 * INCH_MM - 2.2)


@given(st.sampled_from(SERIES), st.floats(min_value=0.1, max_value=10))
def test_the_next_drill_is_the_thinnest_that_is_thick_enough(series: str, mm: float) -> None:
    if mm > drills(series)[-1].diameter_mm:
        return
    chosen = next_drill(series, mm)
    assert chosen.diameter_mm >= mm - 1e-9
    assert all(d.diameter_mm < mm for d in drills(series) if d.diameter_mm < chosen.diameter_mm)


@given(st.sampled_from(SERIES), st.floats(min_value=0.1, max_value=40))
def test_no_drill_is_nearer_than_the_nearest(series: str, mm: float) -> None:
    _, off_mm = nearest_drill(series, mm)
    assert abs(off_mm) == min(abs(d.diameter_mm - mm) for d in drills(series))


def test_a_hole_past_the_largest_drill_is_refused() -> None:
    with pytest.raises(OutOfRange) as refusal:
        next_drill("number", 6)
    assert str(refusal.value) == (
        "no number drill makes a hole of 6.000 mm; "
        "the largest is #1 (5.791 mm): choose another series or a smaller hole"
    )


def test_an_unknown_series_is_refused_with_the_known_ones() -> None:
    with pytest.raises(UnknownName, match=r"no drill series is called 'numbers'; known: number, "):
        drills("numbers")


@pytest.mark.parametrize("mm", [float("nan"), float("inf"), 0.0, -1.0])
def test_a_hole_that_is_no_length_is_refused(mm: float) -> None:
    for ask in (next_drill, nearest_drill):
        with pytest.raises(OutOfRange, match=r"(hole|diameter) is"):
            ask("metric", mm)
    with pytest.raises(OutOfRange, match=r"drill diameter is"):
        Drill(name="-", series="metric", diameter_mm=mm)
