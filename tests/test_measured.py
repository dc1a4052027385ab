"""What several readings make together, which gauge a wire is, and which other way would be better."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from measuring_tools import CALIPER, CHAIN_STRIP, KNOWN, RULE, STRIP, together

from jigs.making.likely_gauge import gauge_sizes, likely_sizes
from jigs.making.measured import ErrorKind, ErrorTerm, Measured, Value, apart
from jigs.making.measuring import (
    RIGHT_ANGLES,
    across_rod,
    directly,
    inside_by_chain,
    rod_by_strip,
)
from jigs.making.other_ways import better_ways, rings_for, ways_to_measure
from jigs.stock.instrument import find_instrument
from layouts.errors import OutOfRange

# --- readings together


def test_readings_shrink_the_scatter_and_never_what_they_share() -> None:
    found = [together(*(directly(5.0, CALIPER, number=n) for n in range(1, many + 1))) for many in (1, 4, 400)]
    assert [one.uncertainty_mm for one in found] == pytest.approx(
        [math.sqrt(0.03**2 / many + 0.02**2) for many in (1, 4, 400)]
    )
    assert found[2].part_mm(ErrorKind.SHARED) == pytest.approx(0.02)
    assert found[1].part_mm(ErrorKind.READING) == pytest.approx(0.015)
    assert all(more.uncertainty_mm < less.uncertainty_mm for less, more in pairwise(found))


def test_two_strips_of_one_sheet_share_its_scale() -> None:
    """C: a chain of 20 and one of 10 off one sheet: the scale, 0.3 % of 5 mm, stays whole."""
    values = [inside_by_chain(n * 5.0 + 2.0, n, KNOWN, CHAIN_STRIP) for n in (20, 10)]
    assert together(*values).part_mm(ErrorKind.SCALE) == pytest.approx(0.003 * 5.0, rel=0.05)


def test_the_better_way_counts_for_more() -> None:
    chain, caliper = inside_by_chain(103.0, 20, KNOWN, CHAIN_STRIP), directly(5.0, CALIPER)
    both = together(chain, caliper)
    parts = [1 / chain.uncertainty_mm**2, 1 / caliper.uncertainty_mm**2]
    assert both.weights == pytest.approx([part / sum(parts) for part in parts])
    assert both.mm == pytest.approx((5.05 * parts[0] + 5.0 * parts[1]) / sum(parts))
    assert both.uncertainty_mm < min(chain.uncertainty_mm, caliper.uncertainty_mm)
    assert both.instrument == "chain strip"


@given(st.lists(st.floats(4.9, 5.1), min_size=1, max_size=6), st.randoms())
def test_the_order_of_readings_does_not_matter(sizes: list[float], shuffled: object) -> None:
    values = [directly(mm, tool, number=n) for n, mm in enumerate(sizes, 1) for tool in (CALIPER, RULE)]
    turned = values[::-1]
    shuffled.shuffle(turned)  # type: ignore[attr-defined]
    one, other = together(*values), together(*turned)
    assert (one.mm, one.uncertainty_mm) == (pytest.approx(other.mm), pytest.approx(other.uncertainty_mm))
    assert sum(one.weights) == pytest.approx(1.0)
    assert min(sizes) - 1e-9 <= one.mm <= max(sizes) + 1e-9


def test_what_contradicts_is_named_and_the_value_holds_all_until_it_is_settled() -> None:
    good = [directly(5.0, CALIPER), directly(5.01, CALIPER, number=2)]
    assert together(*good).contradictions == ()
    found = together(*good, directly(5.3, CALIPER, number=3))
    assert {(pair.one, pair.other) for pair in found.contradictions} == {
        ("caliper", "caliper, reading 3"),
        ("caliper, reading 2", "caliper, reading 3"),
    }
    assert found.odd_one == "caliper, reading 3"
    assert found.uncertainty_mm == pytest.approx(5.3 - found.mm)


def test_just_what_both_may_be_off_is_no_contradiction() -> None:
    """C: 3.5 standard deviations of the difference of two scatters of 0.015: 3.5 x 0.015 x sqrt(2) = 0.0742."""
    near, far = (together(directly(5.0, CALIPER), directly(mm, CALIPER, number=2)) for mm in (5.074, 5.075))
    assert not near.contradictions
    assert far.contradictions
    assert far.odd_one == ""


def test_a_strip_is_read_by_its_levels_and_neighbours_of_one_level_do_not_contradict() -> None:
    """C: read to 0.05, two readings are a step further apart than they are: 0.0742 and 0.05 are 0.1242."""

    def strips(*read: float) -> Measured:
        return together(
            *(rod_by_strip(mm, STRIP, counted_mm=0.1, paper_mm=0.1, number=n) for n, mm in enumerate(read, 1))
        )

    assert not strips(7.90, 8.00, 7.95).contradictions
    assert strips(7.90, 8.05, 7.95).contradictions


def test_what_two_sizes_share_cancels_in_their_difference() -> None:
    one, other = together(directly(5.0, CALIPER)), together(directly(5.2, CALIPER))
    assert apart(other, one) == (pytest.approx(0.2), pytest.approx(0.03 * math.sqrt(2)))


def test_no_reading_and_no_size_are_refused() -> None:
    with pytest.raises(OutOfRange, match="no reading of the size is given"):
        together()
    with pytest.raises(OutOfRange):
        Value(way="x", mm=0.0, terms=(), instrument="x")
    with pytest.raises(OutOfRange):
        ErrorTerm(cause="x", mm=math.nan)


# --- which gauge, and which way is better


def test_gauges_that_no_bench_tells_apart_share_one_name() -> None:
    """C, reference: 13 / 15, 20 / 21, 14 / 16 and 19 / 20 are under 1 % apart."""
    names = [size.name for size in gauge_sizes(0.4, 3.0)]
    for pair in ("13 AWG = 15 SWG", "20 AWG = 21 SWG", "14 AWG = 16 SWG", "19 AWG = 20 SWG"):
        assert pair in names
    assert all(b.diameter_mm >= 1.01 * a.diameter_mm * 0.995 for a, b in pairwise(gauge_sizes(0.4, 3.0)))
    assert [size.diameter_mm for size in gauge_sizes(0.4, 3.0)] == sorted(
        size.diameter_mm for size in gauge_sizes(0.4, 3.0)
    )


def test_a_gauge_is_told_with_its_likelihood_against_its_neighbours() -> None:
    """By hand: 1.02 +-0.05 and sizes 1.0 and 1.0199: s 0.0255, z 0.78 and 0.00, exp(-z^2/2) 0.74 and 1."""
    first, second = likely_sizes(1.02, 0.05)[:2]
    assert (first.size.name, second.size.name) == ("18 AWG = 19 SWG", "1.0 mm")
    assert second.likelihood / first.likelihood == pytest.approx(math.exp(-(0.78**2) / 2) * 0.02552 / 0.0255, rel=0.01)
    assert sum(one.likelihood for one in likely_sizes(1.02, 0.05)) == pytest.approx(1.0, abs=0.02)
    sharper = likely_sizes(1.02, 0.01)[0]
    assert sharper.likelihood > 0.95


def test_a_wire_of_no_size_that_is_sold_is_told_to_be_of_none() -> None:
    assert not likely_sizes(1.25, 0.01)[0].fits
    assert likely_sizes(1.25, 0.06)[0].fits


@pytest.mark.parametrize("gauge", [size for size in gauge_sizes(0.4, 3.0)], ids=lambda size: size.name)
def test_every_gauge_is_found_again_by_forty_turns(gauge: object) -> None:
    mm = gauge.diameter_mm  # type: ignore[attr-defined]
    assert gauge.name in likely_sizes(mm, 0.011)[0].size.name  # type: ignore[attr-defined]


def test_a_way_that_is_clearly_better_is_named_and_others_are_not() -> None:
    now = together(rod_by_strip(8.0, STRIP, counted_mm=0.1, paper_mm=0.1))
    better = better_ways(now, "rod", find_instrument)
    assert better[0].words == "20 turns of a known wire, unwound and straightened"
    assert all(reach.off_mm < 0.9 * now.uncertainty_mm for reach in better)
    assert [reach.bought for reach in better] == sorted(reach.bought for reach in better)
    best = together(
        across_rod(8.0, find_instrument("micrometer"), place=""), across_rod(8.0, CALIPER, place=RIGHT_ANGLES)
    )
    assert all(reach.off_mm < best.uncertainty_mm for reach in better_ways(best, "rod", find_instrument))


@pytest.mark.parametrize("what", ["rod", "wire", "ring", "coil"])
def test_every_thing_has_several_ways_to_be_measured(what: str) -> None:
    ways = ways_to_measure(what, {"rod": 8.0, "wire": 1.0, "ring": 5.0, "coil": 5.2}[what], find_instrument)
    assert len(ways) >= 2
    assert any(not way.bought for way in ways)


def test_fewer_rings_are_proposed_where_a_chain_is_longer_than_the_strip() -> None:
    assert [rings_for(inside, 1.0) for inside in (3.0, 5.0, 10.0, 20.0, 60.0)] == [40, 20, 10, 5, 2]
    assert all(rings_for(inside, 1.0) * inside + 2 <= 170 for inside in (2.0, 4.2, 8.4, 16.8, 33.0))
