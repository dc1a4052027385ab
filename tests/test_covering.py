"""Runs as long as is best: least paid, least cut, fewest runs, against trying everything and days worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.cutting_stock.covering import Cover, Runs, cover
from layouts.errors import OutOfRange


def runs_of(fixed: int, each: int, most: int, lost: int) -> Runs:
    return Runs(fixed_mm=fixed, each_mm=each, most_units=most, yields=lambda n: max(0, n - lost))


def test_two_short_lengths_do_where_the_long_one_costs_more() -> None:
    # a foot holds (305 - 65) / 25 = 9 units, 7 good; five feet (1524 - 65) / 25 = 58. Twelve: two feet, 7 + 5 good,
    # each 65 mm and 2 units more: 2 x 65 + (12 + 2 x 2) x 25 = 530 mm
    made = cover(12, {305: 1, 1524: 5}, runs_of(65, 25, 100, 2))
    assert (made.paid, made.bought_mm, made.cut_mm, made.runs, made.yielded) == (2, 610, 530, 2, 12)
    assert made.is_proved


def test_a_long_length_is_bought_where_it_costs_less() -> None:
    assert [each.stock_mm for each in cover(12, {305: 3, 1524: 5}, runs_of(65, 25, 100, 2)).lengths] == [1524]


def test_runs_are_as_few_as_can_be_and_evenly_long() -> None:
    # 20 good at 8 in a run at most (10 units): three runs of 7, 7 and 6 good; 3 x 50 + 26 x 10 = 410 mm
    made = cover(20, {1000: 1}, runs_of(50, 10, 10, 2))
    assert [run for each in made.lengths for run in each.runs] == [(9, 7, 2), (8, 6, 1)]
    assert made.cut_mm == 410


def test_what_cannot_be_covered_is_refused() -> None:
    with pytest.raises(OutOfRange, match="takes 95 mm, and the longest length is 90 mm; take longer"):
        cover(1, {90: 1}, runs_of(65, 10, 9, 2))
    with pytest.raises(OutOfRange, match="0 is not a number to cover"):
        cover(0, {90: 1}, runs_of(65, 10, 9, 2))
    with pytest.raises(OutOfRange, match="a run of 2 units yields nothing"):
        runs_of(65, 10, 2, 2)
    with pytest.raises(OutOfRange, match="no length to cut from"):
        cover(1, {}, runs_of(65, 10, 9, 2))


@settings(max_examples=150, deadline=None)
@given(
    st.integers(1, 9),
    st.dictionaries(st.integers(5, 30), st.integers(0, 9), min_size=1, max_size=3),
    st.integers(0, 6),
    st.integers(1, 3),
    st.integers(0, 2),
    st.integers(3, 6),
)
def test_small_covers_are_as_good_as_trying_everything(
    needed: int, prices: dict[int, int], fixed: int, each: int, lost: int, most: int
) -> None:
    runs = runs_of(fixed, each, most, lost)
    expected = by_trying(needed, prices, fixed, each, lost, most)
    if expected is None:
        with pytest.raises(OutOfRange):
            cover(needed, prices, runs)
        return
    made = cover(needed, prices, runs)
    assert (made.paid, made.cut_mm, made.runs) == expected
    assert made.yielded >= needed
    assert_fits(made, runs)


def assert_fits(made: Cover, runs: Runs) -> None:
    for each in made.lengths:
        assert each.cut_mm == sum(runs.cut_mm(units) * many for units, _, many in each.runs) <= each.stock_mm
        assert all(units <= runs.most_units and runs.yields(units) == got for units, got, _ in each.runs)


def by_trying(
    needed: int, prices: dict[int, int], fixed: int, each: int, lost: int, most: int
) -> tuple[int, int, int] | None:
    """Every run after every other, in a length begun or in a new one, states alike taken once."""
    done: tuple[int, int, int] | None = None
    states = {(0, 0): (0, 0, 0)}  # (covered, room in the length begun): (paid, cut, runs)
    while states:
        grown: dict[tuple[int, int], tuple[int, int, int]] = {}
        for (covered, room), (paid, cut, count) in states.items():
            rooms = [(room, paid), *((mm, paid + price) for mm, price in prices.items())]
            for left, cost in rooms:
                for units in range(lost + 1, most + 1):
                    takes = fixed + units * each
                    if takes > left:
                        continue
                    worth = (cost, cut + takes, count + 1)
                    if covered + units - lost >= needed:
                        done = worth if done is None else min(done, worth)
                        continue
                    key = (covered + units - lost, left - takes)
                    grown[key] = min(grown.get(key, worth), worth)
        states = grown
    return done


def test_very_many_are_covered_in_bulk_and_still_at_the_least_price() -> None:
    # a length of 1000 holds one run of 90 units, 88 good: 200,000 / 88 = 2272.7
    made = cover(200_000, {1000: 7}, runs_of(100, 10, 100, 2))
    assert (made.paid, made.yielded >= 200_000) == (2273 * 7, True)


def test_few_from_a_very_long_length_are_one_run() -> None:
    # 60 m of wire, a turn of 18.8736 mm, 60 mm of tails and 2 turns lost in each run: 20 in one run are 22 turns
    found = cover(20, {60_000: 60_000}, Runs(fixed_mm=60.0, each_mm=18.8736, most_units=3000, yields=lambda n: n - 2))
    assert [run for each in found.lengths for run in each.runs] == [(22, 20, 1)]
    # 3050 are a run of 3000 turns and one of 54, or two even ones that take no more
    found = cover(3050, {60_000: 60_000}, Runs(fixed_mm=60.0, each_mm=18.8736, most_units=3000, yields=lambda n: n - 2))
    assert found.runs == 2
